"""Letters to copy, print or read out, where they cannot be mailed."""

from flask import Blueprint, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.letters import (
    hand_over,
    letters_by_hand,
    letters_to,
    take_hand_over_back,
)
from exchange.web.frame.after_press import done
from exchange.web.frame.refusals import refusals_told
from exchange.web.frame.session import actor, now

blueprint = Blueprint("letters", __name__, url_prefix="/letters")


@blueprint.get("")
def by_hand() -> str:
    return render_template("letters/by_hand.html", letters=letters_by_hand(actor()))


@blueprint.get("/mine")
def mine() -> str:
    return render_template("letters/mine.html", letters=letters_to(actor()))


@blueprint.get("/print")
def printed() -> str:
    return render_template("letters/print.html", letters=letters_by_hand(actor()))


@blueprint.post("/<int:letter_id>/handed-over")
def handed_over(letter_id: int) -> Response:
    hand_over(actor(), letter_id, now())
    done("Noted as handed over.", url_for("letters.not_handed_over", letter_id=letter_id))
    return redirect(url_for("letters.by_hand"), 303)


@blueprint.post("/<int:letter_id>/not-handed-over")
def not_handed_over(letter_id: int) -> Response:
    with refusals_told():
        take_hand_over_back(actor(), letter_id, now())
        done("It is to be handed over again.")
    return redirect(url_for("letters.by_hand"), 303)
