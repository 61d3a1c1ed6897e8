"""Why a claim came out as it did, and the draw, for members and the organiser."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.explain import explain
from exchange.actions.refused import RefusedError
from exchange.actions.views.claim_why import claim_why_page
from exchange.actions.views.draw import draw_page
from exchange.web.session import actor, now
from exchange.words import explain as words

blueprint = Blueprint("claim_why", __name__, url_prefix="/claims")


@blueprint.get("/<int:claim_id>/why")
def show(claim_id: int) -> str:
    page = claim_why_page(actor(), claim_id, now())
    return render_template("claim_why/show.html", page=page, words=words)


@blueprint.post("/<int:claim_id>/why")
def had(claim_id: int) -> Response:
    try:
        explain(actor(), claim_id, now())
    except RefusedError as refused:
        flash(str(refused), "needs_you")
    return redirect(url_for("claim_why.show", claim_id=claim_id), 303)


@blueprint.get("/share-out")
def draw() -> str:
    return render_template("claim_why/draw.html", page=draw_page(actor(), now()))
