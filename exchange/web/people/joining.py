"""Joining by invitation: a page with a button, a name and a town."""

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask_login import current_user
from werkzeug.wrappers import Response

from exchange.actions.kernel.actor import now_of
from exchange.actions.kernel.links import LinkGoneError, Opened, Purpose
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.joining import Joining, has_account, join, needs_address
from exchange.actions.people.towns import Town
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import blame
from exchange.web.frame.session import anyone, begin, house, machine_now
from exchange.web.people.member_forms import JoinForm
from exchange.web.people.sign_in import let_in, opened_link
from exchange.web.people.towns import town_of

blueprint = Blueprint("invitation", __name__, url_prefix="/join")


@blueprint.route("/<token>", methods=["GET", "POST"])
@anyone
def show(token: str) -> tuple[str, int] | Response:
    opened = opened_link(token, Purpose.INVITATION)
    if has_account(house(), opened) and not current_user.is_authenticated:
        return redirect(url_for("security.login", next=request.path), 303)
    form = JoinForm(data=_known(opened))
    if form.validate_on_submit():
        town = town_of(form)
        if town is not None and _join(opened, form, town):
            return redirect("/todo", 303)
    page = render_template(
        "invitation/show.html", form=form, opened=opened, needs_address=needs_address(opened)
    )
    return page, status(form)


def _join(opened: Opened, form: JoinForm, town: Town) -> bool:
    signed_in = current_user.id if current_user.is_authenticated else None
    joining = Joining(
        form.first_name.data or "",
        town,
        form.surname.data or "",
        form.email.data or "",
        signed_in,
    )
    try:
        account_id = join(house(), opened, joining, now_of(house(), opened.circle, machine_now()))
    except LinkGoneError:
        abort(410)
    except RefusedError as refused:
        blame(form, refused)
        return False
    if signed_in is None:
        let_in(account_id, opened.circle.id)
    else:
        begin(opened.circle.id)
    return True


def _known(opened: Opened) -> dict[str, str]:
    return {"first_name": opened.member.first_name, "surname": opened.member.surname}
