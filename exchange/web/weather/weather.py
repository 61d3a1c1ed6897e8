"""The weather: at every place, which source is used and what it says; frost notes; frost tonight."""

from datetime import date

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.weather.frost_notes import (
    READ_AFTER,
    Evening,
    EveningAnswer,
    EveningPage,
    NotePage,
    evening_page,
    frost_tonight_at,
    note_frost,
    note_page,
    remove_note,
)
from exchange.actions.weather.page_weather import place_page, weather_page
from exchange.web.frame.after_press import done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.weather.charts import coming_nights
from exchange.web.weather.credit import credit
from exchange.web.weather.everywhere import everywhere
from exchange.web.weather.weather_forms import EveningForm, NoteForm
from exchange.words.weather import forecast_verification, frost, weather

blueprint = Blueprint("weather", __name__, url_prefix="/weather")
Page = tuple[str, int] | Response


@blueprint.app_context_processor
def _words() -> dict[str, object]:
    return {
        "weather_words": weather,
        "frost_words": frost,
        "record_words": forecast_verification,
        "credit": credit,
    }


@blueprint.get("")
def show() -> str:
    page = weather_page(actor(), now())
    return render_template("weather/show.html", page=page, view=everywhere(page))


@blueprint.get("/places/<int:place_id>")
def place(place_id: int) -> str:
    page = place_page(actor(), place_id, now())
    return render_template("weather/place.html", page=page, chart=coming_nights(page.weather))


@blueprint.get("/places/<int:place_id>/note")
def note(place_id: int) -> Page:
    page = note_page(actor(), place_id, now())
    return _note_page(page, _note_form(page, page.tonight))


@blueprint.post("/places/<int:place_id>/note")
def keep_note(place_id: int) -> Page:
    form = NoteForm()
    if form.validate() and form.night.data is not None:
        night, low = form.night.data, float(form.minimum_c.data or 0)
        with refusals_beside(form):
            note_id = note_frost(actor(), place_id, night, low, now(), form.version.data)
            done(
                "The frost note is kept; the next weighing of days goes by it.",
                url_for("weather.drop_note", note_id=note_id),
            )
            return redirect(url_for("weather.place", place_id=place_id), 303)
    page = note_page(actor(), place_id, now())
    night = form.night.data or page.tonight
    both_shown(form, lambda: _note_form(page, night, page.heard.get(night)))
    return _note_page(page, form)


def _note_form(page: NotePage, night: date, minimum_c: float | None = None) -> NoteForm:
    data = {"night": night, "minimum_c": minimum_c, "version": page.version}
    return NoteForm(None, data=data)


def _note_page(page: NotePage, form: NoteForm) -> Page:
    return render_template("weather/note.html", form=form, place=page.place), status(form)


@blueprint.post("/notes/<int:note_id>/remove")
def drop_note(note_id: int) -> Response:
    place_id = remove_note(actor(), note_id, now())
    flash("The frost note is taken away.")
    return redirect(url_for("weather.place", place_id=place_id), 303)


@blueprint.get("/places/<int:place_id>/tonight")
def tonight(place_id: int) -> Page:
    """Ask what an evening reading means; nothing is kept of it."""
    return _evening_page(evening_page(actor(), place_id, now()), EveningForm())


@blueprint.post("/places/<int:place_id>/tonight")
def say_tonight(place_id: int) -> Page:
    form = EveningForm()
    if form.validate():
        dew = form.dew_point_c.data
        evening = Evening(
            float(form.temperature_c.data or 0),
            None if dew is None else float(dew),
            bool(form.clear.data),
            bool(form.still.data),
        )
        with refusals_beside(form):
            return _evening_page(frost_tonight_at(actor(), place_id, evening, now()), form)
    return _evening_page(evening_page(actor(), place_id, now()), form)


def _evening_page(page: EveningPage | EveningAnswer, form: EveningForm) -> Page:
    return render_template(
        "weather/tonight.html",
        form=form,
        place=page.place,
        sunset=page.sunset,
        read_at=page.sunset + READ_AFTER if page.sunset else None,
        answer=page if isinstance(page, EveningAnswer) else None,
    ), status(form)
