"""My garden: places and shelters."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.page_where_i_grow import garden_of, place_there
from exchange.actions.growing.shelters import (
    NewShelter,
    pots_in,
    remove_shelter,
    set_shelter,
    trays_for,
)
from exchange.actions.people.places import PlaceTerms, add_place, change_place, remove_place
from exchange.domain.circle.place import Lie, Place
from exchange.domain.growing.shelter import ShelterKind
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.growing.where_i_grow_forms import PlaceForm, ShelterForm
from exchange.web.people.towns import town_of
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


@blueprint.route("/places/<int:place_id>", methods=["GET", "POST"])
def place(place_id: int) -> Page:
    there = place_there(actor(), place_id)
    form = PlaceForm(data=_of_place(there.place))
    if form.validate_on_submit():
        moved = form.town.data != there.place.town or bool(form.chosen.data)
        town = town_of(form) if moved else None
        if town is not None or not moved:
            with refusals_beside(form):
                terms = _terms(form, there.place if moved else None)
                change_place(actor(), place_id, town, terms, now())
                return _back("The place is changed.")
    return render_template("garden/place.html", form=form, there=there), status(form)


@blueprint.post("/places/<int:place_id>/remove")
def drop_place(place_id: int) -> Response:
    with refusals_told():
        remove_place(actor(), place_id, now())
        return _back("The place is removed.")
    return redirect(url_for("garden.place", place_id=place_id), 303)


@blueprint.route("/places/<int:place_id>/shelter", methods=["GET", "POST"])
def shelter(place_id: int) -> Page:
    there = place_there(actor(), place_id)
    form = ShelterForm(data=_of_shelter(place_id, request.args.get("kind", "")))
    if form.validate_on_submit():
        trays = None if form.trays.data is None else float(form.trays.data)
        kind = ShelterKind(form.kind.data)
        new = NewShelter(place_id, kind, pots_in(trays), bool(form.carried_in.data))
        with refusals_beside(form):
            set_shelter(actor(), new, now())
            return _back("The shelter is kept.")
    return render_template("garden/shelter.html", form=form, there=there), status(form)


@blueprint.post("/shelters/<int:shelter_id>/remove")
def drop_shelter(shelter_id: int) -> Response:
    remove_shelter(actor(), shelter_id, now())
    return _back("The shelter is removed.")


def _back(done: str) -> Response:
    flash(done)
    return redirect(url_for("garden.show"), 303)


def _terms(form: PlaceForm, moved_from: Place | None = None) -> PlaceTerms:
    """Read the terms; a pin left as it was goes along when the place moves to another town."""
    pin = (_number(form.latitude.data), _number(form.longitude.data))
    if moved_from is not None and pin == (moved_from.latitude, moved_from.longitude):
        pin = (None, None)
    return PlaceTerms(
        name=form.name.data or "",
        latitude=pin[0],
        longitude=pin[1],
        height_m=_number(form.height_m.data),
        lie=Lie(form.lie.data),
        home_by=int(form.home_by.data if form.home_by.data is not None else 18),
        letter_box=bool(form.letter_box.data),
        rural_extra_day=bool(form.rural_extra_day.data),
    )


def _number(value: object) -> float | None:
    return None if value is None else float(str(value))


def _of_place(place: Place) -> dict[str, object]:
    return {
        "name": place.name,
        "town": place.town,
        "height_m": place.height_m,
        "lie": place.lie.value,
        "home_by": place.home_by,
        "letter_box": place.letter_box,
        "rural_extra_day": place.rural_extra_day,
        "latitude": place.latitude,
        "longitude": place.longitude,
    }


def _of_shelter(place_id: int, kind: str) -> dict[str, object]:
    there = place_there(actor(), place_id)
    for one in there.shelters:
        if one.shelter.kind.value == kind:
            trays = trays_for(one.shelter.room_pots)
            return {"kind": kind, "trays": trays, "carried_in": one.shelter.carried_in}
    return {"kind": kind or ShelterKind.COLD.value}
