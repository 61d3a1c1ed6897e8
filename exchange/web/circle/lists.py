"""The circle's lists: files for a spreadsheet, text to copy, a page to print."""

from flask import Blueprint, make_response, render_template
from werkzeug.wrappers import Response

from exchange.actions.circle.page_lists import circle_list
from exchange.web.frame.session import actor
from exchange.words.circle.lists import TITLES

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
NAME = f"any({', '.join(TITLES)})"
blueprint = Blueprint("lists", __name__, url_prefix="/lists")


@blueprint.get(f"/<{NAME}:name>")
def show(name: str) -> str:
    others = {other: title for other, title in TITLES.items() if other != name}
    return render_template("lists/show.html", listed=circle_list(actor(), name), others=others)


@blueprint.get(f"/<{NAME}:name>.csv")
def csv(name: str) -> Response:
    return _file(circle_list(actor(), name).csv, f"{name}.csv", "text/csv")


@blueprint.get(f"/<{NAME}:name>.xlsx")
def xlsx(name: str) -> Response:
    return _file(circle_list(actor(), name).xlsx, f"{name}.xlsx", XLSX)


@blueprint.get(f"/<{NAME}:name>/print")
def printed(name: str) -> str:
    return render_template("lists/print.html", listed=circle_list(actor(), name))


def _file(content: bytes, name: str, kind: str) -> Response:
    answer = make_response(content)
    answer.mimetype = kind
    answer.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
