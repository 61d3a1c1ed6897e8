"""Days without post, for the organiser."""

from datetime import date

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.posting.closures import (
    Area,
    areas_of,
    close_day,
    closures_page,
    open_holiday,
    take_closure_back,
)
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.posting.way_forms import ClosureForm
from exchange.words.kernel.areas import area_words

blueprint = Blueprint("closures", __name__, url_prefix="/circle/closures")


@blueprint.route("", methods=["GET", "POST"])
def show() -> tuple[str, int] | Response:
    form = ClosureForm()
    form.area.choices = [(one.key, _words(one)) for one in areas_of(actor())]
    if form.validate_on_submit() and form.day.data is not None:
        with refusals_beside(form):
            close_day(actor(), form.area.data, form.day.data, form.label.data or "", now())
            flash("The day is kept; parcels are weighed anew.")
            return redirect(url_for("closures.show"), 303)
    page = closures_page(actor(), now())
    shown = render_template("closures/show.html", page=page, form=form, area_words=_words)
    return shown, status(form)


@blueprint.post("/open")
def open_one() -> Response:
    try:
        day = date.fromisoformat(request.form.get("day", ""))
    except ValueError:
        abort(400)
    with refusals_told():
        open_holiday(actor(), request.form.get("area", ""), day, now())
        flash("Parcels may be posted on that day.")
    return redirect(url_for("closures.show"), 303)


@blueprint.post("/<int:closure_id>/take-back")
def take_back(closure_id: int) -> Response:
    take_closure_back(actor(), closure_id, now())
    flash("It is taken back; parcels are weighed anew.")
    return redirect(url_for("closures.show"), 303)


def _words(area: Area) -> str:
    return area_words(area.country, area.subdivision)
