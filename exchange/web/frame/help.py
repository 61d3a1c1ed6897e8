"""Help: one page for each page, the words, the cautions, where the facts come from."""

from flask import Blueprint, abort, render_template

from exchange.web.frame.help_pages import HELP_PAGES
from exchange.web.frame.session import anyone
from exchange.words.home.glossary import glossary

blueprint = Blueprint("help", __name__, url_prefix="/help")


@blueprint.get("")
@anyone
def show() -> str:
    return render_template("help/show.html", pages=HELP_PAGES)


@blueprint.get("/<slug>")
@anyone
def page(slug: str) -> str:
    if slug not in HELP_PAGES:
        abort(404)
    return render_template(f"help/{slug}.html", title=HELP_PAGES[slug], glossary=glossary())
