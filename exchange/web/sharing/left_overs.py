"""Left-overs of a confirmed share-out, open to whoever comes first."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing.left_overs import take_left_over
from exchange.actions.sharing.page_left_overs import left_overs_page
from exchange.web.frame.refusals import refusals_told
from exchange.web.frame.session import actor, now

blueprint = Blueprint("left_overs", __name__, url_prefix="/spares/left-over")


@blueprint.get("")
def show() -> str:
    return render_template("left_overs/show.html", page=left_overs_page(actor(), now()))


@blueprint.post("/<int:spare_id>")
def take(spare_id: int) -> Response:
    with refusals_told():
        take_left_over(actor(), spare_id, now())
        flash("It is yours. Its sender is told, and its posting day follows under Parcels.")
    return redirect(url_for("left_overs.show"), 303)
