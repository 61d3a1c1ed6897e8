"""Who is signed in, in which circle, for whom; what pages ask before anything else."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from flask import Flask, Response, abort, current_app, g, redirect, request, session, url_for
from flask_login import current_user

from exchange.actions.kernel.actor import Actor, House, now_of
from exchange.actions.people.session import Standing, standing_of

View = TypeVar("View", bound=Callable[..., Any])
FRESH_FOR = timedelta(hours=24)
_OPEN = "exchange_open_to_anyone"
_NO_CIRCLE = "exchange_needs_no_circle"
_FRESH = "exchange_needs_the_password_again"


@dataclass(frozen=True, slots=True)
class Wiring:
    """What the app hands to its pages.

    Attributes
    ----------
    clock : gives the machine's time
    """

    house: House
    clock: Callable[[], datetime]


def machine_clock() -> datetime:
    return datetime.now(UTC)


def anyone(view: View) -> View:
    """Mark a page that needs no sign-in."""
    setattr(view, _OPEN, True)
    return view


def without_circle(view: View) -> View:
    """Mark a page for somebody signed in who has not chosen a circle yet."""
    setattr(view, _NO_CIRCLE, True)
    return view


def password_again(view: View) -> View:
    """Mark a page with addresses: anybody signed in for over a day gives the password again.

    Those without one ask for a link by mail instead, where there is mail.
    """
    setattr(view, _FRESH, True)
    return view


def wiring() -> Wiring:
    wired: Wiring = current_app.extensions["exchange"]
    return wired


def house() -> House:
    return wiring().house


def machine_now() -> datetime:
    return wiring().clock()


def standing() -> Standing:
    """Give where the reader stands; pages behind the gate always have one."""
    found = maybe_standing()
    if found is None:
        abort(403)
    return found


def maybe_standing() -> Standing | None:
    if "standing" not in g:
        g.standing = None
        if current_user.is_authenticated:
            g.standing = standing_of(
                house(), current_user.id, session.get("circle_id"), session.get("acting_for")
            )
    found: Standing | None = g.standing
    return found


def actor() -> Actor:
    """Give the actor of this request: the member, perhaps acting for another."""
    return standing().actor(house())


def now() -> datetime:
    """Give the circle's now."""
    return now_of(house(), standing().circle, machine_now())


def zone() -> ZoneInfo:
    return ZoneInfo(standing().circle.zone)


def today() -> date:
    """Give the circle's date."""
    return now().astimezone(zone()).date()


def is_fresh() -> bool:
    """Say whether the reader proved who they are within the last day, as addresses need.

    The sign-in library notes that by the machine's own clock.
    """
    proved = float(session.get("fs_paa", 0))
    return machine_clock().timestamp() - proved < FRESH_FOR.total_seconds()


def begin(circle_id: int | None = None) -> None:
    """Forget whom the reader acted for, as after signing in or choosing another circle."""
    session.pop("acting_for", None)
    if circle_id is None:
        session.pop("circle_id", None)
    else:
        session["circle_id"] = circle_id
    g.pop("standing", None)


def _gate() -> Response | None:
    """Let in only those signed in, unless the page itself says otherwise."""
    view = current_app.view_functions.get(request.endpoint or "")
    if view is None or getattr(view, _OPEN, False) or request.endpoint == "static":
        return None
    if request.blueprint == "security":
        return None
    if not current_user.is_authenticated:
        onward = request.full_path.rstrip("?") if request.method == "GET" else None
        return _go(url_for("security.login", next=onward))
    if getattr(view, _NO_CIRCLE, False):
        return None
    if maybe_standing() is not None:
        return _ask_again() if getattr(view, _FRESH, False) and not is_fresh() else None
    return _go(url_for("circle_choice.choose", next=request.path))


def _ask_again() -> Response | None:
    if current_user.password:
        return _go(url_for("security.verify", next=request.path))
    if house().mail is not None:
        return _go(url_for("sign_in.ask"))
    return None


def _go(url: str) -> Response:
    answer: Response = current_app.make_response(redirect(url, 303))
    return answer


def register(app: Flask, wired: Wiring) -> None:
    app.extensions["exchange"] = wired
    app.before_request(_gate)
