"""People: invited again, made organiser or helper, sharing a household, leaving."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.people.households import share_household
from exchange.actions.people.members import (
    invite_again,
    make_helper,
    make_organiser,
)
from exchange.actions.people.page_members import OnRoster, Roster, roster
from exchange.actions.people.sign_in import hand_sign_in
from exchange.web.frame.edits import EditingForm, both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, password_again, standing
from exchange.web.people.confirm_identity import addresses_open
from exchange.web.people.member_forms import HelperForm, HouseholdForm

blueprint = Blueprint("people", __name__, url_prefix="/people")
Page = tuple[str, int] | Response


@blueprint.post("/<int:member_id>/invite-again")
def again(member_id: int) -> Page:
    with refusals_told():
        invited = invite_again(actor(), member_id, now())
        flash("The invitation is written anew; the older one no longer works.")
        return _after_invitation(invited.member.email, invited.link)
    return redirect(url_for("circle.show"), 303)


def _after_invitation(email: str | None, link: str) -> Page:
    """Show the link where it cannot be mailed."""
    if email and actor().house.mail is not None:
        return redirect(url_for("circle.show"), 303)
    return render_template("people/link.html", link=link), 200


@blueprint.get("/<int:member_id>")
@password_again
def show(member_id: int) -> Page:
    return _person_page(member_id)


@blueprint.post("/<int:member_id>/organiser")
def organiser(member_id: int) -> Page:
    with refusals_told():
        make_organiser(actor(), member_id, request.form.get("organiser") == "yes", now())
        return _kept(member_id)
    return redirect(url_for("circle.show"), 303)


@blueprint.post("/<int:member_id>/helper")
def helper(member_id: int) -> Page:
    form = HelperForm()
    with refusals_beside(form):
        make_helper(actor(), member_id, form.helper.data or "", now(), opened=form.version.data)
        return _kept(member_id)
    return _refused(member_id, form)


@blueprint.post("/<int:member_id>/household")
def household(member_id: int) -> Page:
    form = HouseholdForm()
    with refusals_beside(form):
        share_household(
            actor(), member_id, form.household_id.data or 0, now(), opened=form.version.data
        )
        return _kept(member_id)
    return _refused(member_id, form)


@blueprint.post("/<int:member_id>/sign-in-link")
def sign_in_link(member_id: int) -> Page:
    with refusals_told():
        link = hand_sign_in(actor(), member_id, now())
        return render_template("people/link.html", link=link), 200
    return redirect(url_for("circle.show"), 303)


def _refused(member_id: int, form: EditingForm) -> Page:
    """Show both texts of two edits where addresses are open; else tell it as a notice."""
    if form.edited_meanwhile is not None and addresses_open():
        return _person_page(member_id, form)
    for sentences in form.errors.values():
        flash(str(sentences[0]), "needs_you")
    return redirect(url_for("circle.show"), 303)


def _person_page(member_id: int, edited: EditingForm | None = None) -> Page:
    whole = roster(actor())
    one = whole.one(member_id)
    helper, shared = _helper_form(one), _household_form(one, whole)
    if isinstance(edited, HelperForm):
        both_shown(edited, lambda: _helper_form(one))
        helper = edited
    if isinstance(edited, HouseholdForm):
        edited.household_id.choices = shared.household_id.choices
        both_shown(edited, lambda: _household_form(one, whole))
        shared = edited
    page = render_template(
        "people/show.html",
        one=one,
        is_oneself=_is_oneself(one),
        helper=helper,
        shared=shared,
        edited=edited,
    )
    return page, status(edited) if edited else 200


def _helper_form(one: OnRoster) -> HelperForm:
    data = {"helper": one.member.helper, "version": one.helper_version}
    return HelperForm(None, data=data)


def _household_form(one: OnRoster, whole: Roster) -> HouseholdForm:
    data = {"household_id": one.household.id, "version": one.household_version}
    form = HouseholdForm(None, data=data)
    form.household_id.choices = [(each.id, each.name) for each in whole.households()]
    return form


def _is_oneself(one: OnRoster) -> bool:
    return one.member.id == standing().member.id


def _kept(member_id: int) -> Response:
    flash("It is kept.")
    return redirect(url_for("people.show", member_id=member_id), 303)
