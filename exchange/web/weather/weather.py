"""The weather: at every place which source speaks and what it says; frost notes; frost tonight."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.weather.frost_notes import (
    READ_AFTER,
    Evening,
    frost_tonight_at,
    note_frost,
    remove_note,
)
from exchange.actions.weather.page_weather import frost_chance, place_page, weather_page
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.weather.charts import coming_nights
from exchange.web.weather.credit import credit
from exchange.web.weather.weather_forms import EveningForm, NoteForm
from exchange.words.posting import care
from exchange.words.weather import forecast_verification, frost, weather

blueprint = Blueprint("weather", __name__, url_prefix="/weather")
Page = tuple[str, int] | Response


@blueprint.app_context_processor
def _words() -> dict[str, object]:
    return {
        "weather_words": weather,
        "frost_words": frost,
        "record_words": forecast_verification,
        "chance_words": care.frost_chance,
        "frost_chance": frost_chance,
        "credit": credit,
    }


@blueprint.get("")
def show() -> str:
    return render_template("weather/show.html", page=weather_page(actor(), now()))


@blueprint.get("/places/<int:place_id>")
def place(place_id: int) -> str:
    page = place_page(actor(), place_id, now())
    return render_template("weather/place.html", page=page, chart=coming_nights(page.weather))


@blueprint.route("/places/<int:place_id>/note", methods=["GET", "POST"])
def note(place_id: int) -> Page:
    page = place_page(actor(), place_id, now())
    form = NoteForm(data={"night": page.weather.tonight})
    if form.validate_on_submit() and form.night.data is not None:
        with refusals_beside(form):
            low = float(form.minimum_c.data or 0)
            note_id = note_frost(actor(), place_id, form.night.data, low, now())
            done(
                "The frost note is kept; the next weighing of days goes by it.",
                url_for("weather.drop_note", note_id=note_id),
            )
            return redirect(url_for("weather.place", place_id=place_id), 303)
    return render_template("weather/note.html", form=form, place=page.weather.place), status(form)


@blueprint.post("/notes/<int:note_id>/remove")
def drop_note(note_id: int) -> Response:
    place_id = remove_note(actor(), note_id, now())
    flash("The frost note is taken away.")
    return redirect(url_for("weather.place", place_id=place_id), 303)


@blueprint.route("/places/<int:place_id>/tonight", methods=["GET", "POST"])
def tonight(place_id: int) -> Page:
    """Ask what an evening reading means; nothing is kept of it."""
    page = place_page(actor(), place_id, now())
    form = EveningForm()
    answer = None
    if form.validate_on_submit():
        dew = form.dew_point_c.data
        evening = Evening(
            float(form.temperature_c.data or 0),
            None if dew is None else float(dew),
            bool(form.clear.data),
            bool(form.still.data),
        )
        with refusals_beside(form):
            answer = frost_tonight_at(actor(), place_id, evening, now())
    return render_template(
        "weather/tonight.html",
        form=form,
        place=page.weather.place,
        sunset=page.sunset,
        read_at=page.sunset + READ_AFTER if page.sunset else None,
        answer=answer,
    ), status(form)
