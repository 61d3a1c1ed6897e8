"""An app served on this machine for as long as a test looks at it."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from flask import Flask
from werkzeug.serving import WSGIRequestHandler, make_server


class _Quiet(WSGIRequestHandler):
    def log_request(self, *_args: object) -> None:
        """Say nothing: a page brings many requests."""


@contextmanager
def live(app: Flask) -> Iterator[str]:
    """Serve the app on a free port and give its address without a slash at the end."""
    server = make_server("127.0.0.1", 0, app, threaded=True, request_handler=_Quiet)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


def come_in(page, address: str, visitor) -> None:
    """Let the page's browser be signed in as a visitor of tests.app_fixtures is."""
    cookie = visitor.client.get_cookie("session")
    page.context.add_cookies([{"name": "session", "value": cookie.value, "url": address}])
