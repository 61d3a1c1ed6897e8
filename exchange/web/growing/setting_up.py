"""Setting members up: somebody new, or somebody invited, on one page."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.setting_up import (
    SetUp,
    SetUpPage,
    add_set_up,
    households_to_share,
    set_up_member,
    set_up_page,
)
from exchange.actions.people.members import NewMember
from exchange.domain.permissions import Permission
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.session import actor, now, password_again
from exchange.web.growing.setting_up_forms import AddForm, SetUpForm, kinds_ticked
from exchange.web.people.confirm_identity import addresses_open
from exchange.web.people.towns import town_beside, town_wanted

blueprint = Blueprint("set_up", __name__, url_prefix="/people")
Page = tuple[str, int] | Response
OWN_HOUSEHOLD = 0


@blueprint.get("/add")
def add() -> Page:
    return _add_page(AddForm())


@blueprint.post("/add")
def keep_new() -> Page:
    actor().must(Permission.RUN_CIRCLE)
    form = AddForm()
    if form.validate():
        new = NewMember(
            form.first_name.data or "",
            form.surname.data or "",
            household_id=form.household.data or None,
        )
        with town_beside(form):
            member = add_set_up(actor(), new, _said(form), now())
            flash(f"{member.full_name} is in the circle; act for them here.")
            return redirect(url_for("circle.show"), 303)
    return _add_page(form)


def _add_page(form: AddForm) -> Page:
    shared = [(one.id, f"that of {one.name}") for one in households_to_share(actor())]
    form.household.choices = [(OWN_HOUSEHOLD, "one of their own"), *shared]
    return render_template("set_up/add.html", form=form), status(form)


@blueprint.get("/<int:member_id>/set-up")
@password_again
def show(member_id: int) -> Page:
    page = set_up_page(actor(), member_id)
    return _page(page, _form_of(page))


@blueprint.post("/<int:member_id>/set-up")
def keep(member_id: int) -> Page:
    form = SetUpForm()
    if form.validate():
        with town_beside(form):
            member = set_up_member(actor(), member_id, _said(form), now(), opened=form.version.data)
            flash(f"{member.full_name} is set up.")
            return _onward()
    page = set_up_page(actor(), member_id)
    if form.edited_meanwhile is not None and not addresses_open():
        return redirect(url_for("set_up.show", member_id=member_id), 303)
    both_shown(form, lambda: _form_of(page))
    return _page(page, form)


def _onward() -> Response:
    """Go to the member pressed for, or back to the circle."""
    onward = request.form.get("onward", "")
    if onward.isdecimal():
        return redirect(url_for("set_up.show", member_id=int(onward)), 303)
    return redirect(url_for("circle.show"), 303)


def _page(page: SetUpPage, form: SetUpForm) -> Page:
    return render_template("set_up/show.html", page=page, form=form), status(form)


def _form_of(page: SetUpPage) -> SetUpForm:
    return SetUpForm(
        None,
        data={
            "town": page.place.town if page.place else "",
            "address": page.household.address,
            "telephone": page.member.telephone,
            "shelters": [kind.value for kind in page.shelters],
            "version": page.version,
        },
    )


def _said(form: SetUpForm) -> SetUp:
    return SetUp(
        town_wanted(form),
        form.address.data or "",
        form.telephone.data or "",
        kinds_ticked(form.shelters),
    )
