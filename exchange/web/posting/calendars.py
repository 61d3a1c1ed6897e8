"""Calendars: making and stopping addresses, and what is served at them."""

from urllib.parse import quote

from flask import Blueprint, abort, make_response, render_template, request
from werkzeug.wrappers import Response

from exchange.actions.posting.calendars import (
    CalendarKind,
    CalendarsPage,
    calendar_at,
    calendars_page,
    new_address,
    revoke_address,
    set_reminders,
)
from exchange.web.frame.after_press import back, done
from exchange.web.frame.session import actor, anyone, house, machine_now, now, zone
from exchange.words.posting import calendars as words

blueprint = Blueprint("calendars", __name__)


@blueprint.get("/calendars")
def show() -> str:
    return _page(calendars_page(actor(), now()))


@blueprint.post("/calendars/<any(member, dispatch):kind>/address")
def make(kind: str) -> str:
    """Show the new address at once: it is kept nowhere, so it cannot be shown on another page."""
    return _page(new_address(actor(), CalendarKind(kind), now()), kind)


@blueprint.post("/calendars/<any(member, dispatch):kind>/stop")
def stop(kind: str) -> Response:
    revoke_address(actor(), CalendarKind(kind), now())
    done("That address no longer works. What was read from it may stay where it was read.")
    return back("/calendars")


@blueprint.post("/calendars/<any(member, dispatch):kind>/reminders")
def reminders(kind: str) -> Response:
    on = request.form.get("reminders") == "yes"
    set_reminders(actor(), CalendarKind(kind), now(), on=on)
    done("Reminders are written in." if on else "Reminders are left out.")
    return back("/calendars")


@blueprint.get("/cal/<token>/<name>.ics")
@anyone
def served(token: str, name: str) -> Response:
    """Serve a calendar: no sign-in, no cookie, no redirect; unknown and stopped look alike."""
    if name not in set(CalendarKind):
        abort(404)
    found = calendar_at(house(), token, words.program(request.user_agent.string), machine_now())
    if found is None:
        abort(404)
    answer = make_response(found.body)
    for header, value in found.headers.items():
        answer.headers[header] = value
    asked_again: Response = answer.make_conditional(request)
    return asked_again


def _page(page: CalendarsPage, new_kind: str = "") -> str:
    bare = page.address.partition("://")[2]
    webcal = f"webcal://{bare}"
    return render_template(
        "calendars/show.html",
        page=page,
        new_kind=new_kind,
        address=page.address,
        webcal=webcal,
        google=f"https://calendar.google.com/calendar/r?cid={quote(webcal, safe='')}",
        zone=zone(),
        words=words,
    )
