"""What is held of a member."""

from flask import Blueprint, make_response, render_template
from werkzeug.wrappers import Response

from exchange.actions.circle.page_held import held
from exchange.web.frame.session import actor, now, password_again

blueprint = Blueprint("held", __name__, url_prefix="/garden/held")


@blueprint.get("")
@password_again
def show() -> str:
    return render_template("held/show.html", held=held(actor(), now()))


@blueprint.get("/held.json")
@password_again
def file() -> Response:
    answer = make_response(held(actor(), now()).json)
    answer.mimetype = "application/json"
    answer.headers["Content-Disposition"] = 'attachment; filename="held.json"'
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
