"""Parcels: what to post and what comes, why on that day, and what became of it."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.actor import Actor
from exchange.actions.posting.change_day import (
    agree_all,
    ask_to_plan,
    choose_way,
    keep_day,
    move_day,
)
from exchange.actions.posting.page_moving import MovingPage, anyway_page, moving_page
from exchange.actions.posting.page_parcel import ParcelPage, parcel_page
from exchange.actions.posting.page_parcels import parcels_page
from exchange.actions.posting.parcels import (
    Arrival,
    not_arrived,
    not_posted,
    say_arrived,
    say_posted,
)
from exchange.actions.posting.post_anyway import post_anyway
from exchange.actions.sharing.allocation_answers import refuse_in_parcel
from exchange.actions.sharing.long_wait import ask_later, give_to_reserve, grow_on, send_by_hand
from exchange.actions.sharing.sender_answer import ToAnswer, answer_as_sender, to_answer
from exchange.domain.arriving.arrival import Condition
from exchange.web.frame.after_press import back, done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import blame, refusals_beside, refusals_told, with_faults_of
from exchange.web.frame.session import actor, now, today
from exchange.web.people.confirm_identity import addresses_open, again_url
from exchange.web.posting import parcel_sentences
from exchange.web.posting.chart_care import nights_of
from exchange.web.posting.no_day import weeks_of
from exchange.web.posting.parcel_forms import (
    ArrivalForm,
    ChosenWayForm,
    MoveForm,
    PostedForm,
    alive_said,
    came_as_sent,
    came_form,
)
from exchange.web.posting.posting_strip import asked_day, strip_of
from exchange.web.posting.sender_form import lines_sent, sender_form, sender_said
from exchange.words.kernel.dates import day as day_words

blueprint = Blueprint("parcels", __name__, url_prefix="/parcels")
Page = tuple[str, int] | Response


@blueprint.get("")
def show_all() -> str:
    return render_template(
        "parcels/all.html", words=parcel_sentences, page=parcels_page(actor(), now())
    )


@blueprint.post("/<any(plan, forecasts):kind>")
def plan_again(kind: str) -> Response:
    task_id = ask_to_plan(actor(), kind, now())
    return redirect(url_for("tasks.show", task_id=task_id), 303)


@blueprint.get("/answer")
def answer() -> Page:
    """Ask what of all that the household is to send can go, and from when."""
    asked = _asked()
    return _answer_page(asked, sender_form(asked)())


@blueprint.post("/answer")
def keep_answer() -> Page:
    lines = lines_sent(request.form)
    sent = sender_form(lines)()
    if sent.validate():
        with refusals_beside(sent):
            answer_as_sender(actor(), sender_said(sent, lines), now())
            flash("Thank you. The days are being weighed anew.")
            return redirect(url_for("todo.show"), 303)
    asked = _asked()
    return _answer_page(asked, with_faults_of(sent, sender_form(asked)()))


def _asked() -> list[ToAnswer]:
    return [one for one in to_answer(actor()) if not one.agreed]


def _answer_page(asked: list[ToAnswer], form: PageForm) -> Page:
    return render_template("parcels/answer.html", asked=asked, form=form), status(form)


@blueprint.get("/<int:parcel_id>")
def show(parcel_id: int) -> str:
    page = _page(parcel_id)
    return _show_page(page, _way_form(page))


def _show_page(page: ParcelPage, form: ChosenWayForm) -> str:
    asked = _day_of(request.args.get("day"))
    here = url_for("parcels.show", parcel_id=page.entry.id)
    return render_template(
        "parcels/show.html",
        words=parcel_sentences,
        page=page,
        strip_view=strip_of(page, asked) if page.is_open else None,
        asked=asked_day(page, asked) if page.is_open else None,
        nights_view=nights_of(page),
        weeks_view=weeks_of(page.warmth) if page.warmth else None,
        again_url=again_url(here) if page.address_hidden else "",
        way_form=form,
    )


@blueprint.get("/<int:parcel_id>/posted")
def posted(parcel_id: int) -> Page:
    page = _page(parcel_id)
    data = {"day": today(), "version": page.posted_version}
    return _posted_page(page, PostedForm(None, data=data))


@blueprint.post("/<int:parcel_id>/posted")
def keep_posted(parcel_id: int) -> Page:
    form = PostedForm()
    if form.validate() and form.day.data is not None:
        with refusals_beside(form):
            say_posted(actor(), parcel_id, form.day.data, now(), opened=form.version.data)
            undo = url_for("parcels.take_back_posted", parcel_id=parcel_id)
            done(f"Posted on {day_words(form.day.data)}.", undo)
            return back(url_for("parcels.show", parcel_id=parcel_id))
    page = _page(parcel_id)
    both_shown(form, lambda: PostedForm(None, data={"day": page.entry.posted_on}))
    return _posted_page(page, form)


def _posted_page(page: ParcelPage, form: PostedForm) -> Page:
    return render_template(
        "parcels/posted.html", words=parcel_sentences, page=page, form=form
    ), status(form)


@blueprint.post("/<int:parcel_id>/not-posted")
def take_back_posted(parcel_id: int) -> Response:
    return _do(parcel_id, lambda: not_posted(actor(), parcel_id, now()), "Taken back.")


@blueprint.get("/<int:parcel_id>/came")
def came(parcel_id: int) -> Page:
    page = _page(parcel_id)
    return _came_page(page, came_form(page.in_box)(data={"day": today()}))


@blueprint.post("/<int:parcel_id>/came")
def keep_came(parcel_id: int) -> Page:
    sent = came_as_sent(request.form)()
    if sent.validate() and sent.day.data is not None:
        arrival = Arrival(sent.day.data, Condition(sent.condition.data), alive=alive_said(sent))
        with refusals_beside(sent):
            kept = say_arrived(actor(), parcel_id, arrival, now())
            return _told(parcel_id, kept, "Thank you: noted that it came, and told to who sent it.")
    page = _page(parcel_id)
    return _came_page(page, with_faults_of(sent, came_form(page.in_box)()))


def _came_page(page: ParcelPage, form: ArrivalForm) -> Page:
    return render_template(
        "parcels/came.html", words=parcel_sentences, page=page, form=form
    ), status(form)


@blueprint.post("/<int:parcel_id>/lost")
def lost(parcel_id: int) -> Response:
    with refusals_told():
        kept = say_arrived(actor(), parcel_id, Arrival(today(), lost=True), now())
        return _told(parcel_id, kept, "Noted that it never came.")
    return back(url_for("parcels.show", parcel_id=parcel_id))


def _told(parcel_id: int, kept: bool, fact: str) -> Response:
    """Say what was noted of its coming, or that something else was noted before and stands."""
    here = url_for("parcels.show", parcel_id=parcel_id)
    if kept:
        done(fact, url_for("parcels.take_back_came", parcel_id=parcel_id))
        return back(here)
    flash("How it came was told before, and stands; it can be taken back first.", "needs_you")
    return redirect(here, 303)


@blueprint.post("/<int:parcel_id>/not-came")
def take_back_came(parcel_id: int) -> Response:
    return _do(parcel_id, lambda: not_arrived(actor(), parcel_id, now()), "Taken back.")


@blueprint.get("/<int:parcel_id>/move")
def move(parcel_id: int) -> Page:
    form = MoveForm(request.args)
    day = form.day.data if form.validate() else None
    moving = moving_page(actor(), parcel_id, day, now(), fresh=addresses_open())
    if moving.refused is not None:
        blame(form, moving.refused)
    return _move_page(moving, form), 200


@blueprint.post("/<int:parcel_id>/move")
def move_there(parcel_id: int) -> Page:
    form = MoveForm()
    if form.validate() and form.day.data is not None:
        with refusals_beside(form):
            move_day(actor(), parcel_id, form.day.data, now(), opened=form.version.data)
            flash(f"Moved to {day_words(form.day.data)}. Both ends are told.")
            return redirect(url_for("parcels.show", parcel_id=parcel_id), 303)
    moving = moving_page(actor(), parcel_id, form.day.data, now(), fresh=addresses_open())
    day = moving.page.entry.posting_day
    both_shown(form, lambda: MoveForm(None, data={"day": day}))
    return _move_page(replace(moving, change=None), form), status(form)


@blueprint.get("/<int:parcel_id>/anyway")
def anyway(parcel_id: int) -> Page:
    form = MoveForm(request.args)
    day = form.day.data if form.validate() else None
    moving = anyway_page(actor(), parcel_id, day, now(), fresh=addresses_open())
    if moving.refused is not None:
        blame(form, moving.refused)
    return _move_page(moving, form, "parcels/anyway.html"), 200


@blueprint.post("/<int:parcel_id>/anyway")
def go_anyway(parcel_id: int) -> Page:
    form = MoveForm()
    if form.validate() and form.day.data is not None:
        with refusals_beside(form):
            post_anyway(actor(), parcel_id, form.day.data, now(), opened=form.version.data)
            flash(f"It goes on {day_words(form.day.data)} all the same. Both ends are told.")
            return redirect(url_for("parcels.show", parcel_id=parcel_id), 303)
    moving = anyway_page(actor(), parcel_id, None, now(), fresh=addresses_open())
    day = moving.page.entry.posting_day
    both_shown(form, lambda: MoveForm(None, data={"day": day}))
    return _move_page(moving, form, "parcels/anyway.html"), status(form)


@blueprint.post("/<int:parcel_id>/keep-day")
def keep_its_day(parcel_id: int) -> Response:
    return _do(parcel_id, lambda: keep_day(actor(), parcel_id, now()), "The day is kept.")


def _move_page(moving: MovingPage, form: MoveForm, name: str = "parcels/move.html") -> str:
    form.version.data = moving.version
    return render_template(
        name,
        words=parcel_sentences,
        page=moving.page,
        form=form,
        change=moving.change,
        may_go_anyway=moving.may_go_anyway,
    )


@blueprint.post("/<int:parcel_id>/way")
def way(parcel_id: int) -> Page:
    form = ChosenWayForm()
    with refusals_beside(form):
        choose_way(actor(), parcel_id, form.chosen(), now(), opened=form.version.data)
        done("The way is kept. The day is being weighed anew.")
        return back(url_for("parcels.show", parcel_id=parcel_id))
    if form.edited_meanwhile is None:
        flash(str(form.form_errors[0]), "needs_you")
        return back(url_for("parcels.show", parcel_id=parcel_id))
    page = _page(parcel_id)
    form.offer(page.ways)
    both_shown(form, lambda: _way_form(page))
    return _show_page(page, form), status(form)


def _way_form(page: ParcelPage) -> ChosenWayForm:
    chosen = page.entry.chosen_way_id
    data = {"way_id": "" if chosen is None else str(chosen), "version": page.chosen_version}
    form = ChosenWayForm(None, data=data)
    form.offer(page.ways)
    return form


@blueprint.post("/<int:parcel_id>/agree")
def agree(parcel_id: int) -> Response:
    return _do(parcel_id, lambda: agree_all(actor(), parcel_id, now()), "Thank you: they can go.")


@blueprint.post("/<int:parcel_id>/cannot/<int:allocation_id>")
def cannot(parcel_id: int, allocation_id: int) -> Response:
    with refusals_told():
        gone = refuse_in_parcel(actor(), parcel_id, allocation_id, now())
        done("They stay with you. No reason is asked.")
        if gone:
            return back(url_for("parcels.show_all"))
    return back(url_for("parcels.show", parcel_id=parcel_id))


@blueprint.post("/<int:parcel_id>/decide/<any(by_hand, grow_on, reserve, later):choice>")
def decide(parcel_id: int, choice: str) -> Response:
    act, fact = _DECISIONS[choice]
    onward = url_for("parcels.show_all") if choice == "reserve" else ""
    return _do(parcel_id, lambda: act(actor(), parcel_id, now()), fact, onward=onward)


_DECISIONS: dict[str, tuple[Callable[[Actor, int, datetime], object], str]] = {
    "by_hand": (send_by_hand, "It goes by hand. The day is being weighed anew."),
    "grow_on": (grow_on, "They are grown on. The day is being weighed anew."),
    "reserve": (give_to_reserve, "The plants went back to the reserve."),
    "later": (ask_later, "It waits on; you are asked again later."),
}


def _do(
    parcel_id: int, act: Callable[[], object], fact: str, undo: str = "", onward: str = ""
) -> Response:
    """Do a short act and lead back, with its notice or with why it was refused."""
    with refusals_told():
        act()
        done(fact, undo)
    return back(onward or url_for("parcels.show", parcel_id=parcel_id))


def _page(parcel_id: int) -> ParcelPage:
    return parcel_page(actor(), parcel_id, now(), fresh=addresses_open())


def _day_of(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text else None
    except ValueError:
        return None
