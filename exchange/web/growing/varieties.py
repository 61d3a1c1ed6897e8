"""Varieties: the list, one of them with who holds it, a new name, what one grows of it."""

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.batches import NewBatch, count_batch, grow_too
from exchange.actions.growing.page_varieties import (
    BatchLine,
    VarietyPage,
    varieties_page,
    variety_page,
)
from exchange.actions.growing.varieties import Marks, mark_variety
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import status
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.growing.chart_hundred import HundredView
from exchange.web.growing.losing import hundreds
from exchange.web.growing.plant_choices import KINDS
from exchange.web.growing.variety_forms import CountForm, GrowForm, MarksForm, VarietyForm
from exchange.web.growing.variety_meant import named

blueprint = Blueprint("varieties", __name__, url_prefix="/varieties")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    text = request.args.get("find", "").strip()[:60]
    species = one_of(Species, request.args.get("kind"))
    lines = varieties_page(actor(), text, species, now())
    return render_template(
        "varieties/show.html", lines=lines, text=text, species=species, kinds=KINDS
    )


@blueprint.get("/<int:variety_id>")
def one(variety_id: int) -> str:
    page = variety_page(actor(), variety_id, now())
    drawn: tuple[HundredView, ...] = hundreds(page)
    return render_template("varieties/one.html", page=page, drawn=drawn)


@blueprint.route("/new", methods=["GET", "POST"])
def new() -> Page:
    form = VarietyForm(data={"name": request.args.get("name", "")[:60]})
    if form.validate_on_submit():
        with refusals_beside(form):
            found = named(form)
            if found.variety_id is not None:
                return _to(found.variety_id)
    return render_template("varieties/new.html", form=form), status(form)


@blueprint.route("/<int:variety_id>/grow", methods=["GET", "POST"])
def grow(variety_id: int) -> Page:
    page = variety_page(actor(), variety_id, now())
    form = GrowForm()
    form.place.choices = list(page.places) or [(0, "")]
    if form.validate_on_submit():
        new_batch = NewBatch(
            variety_id,
            form.plants.data,
            form.place.data or None,
            Material(form.material.data),
            Raised(form.raised.data),
            ShelterKind(form.shelter.data) if form.shelter.data else None,
            form.origin.data or "",
        )
        with refusals_beside(form):
            grow_too(actor(), new_batch, now())
            done("It is noted that you grow it.")
            return _to(variety_id)
    return render_template("varieties/grow.html", form=form, page=page), status(form)


@blueprint.route("/<int:variety_id>/batches/<int:batch_id>", methods=["GET", "POST"])
def count(variety_id: int, batch_id: int) -> Page:
    page = variety_page(actor(), variety_id, now())
    line = _own_batch(page, batch_id)
    form = CountForm(data={"plants": line.batch.plants})
    if form.validate_on_submit():
        with refusals_beside(form):
            count_batch(actor(), batch_id, form.plants.data, now())
            done("Counted anew.")
            return _to(variety_id)
    return render_template("varieties/count.html", form=form, page=page, line=line), status(form)


@blueprint.route("/<int:variety_id>/marks", methods=["GET", "POST"])
def marks(variety_id: int) -> Page:
    page = variety_page(actor(), variety_id, now())
    form = MarksForm(data=_marks_of(page))
    if form.validate_on_submit():
        said = Marks(
            Keeps(form.keeps.data),
            bool(form.must_not_be_lost.data),
            form.because.data or "",
            form.target_places.data,
            bool(form.protected.data),
            form.authority.data or "",
        )
        with refusals_beside(form):
            mark_variety(actor(), variety_id, said, now())
            done("What you say of it is kept.")
            return _to(variety_id)
    return render_template("varieties/marks.html", form=form, page=page), status(form)


def _to(variety_id: int) -> Response:
    return redirect(url_for("varieties.one", variety_id=variety_id), 303)


def _own_batch(page: VarietyPage, batch_id: int) -> BatchLine:
    may_count = actor().organiser
    own = (line for line in page.batches if (line.mine or may_count) and line.batch.id == batch_id)
    return next(own, None) or abort(404)


def _marks_of(page: VarietyPage) -> dict[str, Any]:
    variety = page.line.variety
    return {
        "keeps": variety.keeps.value,
        "must_not_be_lost": variety.must_not_be_lost,
        "because": variety.must_not_be_lost_because,
        "target_places": variety.target_places,
        "protected": variety.protected,
        "authority": variety.authority,
    }
