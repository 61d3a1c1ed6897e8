"""My garden: places and shelters."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.page_where_i_grow import PlaceThere, garden_of, place_there
from exchange.actions.growing.shelters import (
    NewShelter,
    pots_in,
    remove_shelter,
    set_shelter,
    trays_for,
)
from exchange.actions.people.places import PlaceTerms, add_place, change_place, remove_place
from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.growing.where_i_grow_forms import PlaceChangeForm, PlaceForm, ShelterForm
from exchange.web.people.towns import town_beside, town_of, town_wanted
from exchange.words.growing import plants
from exchange.words.people.places import height_words, lie_words, room_words, weekday_words

blueprint = Blueprint("garden", __name__, url_prefix="/garden")
Page = tuple[str, int] | Response


blueprint.add_app_template_filter(plants.shelter, "shelter")
blueprint.add_app_template_filter(weekday_words, "weekday_name")


@blueprint.app_context_processor
def _words() -> dict[str, object]:
    return {"height_words": height_words, "lie_words": lie_words, "room_words": room_words}


@blueprint.get("")
def show() -> str:
    return render_template("garden/show.html", garden=garden_of(actor(), now()))


@blueprint.route("/places/new", methods=["GET", "POST"])
def new_place() -> Page:
    form = PlaceForm()
    if form.validate_on_submit():
        town = town_of(form)
        if town is not None:
            with refusals_beside(form):
                add_place(actor(), town, _terms(form), now())
                return _back("The place is kept. Say next what shelters it has.")
    return render_template("garden/place.html", form=form, there=None), status(form)


@blueprint.get("/places/<int:place_id>")
def place(place_id: int) -> Page:
    there = place_there(actor(), place_id)
    return _place_page(there, _place_form(there))


@blueprint.post("/places/<int:place_id>")
def keep_place(place_id: int) -> Page:
    form = PlaceChangeForm()
    if form.validate():
        town, terms = town_wanted(form), _terms(form)
        with town_beside(form):
            change_place(actor(), place_id, town, terms, now(), opened=form.version.data)
            return _back("The place is changed.")
    there = place_there(actor(), place_id)
    both_shown(form, lambda: _place_form(there))
    return _place_page(there, form)


def _place_page(there: PlaceThere, form: PlaceChangeForm) -> Page:
    return render_template("garden/place.html", form=form, there=there), status(form)


@blueprint.post("/places/<int:place_id>/remove")
def drop_place(place_id: int) -> Response:
    with refusals_told():
        remove_place(actor(), place_id, now())
        return _back("The place is removed.")
    return redirect(url_for("garden.place", place_id=place_id), 303)


@blueprint.get("/places/<int:place_id>/shelter")
def shelter(place_id: int) -> Page:
    there = place_there(actor(), place_id)
    return _shelter_page(there, _shelter_form(there, request.args.get("kind", "")))


@blueprint.post("/places/<int:place_id>/shelter")
def keep_shelter(place_id: int) -> Page:
    form = ShelterForm()
    if form.validate():
        trays = None if form.trays.data is None else float(form.trays.data)
        kind = ShelterKind(form.kind.data)
        new = NewShelter(place_id, kind, pots_in(trays), bool(form.carried_in.data))
        with refusals_beside(form):
            set_shelter(actor(), new, now(), opened=form.version.data)
            return _back("The shelter is kept.")
    there = place_there(actor(), place_id)
    both_shown(form, lambda: _shelter_form(there, form.kind.data or ""))
    return _shelter_page(there, form)


def _shelter_page(there: PlaceThere, form: ShelterForm) -> Page:
    return render_template("garden/shelter.html", form=form, there=there), status(form)


@blueprint.post("/shelters/<int:shelter_id>/remove")
def drop_shelter(shelter_id: int) -> Response:
    remove_shelter(actor(), shelter_id, now())
    return _back("The shelter is removed.")


def _back(done: str) -> Response:
    flash(done)
    return redirect(url_for("garden.show"), 303)


def _terms(form: PlaceForm) -> PlaceTerms:
    return PlaceTerms(
        name=form.name.data or "",
        latitude=_number(form.latitude.data),
        longitude=_number(form.longitude.data),
        height_m=_number(form.height_m.data),
        lie=Lie(form.lie.data),
        home_by=int(form.home_by.data if form.home_by.data is not None else 18),
        letter_box=bool(form.letter_box.data),
        rural_extra_day=bool(form.rural_extra_day.data),
        frost_rare_day=int(form.frost_rare_day.data) if form.frost_rare_day.data else None,
    )


def _number(value: object) -> float | None:
    return None if value is None else float(str(value))


def _place_form(there: PlaceThere) -> PlaceChangeForm:
    place = there.place
    return PlaceChangeForm(
        None,
        data={
            "name": place.name,
            "town": place.town,
            "height_m": place.height_m,
            "lie": place.lie.value,
            "home_by": place.home_by,
            "letter_box": place.letter_box,
            "rural_extra_day": place.rural_extra_day,
            "frost_rare_day": str(place.frost_rare_day or ""),
            "latitude": place.latitude,
            "longitude": place.longitude,
            "version": there.version,
        },
    )


def _shelter_form(there: PlaceThere, kind: str) -> ShelterForm:
    said: dict[str, object] = {
        "kind": kind or ShelterKind.COLD.value,
        "version": there.shelters_version,
    }
    for one in there.shelters:
        if one.shelter.kind.value == kind:
            said["trays"] = trays_for(one.shelter.room_pots)
            said["carried_in"] = one.shelter.carried_in
    return ShelterForm(None, data=said)
