"""The ring list."""

from flask import Blueprint, render_template

from exchange.actions.circle.page_ring_list import ring_list
from exchange.web.frame.session import actor
from exchange.words.circle import ring_list as words

blueprint = Blueprint("ring_list", __name__, url_prefix="/circle/ring-list")


@blueprint.get("")
def show() -> str:
    found = ring_list(actor())
    return render_template(
        "ring/show.html", ring=found, words=words, lead=words.lead(found.without)
    )
