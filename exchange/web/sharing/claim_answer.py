"""Why a claim came out as it did, the draw, and the sender's yes or quiet no."""

from collections.abc import Callable
from datetime import datetime

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.actor import Actor
from exchange.actions.sharing.allocation_answers import agree, refuse
from exchange.actions.sharing.explanation import ask_why
from exchange.actions.sharing.page_claim_answer import claim_why_page
from exchange.actions.sharing.page_draw import draw_page
from exchange.web.frame.refusals import refusals_told
from exchange.web.frame.session import actor, now
from exchange.words.sharing import explanation as words

blueprint = Blueprint("claim_why", __name__, url_prefix="/claims")


@blueprint.get("/<int:claim_id>/why")
def show(claim_id: int) -> str:
    page = claim_why_page(actor(), claim_id, now())
    return render_template("claim_why/show.html", page=page, words=words)


@blueprint.post("/<int:claim_id>/why")
def had(claim_id: int) -> Response:
    with refusals_told():
        ask_why(actor(), claim_id, now())
    return redirect(url_for("claim_why.show", claim_id=claim_id), 303)


@blueprint.get("/share-out")
def draw() -> str:
    return render_template("claim_why/draw.html", page=draw_page(actor(), now()))


@blueprint.post("/send/<int:allocation_id>/yes")
def can_go(allocation_id: int) -> Response:
    return _answered(agree, allocation_id, "It is noted; their posting day stands under Parcels.")


@blueprint.post("/send/<int:allocation_id>/no")
def cannot_go(allocation_id: int) -> Response:
    return _answered(refuse, allocation_id, "It is noted, and the reserve is being looked at.")


def _answered(
    act: Callable[[Actor, int, datetime], object], allocation_id: int, fact: str
) -> Response:
    with refusals_told():
        act(actor(), allocation_id, now())
        flash(fact)
    return redirect(url_for("claims.show"), 303)
