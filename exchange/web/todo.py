"""The first page."""

from flask import Blueprint, render_template

blueprint = Blueprint("todo", __name__, url_prefix="/todo")


@blueprint.get("")
def show() -> str:
    return render_template("todo/show.html")
