"""Varieties: the list, one of them with who holds it, a new name, what one grows of it."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.batches import NewBatch, count_batch, grow_too, remove_batch
from exchange.actions.growing.page_varieties import (
    BatchPage,
    VarietyPage,
    batch_page,
    varieties_page,
    variety_page,
)
from exchange.actions.growing.varieties import Marks, look_up, mark_variety, say_begonia
from exchange.actions.growing.variety_meant import find_or_name
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.code_advice import advice_on
from exchange.domain.growing.names import tidied
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import BEGONIAS, Keeps, Species
from exchange.web.frame.after_press import back, done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.growing.chart_hundred import HundredView
from exchange.web.growing.losing import hundreds
from exchange.web.growing.plant_choices import KINDS
from exchange.web.growing.variety_forms import CountForm, GrowForm, MarksForm, VarietyForm
from exchange.web.growing.variety_meant import offer, typed_name
from exchange.words.growing.code_advice import advised

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


@blueprint.get("/new")
def new() -> Page:
    return _new_page(VarietyForm(data={"name": request.args.get("name", "")[:60]}))


@blueprint.post("/new")
def name_new() -> Page:
    form = VarietyForm()
    if form.validate():
        meant = typed_name(form)
        advice = [advised(one) for one in advice_on(tidied(meant.name), meant.species)]
        if advice and form.given_now.data and not form.anyway.data:
            form.name.errors = [*form.name.errors, *advice]
            return _new_page(form, advised_against=True)
        with refusals_beside(form):
            variety = find_or_name(actor(), meant, now())
            for one in advice:
                flash(one, "held")
            return _to(variety.id)
        found = look_up(actor(), meant.name, meant.species)
        if found.variety is None:
            offer(form, found.others + found.near, meant.species)
    return _new_page(form, advised_against=bool(form.anyway.data))


def _new_page(form: VarietyForm, *, advised_against: bool = False) -> Page:
    shown = render_template("varieties/new.html", form=form, advised_against=advised_against)
    return shown, status(form)


@blueprint.get("/<int:variety_id>/grow")
def grow(variety_id: int) -> Page:
    return _grow_page(variety_id, GrowForm())


@blueprint.post("/<int:variety_id>/grow")
def keep_batch(variety_id: int) -> Page:
    form = GrowForm()
    if form.validate():
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
    return _grow_page(variety_id, form)


def _grow_page(variety_id: int, form: GrowForm) -> Page:
    page = variety_page(actor(), variety_id, now())
    form.place.choices = list(page.places) or [(0, "")]
    return render_template("varieties/grow.html", form=form, page=page), status(form)


@blueprint.get("/<int:variety_id>/batches/<int:batch_id>")
def count(variety_id: int, batch_id: int) -> Page:
    page = batch_page(actor(), variety_id, batch_id)
    if not page.batch.plants:
        abort(404)
    return _count_page(page, _count_form(page))


@blueprint.post("/<int:variety_id>/batches/<int:batch_id>")
def keep_count(variety_id: int, batch_id: int) -> Page:
    form = CountForm()
    if form.validate():
        with refusals_beside(form):
            count_batch(actor(), batch_id, form.plants.data, now(), opened=form.version.data)
            done("Counted anew.")
            return _to(variety_id)
    page = batch_page(actor(), variety_id, batch_id)
    both_shown(form, lambda: _count_form(page))
    return _count_page(page, form)


@blueprint.post("/<int:variety_id>/batches/<int:batch_id>/remove")
def drop_batch(variety_id: int, batch_id: int) -> Response:
    with refusals_told():
        remove_batch(actor(), batch_id, now())
        done("They are no longer written down.")
    return _to(variety_id)


def _count_page(page: BatchPage, form: CountForm) -> Page:
    return render_template("varieties/count.html", form=form, page=page), status(form)


def _count_form(page: BatchPage) -> CountForm:
    return CountForm(None, data={"plants": page.batch.plants, "version": page.version})


@blueprint.get("/<int:variety_id>/marks")
def marks(variety_id: int) -> Page:
    page = variety_page(actor(), variety_id, now())
    return _marks_page(page, _marks_form(page))


@blueprint.post("/<int:variety_id>/marks")
def keep_marks(variety_id: int) -> Page:
    form = MarksForm()
    if form.validate():
        said = Marks(
            Keeps(form.keeps.data),
            bool(form.must_not_be_lost.data),
            form.because.data or "",
            form.target_places.data,
            bool(form.protected.data),
            form.authority.data or "",
            Species(form.begonia.data) if form.begonia.data else None,
        )
        with refusals_beside(form):
            mark_variety(actor(), variety_id, said, now(), opened=form.version.data)
            done("What you say of it is kept.")
            return _to(variety_id)
    page = variety_page(actor(), variety_id, now())
    both_shown(form, lambda: _marks_form(page))
    return _marks_page(page, form)


@blueprint.post("/<int:variety_id>/begonia")
def begonia(variety_id: int) -> Response:
    kind = one_of(Species, request.form.get("kind"))
    with refusals_told():
        say_begonia(actor(), variety_id, kind, now())
        done("Thank you, that is kept.")
    return back(url_for("varieties.one", variety_id=variety_id))


def _marks_page(page: VarietyPage, form: MarksForm) -> Page:
    return (
        render_template("varieties/marks.html", form=form, page=page, begonias=BEGONIAS),
        status(form),
    )


def _to(variety_id: int) -> Response:
    return redirect(url_for("varieties.one", variety_id=variety_id), 303)


def _marks_form(page: VarietyPage) -> MarksForm:
    variety = page.line.variety
    return MarksForm(
        None,
        data={
            "keeps": variety.keeps.value,
            "must_not_be_lost": variety.must_not_be_lost,
            "because": variety.must_not_be_lost_because,
            "target_places": variety.target_places,
            "protected": variety.protected,
            "authority": variety.authority,
            "begonia": variety.species.value,
            "version": page.marks_version,
        },
    )
