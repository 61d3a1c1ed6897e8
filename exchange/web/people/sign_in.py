"""Signing in by a link in a mail; the password's own pages belong to the sign-in library."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from flask_security import login_user
from flask_security.proxies import _datastore
from werkzeug.wrappers import Response

from exchange.actions.kernel.actor import now_of
from exchange.actions.kernel.links import LinkGoneError, Purpose, open_link
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.session import LetIn
from exchange.actions.people.sign_in import mail_sign_in, sign_in_with
from exchange.web.frame.form_state import status
from exchange.web.frame.session import anyone, begin, house, machine_now
from exchange.web.people.member_forms import AskLinkForm

blueprint = Blueprint("sign_in", __name__, url_prefix="/sign-in-by-mail")


@blueprint.route("", methods=["GET", "POST"])
@anyone
def ask() -> tuple[str, int] | Response:
    form = AskLinkForm()
    if form.validate_on_submit():
        mail_sign_in(house(), form.email.data or "", machine_now())
        flash(_on_its_way() if house().mail is not None else _to_be_handed())
        return redirect(url_for("security.login"), 303)
    return render_template("sign_in/ask.html", form=form), status(form)


def _on_its_way() -> str:
    return "If that address is known here, a link is on its way to it. It works for 30 minutes."


def _to_be_handed() -> str:
    return (
        "No mail goes out from here. If that address is known, your organiser now has a link for"
        " you, which works for 30 minutes."
    )


@blueprint.get("/<token>")
@anyone
def show(token: str) -> str:
    try:
        opened = open_link(
            house(), token, Purpose.SIGN_IN, lambda circle: now_of(house(), circle, machine_now())
        )
    except LinkGoneError:
        abort(410)
    return render_template("sign_in/press.html", opened=opened)


@blueprint.post("/<token>")
@anyone
def use(token: str) -> Response:
    try:
        entering = sign_in_with(house(), token, machine_now())
    except (LinkGoneError, RefusedError):
        abort(410)
    let_in(entering)
    return redirect("/todo", 303)


def let_in(entering: LetIn) -> None:
    """Sign an account in on this telephone or computer, for 90 days."""
    account = _datastore.find_user(id=entering.account_id)
    if account is None or not account.active:
        abort(403)
    login_user(account, remember=True, authn_via=["email"])
    begin(entering.circle_id)
