"""The circle's lists, as CSV to keep and as text to copy."""

from flask import Blueprint, make_response, render_template
from werkzeug.wrappers import Response

from exchange.actions.circle.page_lists import circle_list
from exchange.web.frame.session import actor
from exchange.words.circle.lists import TITLES

NAME = f"any({', '.join(TITLES)})"
blueprint = Blueprint("lists", __name__, url_prefix="/lists")


@blueprint.get(f"/<{NAME}:name>")
def show(name: str) -> str:
    others = {other: title for other, title in TITLES.items() if other != name}
    return render_template("lists/show.html", listed=circle_list(actor(), name), others=others)


@blueprint.get(f"/<{NAME}:name>.csv")
def csv(name: str) -> Response:
    answer = make_response(circle_list(actor(), name).csv)
    answer.mimetype = "text/csv"
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
