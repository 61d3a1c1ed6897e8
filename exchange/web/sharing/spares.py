"""Spares: the list, one of them, listed, changed, taken off and put back."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing.form_choices import choices
from exchange.actions.sharing.page_spare import spare_page, spare_to_change
from exchange.actions.sharing.page_spares import Search, spares_page
from exchange.actions.sharing.spare_withdrawal import put_back, release_held, withdraw_spare
from exchange.actions.sharing.spares import change_spare, list_spare
from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from exchange.web.frame.after_press import back, done
from exchange.web.frame.form_state import status
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, standing, today
from exchange.web.growing.plant_choices import KINDS, SENT_AS
from exchange.web.growing.variety_meant import named
from exchange.web.sharing.spare_forms import SpareForm, usual_window
from exchange.web.sharing.spare_reading import how_it_reads, new_spare, of_spare, offer_choices

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


@blueprint.route("/new", methods=["GET", "POST"])
def new() -> Page:
    offered = choices(actor(), now())
    form = SpareForm(data=_first_answers(offered.varieties))
    offer_choices(form, offered)
    if form.validate_on_submit() and "look" not in request.form:
        with refusals_beside(form):
            found = named(form)
            if found.variety_id is not None:
                spare = new_spare(form, found.variety_id, today())
                spare_id = list_spare(actor(), spare, now())
                done("The spare is on the list.", url_for("spares.withdraw", spare_id=spare_id))
                return redirect(url_for("spares.one", spare_id=spare_id), 303)
    return _form_page(form, "List a spare", "List the spare", url_for("spares.show"))


@blueprint.route("/<int:spare_id>/change", methods=["GET", "POST"])
def change(spare_id: int) -> Page:
    there = spare_to_change(actor(), spare_id, now())
    form = SpareForm(data=of_spare(there.line))
    offer_choices(form, choices(actor(), now()))
    form.place.choices = [(there.line.spare.place_id, there.place)]
    shown = url_for("spares.one", spare_id=spare_id)
    if form.validate_on_submit() and "look" not in request.form:
        with refusals_beside(form):
            found = named(form)
            if found.variety_id is not None:
                change_spare(actor(), spare_id, new_spare(form, found.variety_id, today()), now())
                done("The spare is changed.")
                return redirect(shown, 303)
    return _form_page(form, "Change the spare", "Keep the change", shown)


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
    done("The spare is let go; it takes part in the share-out.")
    return redirect(url_for("spares.one", spare_id=spare_id), 303)


def _first_answers(varieties: tuple[Any, ...]) -> dict[str, Any]:
    """Give what the form begins with: the variety and material a link named, and usual days."""
    wanted = request.args.get("variety", type=int)
    variety = next((one for one in varieties if one.id == wanted), None)
    answers: dict[str, Any] = {
        **usual_window(today()),
        "health_by": standing().person.first_name,
    }
    if variety is not None:
        answers |= {"name": variety.name, "kind": variety.species.value}
    material = one_of(Material, request.args.get("as"))
    return answers | ({"material": material.value} if material else {})


def _form_page(form: SpareForm, heading: str, press: str, leave: str) -> Page:
    looked = request.method == "GET" or "look" in request.form
    offered = choices(actor(), now())
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
