"""Spares: the list, one of them, listed, changed, taken off and put back."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing.form_choices import Choices, choices
from exchange.actions.sharing.page_spare import SpareToChange, spare_page, spare_to_change
from exchange.actions.sharing.page_spares import Search, spares_page
from exchange.actions.sharing.spare_withdrawal import (
    hold_spare_again,
    put_back,
    release_held,
    withdraw_spare,
)
from exchange.actions.sharing.spares import change_spare, list_spare
from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from exchange.web.frame.after_press import back, done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, standing, today
from exchange.web.growing.plant_choices import KINDS, SENT_AS
from exchange.web.growing.variety_meant import offer_meant
from exchange.web.sharing.spare_forms import ChangeSpareForm, SpareForm, usual_window
from exchange.web.sharing.spare_reading import (
    how_it_reads,
    new_spare,
    of_spare,
    offer_choices,
    offer_to_change,
)

blueprint = Blueprint("spares", __name__, url_prefix="/spares")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    asked = request.args
    search = Search(
        text=asked.get("find", "").strip()[:60],
        species=one_of(Species, asked.get("kind")),
        material=one_of(Material, asked.get("as")),
        mine="mine" in asked,
        left_only="left" in asked,
        page=asked.get("page", 1, type=int),
    )
    page = spares_page(actor(), search, now())
    return render_template("spares/show.html", page=page, kinds=KINDS, sent_as=SENT_AS)


@blueprint.get("/<int:spare_id>")
def one(spare_id: int) -> str:
    return render_template("spares/one.html", page=spare_page(actor(), spare_id, now()))


@blueprint.get("/new")
def new() -> Page:
    offered = choices(actor(), now())
    form = SpareForm(data=_first_answers(offered.varieties))
    return _new_page(form, offered)


@blueprint.post("/new")
def list_new() -> Page:
    form = SpareForm(data=_usual_answers())
    tried = form.validate() and not _looks()
    if tried:
        with refusals_beside(form):
            spare_id = list_spare(actor(), new_spare(form, today()), now())
            done("The spare is on the list.", url_for("spares.withdraw", spare_id=spare_id))
            return redirect(url_for("spares.one", spare_id=spare_id), 303)
    offered = choices(actor(), now())
    if tried:
        offer_meant(form, offered.varieties)
    return _new_page(form, offered)


def _new_page(form: SpareForm, offered: Choices) -> Page:
    offer_choices(form, offered)
    words = ("List a spare", "List the spare", url_for("spares.show"))
    return _form_page(form, offered, words)


@blueprint.get("/<int:spare_id>/change")
def change(spare_id: int) -> Page:
    there = spare_to_change(actor(), spare_id, now())
    return _change_page(_change_form(there), there)


@blueprint.post("/<int:spare_id>/change")
def keep_change(spare_id: int) -> Page:
    form = ChangeSpareForm()
    tried = form.validate() and not _looks()
    if tried:
        with refusals_beside(form):
            spare = new_spare(form, today())
            change_spare(actor(), spare_id, spare, now(), opened=form.version.data)
            done("The spare is changed.")
            return redirect(url_for("spares.one", spare_id=spare_id), 303)
    there = spare_to_change(actor(), spare_id, now())
    offer_to_change(form, there)
    both_shown(form, lambda: _change_form(there))
    if tried:
        offer_meant(form, there.choices.varieties)
    return _change_page(form, there)


def _change_form(there: SpareToChange) -> ChangeSpareForm:
    """Give the form as a first visit shows it."""
    form = ChangeSpareForm(None, data={**of_spare(there.page.line), "version": there.version})
    offer_to_change(form, there)
    return form


def _change_page(form: ChangeSpareForm, there: SpareToChange) -> Page:
    shown = url_for("spares.one", spare_id=there.page.line.spare.id)
    return _form_page(form, there.choices, ("Change the spare", "Keep the change", shown))


@blueprint.post("/<int:spare_id>/withdraw")
def withdraw(spare_id: int) -> Response:
    with refusals_told():
        withdraw_spare(actor(), spare_id, now())
        done("The spare is off the list.", url_for("spares.list_again", spare_id=spare_id))
        return back(url_for("spares.show"))
    return redirect(url_for("spares.one", spare_id=spare_id), 303)


@blueprint.post("/<int:spare_id>/put-back")
def list_again(spare_id: int) -> Response:
    with refusals_told():
        put_back(actor(), spare_id, now())
        done("The spare is on the list again.")
    return redirect(url_for("spares.one", spare_id=spare_id), 303)


@blueprint.post("/<int:spare_id>/let-go")
def let_go(spare_id: int) -> Response:
    release_held(actor(), spare_id, now())
    undo = url_for("spares.hold_again", spare_id=spare_id)
    done("The spare is let go; it takes part in the share-out.", undo)
    return redirect(url_for("spares.one", spare_id=spare_id), 303)


@blueprint.post("/<int:spare_id>/hold-again")
def hold_again(spare_id: int) -> Response:
    with refusals_told():
        hold_spare_again(actor(), spare_id, now())
        done("The spare is held again.")
    return redirect(url_for("spares.one", spare_id=spare_id), 303)


def _first_answers(varieties: tuple[Any, ...]) -> dict[str, Any]:
    """Give what the form begins with: the variety and material a link named, and usual days."""
    wanted = request.args.get("variety", type=int)
    variety = next((one for one in varieties if one.id == wanted), None)
    answers = _usual_answers()
    if variety is not None:
        answers |= {"name": variety.name, "kind": variety.species.value}
    material = one_of(Material, request.args.get("as"))
    return answers | ({"material": material.value} if material else {})


def _usual_answers() -> dict[str, Any]:
    return {**usual_window(today()), "health_by": standing().person.first_name}


def _looks() -> bool:
    """Say whether this is only a look at how it will read."""
    return "look" in request.form


def _form_page(form: SpareForm, offered: Choices, words: tuple[str, str, str]) -> Page:
    """Show the form.

    Parameters
    ----------
    words : the heading, what the button says, and where leaving it leads
    """
    heading, press, leave = words
    looked = request.method == "GET" or _looks()
    page = render_template(
        "spares/form.html",
        form=form,
        heading=heading,
        press=press,
        leave=leave,
        names=sorted({one.name for one in offered.varieties}),
        several_places=len(form.place.choices) > 1,
        reads=how_it_reads(form, today()),
    )
    return page, 200 if looked and not form.errors else status(form)
