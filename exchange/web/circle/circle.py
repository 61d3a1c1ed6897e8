"""The circle: for members its people, for the organiser everything to look after."""

from flask import Blueprint, render_template

from exchange.actions.people.page_members import neighbours, roster
from exchange.web.frame.session import actor, standing

blueprint = Blueprint("circle", __name__, url_prefix="/circle")


@blueprint.get("")
def show() -> str:
    oneself = standing().member
    if oneself.organiser:
        return render_template("circle/organiser.html", roster=roster(actor()), oneself=oneself.id)
    return render_template("circle/member.html", neighbours=neighbours(actor()))
