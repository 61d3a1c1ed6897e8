"""Every part of the look in every state, for tests and for whoever changes the look."""

from flask import Blueprint, render_template, request

from exchange.web.frame.layout import Frame, PageLink
from exchange.web.home import parts_charts, parts_form

blueprint = Blueprint("parts", __name__, url_prefix="/parts")

_MEMBER = ("To do", "Spares", "Claims", "Parcels", "Varieties", "My garden")
_ORGANISER = (*_MEMBER, "Share-out", "The circle")


def _frame() -> Frame:
    names = _ORGANISER if "organiser" in request.args else _MEMBER
    return Frame(
        circle_name="The Lowmoor Circle",
        pages=tuple(PageLink(name, "#", name == "Parcels") for name in names),
        person="Maud Pellow",
        acting_for="Bert Hale" if "organiser" in request.args else "",
        stop_acting_url="#",
        larger_text="larger" in request.args,
        larger_text_url="#",
        help_url="#",
        words_url="#",
        sign_out_url="#",
    )


@blueprint.get("/")
def show() -> str:
    return render_template(
        "parts_page.html",
        frame=_frame(),
        blank=parts_form.blank(),
        wrong=parts_form.with_mistakes(),
        charts=parts_charts,
    )


@blueprint.get("/paper")
def paper() -> str:
    return render_template("parts_paper.html", frame=_frame())
