"""Choosing one of several circles."""

from flask import Blueprint, abort, redirect, render_template, request
from flask_login import current_user
from werkzeug.wrappers import Response

from exchange.actions.people.session import circles_of
from exchange.web.frame.session import begin, house, without_circle

blueprint = Blueprint("circle_choice", __name__, url_prefix="/circles")


@blueprint.get("")
@without_circle
def choose() -> str:
    return render_template(
        "circle_choice/choose.html", circles=circles_of(house(), current_user.id)
    )


@blueprint.post("")
@without_circle
def chosen() -> Response:
    wanted = request.form.get("circle", type=int)
    if wanted not in {circle.id for circle in circles_of(house(), current_user.id)}:
        abort(404)
    begin(wanted)
    return redirect("/todo", 303)
