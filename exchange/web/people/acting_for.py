"""Acting for a member, and stopping."""

from dataclasses import replace

from flask import Blueprint, redirect, session
from werkzeug.wrappers import Response

from exchange.actions.people.acting_for import begin_acting
from exchange.web.frame.session import house, now, standing

blueprint = Blueprint("act_for", __name__, url_prefix="/act-for")


@blueprint.post("/<int:member_id>")
def start(member_id: int) -> Response:
    oneself = replace(standing(), acting_for=None)
    if member_id == oneself.member.id:
        return stop()
    begin_acting(oneself.actor(house()), member_id, now())
    session["acting_for"] = member_id
    return redirect("/todo", 303)


@blueprint.post("/stop")
def stop() -> Response:
    session.pop("acting_for", None)
    return redirect("/todo", 303)
