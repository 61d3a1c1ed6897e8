"""Leaving the circle, by oneself or by the organiser's hand; and erasing whoever has left."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask_security import logout_user
from werkzeug.wrappers import Response
from wtforms import BooleanField

from exchange.actions.circle.erasing import erase, former_member, former_members
from exchange.actions.circle.leaving import Farewell, leave, leaving_page
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, standing
from exchange.words.circle import leaving as words

blueprint = Blueprint("leaving", __name__, url_prefix="/people")
Page = tuple[str, int] | Response


class LeaveForm(PageForm):
    """How somebody leaves."""

    known = BooleanField("It is known; the circle goes on without these")
    erase = BooleanField("Erase what is known of them as well")


@blueprint.get("/leave")
def leave_page() -> Page:
    return _page(standing().person.id, LeaveForm())


@blueprint.post("/leave")
def leave_now() -> Page:
    form, acting = LeaveForm(), standing().acting_for is not None
    member_id = standing().person.id
    with refusals_beside(form):
        leave(actor(), member_id, now(), _how(form))
        if not acting:
            logout_user()
        return redirect("/", 303)
    return _page(member_id, form)


@blueprint.get("/<int:member_id>/leave")
def let_go_page(member_id: int) -> Page:
    return _page(member_id, LeaveForm())


@blueprint.post("/<int:member_id>/leave")
def let_go(member_id: int) -> Page:
    form = LeaveForm()
    with refusals_beside(form):
        leave(actor(), member_id, now(), _how(form))
        flash("They have left the circle; what they gave and received stays known.")
        return redirect(url_for("circle.show"), 303)
    return _page(member_id, form)


@blueprint.get("/former")
def former() -> str:
    return render_template("leaving/former.html", gone=former_members(actor()))


@blueprint.get("/<int:member_id>/erase")
def erase_page(member_id: int) -> Page:
    with refusals_told():
        page = render_template(
            "leaving/erase.html", one=former_member(actor(), member_id), words=words
        )
        return page, 200
    return redirect(url_for("leaving.former"), 303)


@blueprint.post("/<int:member_id>/erase")
def erase_now(member_id: int) -> Page:
    with refusals_told():
        erase(actor(), member_id, now())
        flash("Erased. What was given and received still counts, without a name.")
    return redirect(url_for("leaving.former"), 303)


def _how(form: LeaveForm) -> Farewell:
    return Farewell(bool(form.known.data), bool(form.erase.data))


def _page(member_id: int, form: LeaveForm) -> Page:
    page = leaving_page(actor(), member_id)
    shown = render_template(
        "leaving/leave.html",
        page=page,
        form=form,
        oneself=member_id == standing().person.id,
        lead=words.lead(page.member.first_name, alone=page.alone),
        words=words,
    )
    return shown, status(form) if request.method == "POST" else 200
