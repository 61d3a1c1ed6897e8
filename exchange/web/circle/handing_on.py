"""The pack for the next organiser, and handing the part on."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.circle.handing_on import hand_on, hand_over_pack
from exchange.web.frame.refusals import refusals_told
from exchange.web.frame.session import actor, now
from exchange.words.circle import handing_on as words

blueprint = Blueprint("hand_over", __name__, url_prefix="/circle/hand-over")
Page = str | Response


@blueprint.get("")
def show() -> str:
    return render_template("hand_over/show.html", pack=hand_over_pack(actor(), now()), words=words)


@blueprint.get("/<int:member_id>")
def ask(member_id: int) -> str:
    pack = hand_over_pack(actor(), now())
    member = next((one for one in pack.members if one.id == member_id), None)
    if member is None:
        abort(404)
    return render_template("hand_over/ask.html", member=member)


@blueprint.post("/<int:member_id>")
def hand(member_id: int) -> Page:
    with refusals_told():
        hand_on(actor(), member_id, now())
        flash("Handed on. They see all of the circle now, and can hand it back.")
        return redirect(url_for("circle.show"), 303)
    return redirect(url_for("hand_over.show"), 303)
