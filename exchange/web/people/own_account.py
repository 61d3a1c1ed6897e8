"""One's own sign-in: its address changed by a link sent to the new one, and signing out everywhere."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from flask_login import current_user
from flask_security import logout_user
from werkzeug.wrappers import Response

from exchange.actions.kernel.actor import now_of
from exchange.actions.kernel.links import LinkGoneError, Opened, Purpose
from exchange.actions.people.own_account import (
    ask_for_address,
    own_sign_in,
    sign_out_everywhere,
    take_address,
    wanted_by,
)
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, anyone, house, machine_now, now, password_again
from exchange.web.people.member_forms import NewAddressForm
from exchange.web.people.sign_in import let_in, opened_link

blueprint = Blueprint("own_sign_in", __name__)
Page = tuple[str, int] | Response


@blueprint.get("/my-sign-in")
def show() -> str:
    return render_template("own_sign_in/show.html", own=own_sign_in(actor()))


@blueprint.route("/my-sign-in/address", methods=["GET", "POST"])
@password_again
def address() -> Page:
    own = own_sign_in(actor())
    form = NewAddressForm()
    if form.validate_on_submit():
        with refusals_beside(form):
            ask_for_address(actor(), form.email.data or "", now())
            flash(_on_its_way() if own.by_mail else _to_be_handed())
            return redirect(url_for("own_sign_in.show"), 303)
    return render_template("own_sign_in/address.html", own=own, form=form), status(form)


def _on_its_way() -> str:
    return (
        "Unless somebody else has that address, a link is on its way to it. Press it within a day;"
        " until then you sign in as before."
    )


def _to_be_handed() -> str:
    return (
        "No mail goes out from here. Unless somebody else has that address, your organiser now has"
        " a link for you, which works for a day."
    )


@blueprint.post("/my-sign-in/sign-out-everywhere")
def everywhere() -> Response:
    sign_out_everywhere(actor(), now())
    logout_user()
    flash("You are signed out on every telephone and computer.")
    return redirect(url_for("security.login"), 303)


@blueprint.get("/new-address/<token>")
@anyone
def look(token: str) -> str:
    opened, wanted = _opened(token)
    return render_template("own_sign_in/press.html", opened=opened, wanted=wanted)


@blueprint.post("/new-address/<token>")
@anyone
def take(token: str) -> Response:
    opened, _wanted = _opened(token)
    here = current_user.is_authenticated and current_user.id == opened.member.account_id
    with refusals_told():
        try:
            account_id = take_address(
                house(), opened, now_of(house(), opened.circle, machine_now())
            )
        except LinkGoneError:
            abort(410)
        flash("You sign in with the new address from now on; the old one has been told.")
        if here:
            let_in(account_id, opened.circle.id)
    return redirect(url_for("own_sign_in.show" if here else "security.login"), 303)


def _opened(token: str) -> tuple[Opened, str]:
    """Give a link that still works, and the address it is about."""
    opened = opened_link(token, Purpose.NEW_ADDRESS)
    return opened, wanted_by(house(), opened) or abort(410)
