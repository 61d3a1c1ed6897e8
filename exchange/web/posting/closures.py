"""Days without post, for the organiser."""

from datetime import date

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.posting.closures import (
    Area,
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
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> Page:
    return _page(ClosureForm())


@blueprint.post("")
def keep() -> Page:
    form = ClosureForm()
    if form.validate() and form.day.data is not None:
        area, label = form.area.data or "", form.label.data or ""
        with refusals_beside(form):
            close_day(actor(), area, form.day.data, label, now())
            flash("The day is kept; parcels are weighed anew.")
            return redirect(url_for("closures.show"), 303)
    return _page(form)


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


def _page(form: ClosureForm) -> Page:
    page = closures_page(actor(), now())
    form.area.choices = [(one.key, _words(one)) for one in page.choices]
    shown = render_template("closures/show.html", page=page, form=form, area_words=_words)
    return shown, status(form)


def _words(area: Area) -> str:
    return area_words(area.country, area.subdivision)
