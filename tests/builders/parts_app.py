"""An app with nothing but the parts page."""

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from exchange import paths
from exchange.web.frame import filters, headers
from exchange.web.home import parts_page


def parts_app() -> Flask:
    """An app with the parts page only, under the policy of the whole one."""
    app = Flask("exchange", template_folder=str(paths.TEMPLATES), static_folder="web/static")
    app.secret_key = "only for the parts page"
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    CSRFProtect(app)
    headers.register(app)
    filters.register(app)
    app.register_blueprint(parts_page.blueprint)
    return app
