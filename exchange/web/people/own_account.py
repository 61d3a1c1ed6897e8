"""One's own sign-in: its address changed by a link sent to the new one, and signing out everywhere."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from flask_login import current_user
from flask_security import logout_user
from werkzeug.wrappers import Response

from exchange.actions.kernel.links import LinkGoneError
from exchange.actions.people.own_account import (
    AddressWanted,
    address_wanted,
    ask_for_address,
    own_sign_in,
    sign_out_everywhere,
    take_address,
)
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, anyone, house, machine_now, now, password_again
from exchange.web.people.member_forms import NewAddressForm
from exchange.web.people.sign_in import let_in

blueprint = Blueprint("own_sign_in", __name__)
Page = tuple[str, int] | Response


@blueprint.get("/my-sign-in")
def show() -> str:
    return render_template("own_sign_in/show.html", own=own_sign_in(actor()))


@blueprint.get("/my-sign-in/address")
@password_again
def address() -> Page:
    return _address_page(NewAddressForm())


@blueprint.post("/my-sign-in/address")
@password_again
def ask() -> Page:
    form = NewAddressForm()
    if form.validate():
        with refusals_beside(form):
            ask_for_address(actor(), form.email.data or "", now())
            flash(_on_its_way() if house().mail is not None else _to_be_handed())
            return redirect(url_for("own_sign_in.show"), 303)
    return _address_page(form)


def _address_page(form: NewAddressForm) -> Page:
    page = render_template("own_sign_in/address.html", own=own_sign_in(actor()), form=form)
    return page, status(form)


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
    there = _wanted(token)
    return render_template("own_sign_in/press.html", opened=there.opened, wanted=there.wanted)


@blueprint.post("/new-address/<token>")
@anyone
def take(token: str) -> Response:
    # Asked first, since the act ends every session, this one too.
    signed_in = current_user.id if current_user.is_authenticated else None
    with refusals_told():
        try:
            entering = take_address(house(), token, machine_now())
        except LinkGoneError:
            abort(410)
        flash("You sign in with the new address from now on; the old one has been told.")
        if signed_in != entering.account_id:
            return redirect(url_for("security.login"), 303)
        let_in(entering)
        return redirect(url_for("own_sign_in.show"), 303)
    here = signed_in == _wanted(token).account.id
    return redirect(url_for("own_sign_in.show" if here else "security.login"), 303)


def _wanted(token: str) -> AddressWanted:
    """Give a link that still works, or show that it does not."""
    try:
        return address_wanted(house(), token, machine_now())
    except LinkGoneError:
        abort(410)
