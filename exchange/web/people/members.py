"""People: invited, added, made organiser or helper, sharing a household, leaving."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask_security import logout_user
from werkzeug.wrappers import Response

from exchange.actions.people.households import share_household
from exchange.actions.people.members import (
    NewMember,
    add_member,
    invite,
    invite_again,
    leave,
    make_helper,
    make_organiser,
)
from exchange.actions.people.page_members import OnRoster, roster
from exchange.actions.people.sign_in import hand_sign_in
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, password_again, standing
from exchange.web.people.member_forms import AddMemberForm, HelperForm, HouseholdForm, InviteForm
from exchange.web.people.towns import town_of

blueprint = Blueprint("people", __name__, url_prefix="/people")
Page = tuple[str, int] | Response
OWN_HOUSEHOLD = 0


@blueprint.route("/invite", methods=["GET", "POST"])
def invite_page() -> Page:
    roster(actor())
    form = InviteForm()
    if form.validate_on_submit():
        new = NewMember(form.first_name.data or "", form.surname.data or "", form.email.data or "")
        with refusals_beside(form):
            invited = invite(actor(), new, now())
            flash(f"{invited.member.full_name} is invited.")
            return _after_invitation(invited.member.email, invited.link)
    return render_template("people/invite.html", form=form), status(form)


@blueprint.post("/<int:member_id>/invite-again")
def again(member_id: int) -> Page:
    with refusals_told():
        invited = invite_again(actor(), member_id, now())
        flash("The invitation is written anew; the older one no longer works.")
        return _after_invitation(invited.member.email, invited.link)
    return redirect(url_for("circle.show"), 303)


def _after_invitation(email: str | None, link: str) -> Page:
    """Show the link where no mail can carry it."""
    if email and actor().house.mail is not None:
        return redirect(url_for("circle.show"), 303)
    return render_template("people/link.html", link=link), 200


@blueprint.route("/add", methods=["GET", "POST"])
def add_page() -> Page:
    whole = roster(actor())
    form = AddMemberForm()
    form.household.choices = [
        (OWN_HOUSEHOLD, "its own"),
        *((one.id, one.name) for one in whole.households()),
    ]
    if form.validate_on_submit():
        shared = int(form.household.data or 0) or None
        town = town_of(form) if form.town.data or shared is None else None
        if town is not None or (shared is not None and not form.errors):
            new = NewMember(
                form.first_name.data or "",
                form.surname.data or "",
                telephone=form.telephone.data or "",
                household_id=shared,
                town=town,
            )
            with refusals_beside(form):
                add_member(actor(), new, now())
                flash(f"{new.first_name} is in the circle; act for them here.")
                return redirect(url_for("circle.show"), 303)
    return render_template("people/add.html", form=form), status(form)


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
    with refusals_told():
        make_helper(actor(), member_id, form.helper.data or "", now())
        return _kept(member_id)
    return redirect(url_for("circle.show"), 303)


@blueprint.post("/<int:member_id>/household")
def household(member_id: int) -> Page:
    wanted = request.form.get("household_id", type=int) or 0
    with refusals_told():
        share_household(actor(), member_id, wanted, now())
        return _kept(member_id)
    return redirect(url_for("circle.show"), 303)


@blueprint.post("/<int:member_id>/sign-in-link")
def sign_in_link(member_id: int) -> Page:
    with refusals_told():
        link = hand_sign_in(actor(), member_id, now())
        return render_template("people/link.html", link=link), 200
    return redirect(url_for("circle.show"), 303)


@blueprint.post("/<int:member_id>/leave")
def let_go(member_id: int) -> Page:
    with refusals_told():
        leave(actor(), member_id, now())
        flash("They have left the circle; what they gave and received stays known.")
    return redirect(url_for("circle.show"), 303)


@blueprint.get("/leave")
def leave_page() -> str:
    return render_template("people/leave.html", person=standing().person)


@blueprint.post("/leave")
def leave_now() -> Page:
    acting = standing().acting_for is not None
    with refusals_told():
        leave(actor(), standing().person.id, now())
        if not acting:
            logout_user()
        return redirect("/", 303)
    return redirect(url_for("people.leave_page"), 303)


def _person_page(member_id: int) -> Page:
    whole = roster(actor())
    one = whole.one(member_id)
    shared = HouseholdForm(data={"household_id": one.household.id})
    shared.household_id.choices = [(each.id, each.name) for each in whole.households()]
    page = render_template(
        "people/show.html",
        one=one,
        is_oneself=_is_oneself(one),
        helper=HelperForm(data={"helper": one.member.helper}),
        shared=shared,
    )
    return page, 200


def _is_oneself(one: OnRoster) -> bool:
    return one.member.id == standing().member.id


def _kept(member_id: int) -> Response:
    flash("It is kept.")
    return redirect(url_for("people.show", member_id=member_id), 303)
