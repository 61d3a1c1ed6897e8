"""Joining by invitation: a page with a button, a name and a town."""

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_login import current_user
from werkzeug.wrappers import Response

from exchange.actions.kernel.links import LinkGoneError
from exchange.actions.people.joining import Joining, invitation, join
from exchange.actions.people.session import LetIn
from exchange.actions.people.towns import Town
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import anyone, begin, house, machine_now
from exchange.web.people.member_forms import JoinForm
from exchange.web.people.sign_in import let_in
from exchange.web.people.towns import town_of

blueprint = Blueprint("invitation", __name__, url_prefix="/join")
Page = tuple[str, int] | Response


@blueprint.get("/<token>")
@anyone
def show(token: str) -> Page:
    return _page(token)


@blueprint.post("/<token>")
@anyone
def take(token: str) -> Page:
    form = JoinForm()
    if form.validate():
        town = town_of(form) if (form.town.data or "").strip() else None
        if not form.errors:
            with refusals_beside(form):
                _enter(_joined(token, form, town))
                return redirect("/todo", 303)
    return _page(token, form)


def _joined(token: str, form: JoinForm, town: Town | None) -> LetIn:
    joining = Joining(
        form.first_name.data or "",
        town,
        form.surname.data or "",
        form.email.data or "",
        current_user.id if current_user.is_authenticated else None,
    )
    try:
        return join(house(), token, joining, machine_now())
    except LinkGoneError:
        abort(410)


def _enter(entering: LetIn) -> None:
    if current_user.is_authenticated:
        begin(entering.circle_id)
    else:
        let_in(entering)


def _page(token: str, form: JoinForm | None = None) -> Page:
    """Show the invitation; somebody whose address has a sign-in already signs in first."""
    try:
        there = invitation(house(), token, machine_now())
    except LinkGoneError:
        abort(410)
    if there.has_account and not current_user.is_authenticated:
        return redirect(url_for("security.login", next=request.path), 303)
    member = there.opened.member
    form = form or JoinForm(data={"first_name": member.first_name, "surname": member.surname})
    page = render_template(
        "invitation/show.html",
        form=form,
        opened=there.opened,
        needs_address=there.needs_address,
        needs_town=there.needs_town,
    )
    return page, status(form)
