"""The entrance: the first address, larger text, and what machines ask for."""

from urllib.parse import urlsplit

from flask import Blueprint, Response, make_response, redirect, request
from werkzeug.wrappers import Response as AnyResponse

from exchange.actions.kernel.health import is_alive
from exchange.web.frame.page_frame import LARGER_TEXT_COOKIE
from exchange.web.frame.session import anyone, house

blueprint = Blueprint("door", __name__)
_A_YEAR_S = 31_536_000


@blueprint.get("/")
@anyone
def first() -> AnyResponse:
    return redirect("/todo", 303)


@blueprint.post("/larger-text")
@anyone
def larger_text() -> AnyResponse:
    back = redirect(_own_path(request.referrer), 303)
    larger = "yes" if request.form.get("larger") == "yes" else "no"
    back.set_cookie(
        LARGER_TEXT_COOKIE,
        larger,
        max_age=_A_YEAR_S,
        secure=request.is_secure,
        httponly=True,
        samesite="Lax",
    )
    return back


@blueprint.get("/robots.txt")
@anyone
def robots() -> Response:
    return _plain("User-agent: *\nAllow: /cal/\nDisallow: /\n")


@blueprint.get("/favicon.ico")
@anyone
def favicon() -> Response:
    """Browsers ask for it unasked; there is none."""
    return make_response("", 204)


@blueprint.get("/healthz")
@anyone
def healthz() -> Response:
    return _plain("ok\n") if is_alive(house()) else make_response("no\n", 503)


def _plain(text: str) -> Response:
    answer = make_response(text)
    answer.mimetype = "text/plain"
    return answer


def _own_path(address: str | None) -> str:
    """Give the path of an address of ours; an address elsewhere leads to the first page."""
    parts = urlsplit(address or "")
    if parts.netloc != request.host or not parts.path.startswith("/"):
        return "/"
    path = "/" + parts.path.lstrip("/")
    return f"{path}?{parts.query}" if parts.query else path
