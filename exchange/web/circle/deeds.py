"""Who did what."""

from flask import Blueprint, render_template

from exchange.actions.circle.page_deeds import who_did_what
from exchange.web.frame.session import actor

blueprint = Blueprint("who_did_what", __name__, url_prefix="/who-did-what")


@blueprint.get("")
def own() -> str:
    return render_template("who_did_what/show.html", deeds=who_did_what(actor()), everybody=False)


@blueprint.get("/everybody")
def everybody() -> str:
    deeds = who_did_what(actor(), everybody=True)
    return render_template("who_did_what/show.html", deeds=deeds, everybody=True)
