"""The web application: wires the house, the accounts and the pages together."""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from secrets import token_urlsafe
from typing import Any

from flask import Flask, current_app, g, render_template, request
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address
from flask_security import MailUtil, RoleMixin, Security, UserDatastore, UserMixin
from flask_wtf.csrf import CSRFError, CSRFProtect
from werkzeug.exceptions import HTTPException
from werkzeug.middleware.proxy_fix import ProxyFix

from exchange import paths, web
from exchange.actions.kernel.actor import House, NotAllowedError
from exchange.actions.kernel.letters import write_to_address
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.services import open_house
from exchange.records import Books, DatabaseBusyError, NotHereError, accounts
from exchange.records.rows.people import SignInRow
from exchange.settings import Secrets, Settings, secrets_in
from exchange.web.frame.session import Wiring, machine_clock
from exchange.words.kernel.letters import LetterText

SIGNED_IN_FOR = timedelta(days=90)
SIGN_IN_TRIES = "10 per 15 minutes"
LARGEST_UPLOAD = 4 * 1024 * 1024
SHORTEST_PASSWORD = 10


@dataclass(eq=False)  # the library compares two by their uniquifiers
class SignIn(UserMixin):
    """An account as the sign-in library sees it; it looks for `fs_uniquifier` on the class."""

    id: int
    email: str
    password: str | None
    active: bool
    fs_uniquifier: str = ""


class SignInStore(UserDatastore):
    """Accounts for the sign-in library: read at once, changes written together at its commit."""

    def __init__(self, books: Books) -> None:
        super().__init__(SignIn, RoleMixin)  # roles are the circles' affair; none is ever stored
        self.books = books

    def find_user(self, case_insensitive: bool = True, **where: Any) -> SignIn | None:
        """Give one account; addresses are always compared without regard to capitals."""
        del case_insensitive
        with self.books.reading() as tx:
            found = accounts.find_sign_in(tx, **where)
        return None if found is None else SignIn(**asdict(found))

    def put(self, model: SignIn) -> SignIn:
        g.setdefault("changed_accounts", []).append(model)
        return model

    def commit(self) -> None:
        changed = g.pop("changed_accounts", [])
        if changed:
            with self.books.writing() as tx:
                for model in changed:
                    accounts.keep(tx, SignInRow(**asdict(model)))


class LettersOfSignIn(MailUtil):
    """Puts the sign-in library's mail among the circle's letters."""

    def send_mail(self, *args: Any, **kwargs: Any) -> None:
        template, subject, recipient, _sender, body, *_html = [*args, *kwargs.values()]
        wired: Wiring = current_app.extensions["exchange"]
        kind = str(template).rsplit("/", maxsplit=1)[-1]
        letter = LetterText(str(subject), str(body).strip() + "\n")
        write_to_address(wired.house, str(recipient), kind, letter, wired.clock())


def create_app(
    settings: Settings,
    house: House | None = None,
    clock: Callable[[], datetime] = machine_clock,
    config: Mapping[str, Any] | None = None,
) -> Flask:
    """Make the application; `house` is opened from the settings unless it is given."""
    house = house or open_house(settings, token_urlsafe)
    app = Flask(
        "exchange",
        template_folder=str(paths.TEMPLATES),
        static_folder="web/static",
    )
    app.config.update(_config(settings, secrets_in(settings.data_folder)))
    app.config.update(config or {})
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    if settings.proxy_hops:
        hops = settings.proxy_hops
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=hops, x_proto=hops, x_host=hops)  # type: ignore[method-assign]  # Flask's documented way
    CSRFProtect(app)
    security = Security(app, SignInStore(house.books), mail_util_cls=LettersOfSignIn)
    security.mail_context_processor(lambda: {"public_url": house.public_url})
    web.register(app, Wiring(house, clock))
    _limit_sign_in(app)
    _register_errors(app)
    return app


def _config(settings: Settings, secrets: Secrets) -> dict[str, Any]:
    private = settings.address.startswith("https://")
    cookies = {"HTTPONLY": True, "SAMESITE": "Lax", "SECURE": private}
    return {
        "SECRET_KEY": secrets.session_key,
        "MAX_CONTENT_LENGTH": LARGEST_UPLOAD,
        "PERMANENT_SESSION_LIFETIME": SIGNED_IN_FOR,
        "REMEMBER_COOKIE_DURATION": SIGNED_IN_FOR,
        "WTF_CSRF_TIME_LIMIT": None,
        "RATELIMIT_STORAGE_URI": "memory://",
        "RATELIMIT_HEADERS_ENABLED": False,
        **{f"SESSION_COOKIE_{name}": value for name, value in cookies.items()},
        **{f"REMEMBER_COOKIE_{name}": value for name, value in cookies.items()},
        **{f"SECURITY_{name}": value for name, value in _sign_in_config(secrets).items()},
    }


def _sign_in_config(secrets: Secrets) -> dict[str, Any]:
    return {
        "PASSWORD_SALT": secrets.password_salt,
        "PASSWORD_HASH": "argon2",
        "PASSWORD_SCHEMES": ["argon2"],
        "PASSWORD_LENGTH_MIN": SHORTEST_PASSWORD,
        "RECOVERABLE": True,
        "CHANGEABLE": True,
        "RESET_PASSWORD_WITHIN": timedelta(hours=3),
        "RETURN_GENERIC_RESPONSES": True,
        "EMAIL_VALIDATOR_ARGS": {"check_deliverability": False},
        "EMAIL_HTML": False,
        "DATETIME_FACTORY": lambda: datetime.now(UTC),
        "LOGIN_URL": "/sign-in",
        "LOGOUT_URL": "/sign-out",
        "RESET_URL": "/new-password",
        "CHANGE_URL": "/my-password",
        "VERIFY_URL": "/password-again",
        "POST_LOGIN_VIEW": "/",
        "POST_LOGOUT_VIEW": "/sign-in",
        "POST_CHANGE_VIEW": "/garden",
        "EMAIL_SUBJECT_PASSWORD_RESET": "A new password for your circle",
        "EMAIL_SUBJECT_PASSWORD_NOTICE": "Your password has been changed",
        "EMAIL_SUBJECT_PASSWORD_CHANGE_NOTICE": "Your password has been changed",
    }


def _limit_sign_in(app: Flask) -> None:
    """Limit tries at passwords and mails asked for, by the visitor's address."""
    limiter = app.extensions["exchange_limiter"] = Limiter(get_remote_address, app=app)
    for endpoint in (
        "security.login",
        "security.forgot_password",
        "security.verify",
        "sign_in.ask",
        "own_sign_in.address",
    ):
        if endpoint in app.view_functions:
            view: Any = app.view_functions[endpoint]
            app.view_functions[endpoint] = limiter.limit(SIGN_IN_TRIES, methods=["POST"])(view)


_PAGES_OF_ERRORS = (400, 403, 404, 409, 410, 413, 429, 500, 503)


def _register_errors(app: Flask) -> None:
    def page(status: int, refused: str = "") -> tuple[str, int]:
        shown = status if status in _PAGES_OF_ERRORS else 500 if status >= 500 else 400
        return render_template(f"errors/{shown}.html", refused=refused), status

    def known(error: HTTPException) -> Any:
        status = error.code or 500
        if status < 400 or request.path.endswith(".ics"):
            return error
        return page(status)

    app.register_error_handler(HTTPException, known)
    app.register_error_handler(RefusedError, lambda refused: page(409, str(refused)))
    for kind, status in (
        (NotAllowedError, 403),
        (NotHereError, 404),
        (CSRFError, 400),
        (DatabaseBusyError, 503),
    ):
        app.register_error_handler(kind, lambda _error, status=status: page(status))
