"""Nights as they came, daily files of one's own, and how the forecast did."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.weather.forecast_verification import (
    forecast_record,
    keep_shift,
    keep_spread,
    undo_skill,
)
from exchange.actions.weather.observations import forget_night, nights_seen, observe
from exchange.actions.weather.own_daily_file import (
    LARGEST_FILE,
    FileRefusedError,
    drop_file,
    file_seen,
    files_of,
    keep_file,
    look_over,
)
from exchange.domain.weather.refit import FEWEST_NIGHTS
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import blame, refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, today
from exchange.web.weather.charts import reliability
from exchange.web.weather.weather_forms import DailyFileForm, ObservedForm

blueprint = Blueprint("weather_learned", __name__, url_prefix="/weather")
Page = tuple[str, int] | Response


@blueprint.get("/places/<int:place_id>/observed")
def observed(place_id: int) -> Page:
    return _observed_page(place_id, ObservedForm(data={"day": today()}))


@blueprint.post("/places/<int:place_id>/observed")
def keep_observed(place_id: int) -> Page:
    form = ObservedForm()
    if form.validate() and form.day.data is not None:
        with refusals_beside(form):
            low = float(form.minimum_c.data or 0)
            row_id = observe(actor(), place_id, form.day.data, low, now())
            done(
                "The night is kept.",
                url_for("weather_learned.drop_observed", observation_id=row_id),
            )
            return redirect(url_for("weather_learned.observed", place_id=place_id), 303)
    return _observed_page(place_id, form)


def _observed_page(place_id: int, form: ObservedForm) -> Page:
    seen = nights_seen(actor(), place_id)
    return render_template("weather/observed.html", form=form, seen=seen), status(form)


@blueprint.post("/observed/<int:observation_id>/remove")
def drop_observed(observation_id: int) -> Response:
    place_id = forget_night(actor(), observation_id, now())
    flash("The night is taken away.")
    return redirect(url_for("weather_learned.observed", place_id=place_id), 303)


@blueprint.get("/places/<int:place_id>/file")
def daily_file(place_id: int) -> Page:
    return _file_page(place_id, DailyFileForm())


@blueprint.post("/places/<int:place_id>/file")
def take_file_in(place_id: int) -> Page:
    """Take a file in to be looked over; the browser sends it once, and it is stored until then."""
    form = DailyFileForm()
    found_wrong: FileRefusedError | None = None
    if form.validate():
        try:
            file_id = look_over(actor(), place_id, *_file(), now())
            return redirect(url_for("weather_learned.look_over_file", file_id=file_id), 303)
        except FileRefusedError as refused:
            found_wrong = refused
            blame(form, refused)
    return _file_page(place_id, form, found_wrong)


def _file_page(place_id: int, form: DailyFileForm, refused: FileRefusedError | None = None) -> Page:
    kept = files_of(actor(), place_id)
    return render_template(
        "weather/file.html", form=form, refused=refused, kept=kept.files, place=kept.place
    ), status(form)


@blueprint.get("/files/<int:file_id>")
def look_over_file(file_id: int) -> str:
    return render_template("weather/file_seen.html", seen=file_seen(actor(), file_id))


@blueprint.post("/files/<int:file_id>/keep")
def keep(file_id: int) -> Response:
    with refusals_told():
        seen = keep_file(actor(), file_id, now())
        done(
            f"{seen.name} is kept.",
            url_for("weather_learned.drop", file_id=file_id),
        )
        return redirect(url_for("weather.place", place_id=seen.place.id), 303)
    return redirect(url_for("weather_learned.look_over_file", file_id=file_id), 303)


@blueprint.post("/files/<int:file_id>/remove")
def drop(file_id: int) -> Response:
    place_id = drop_file(actor(), file_id, now())
    flash("The file is taken away, and the nights it brought.")
    return redirect(url_for("weather_learned.daily_file", place_id=place_id), 303)


@blueprint.get("/places/<int:place_id>/record")
def record(place_id: int) -> str:
    found = forecast_record(actor(), place_id)
    return render_template(
        "weather/record.html",
        record=found,
        charts=[(one, reliability(one)) for one in found.leads],
        fewest=FEWEST_NIGHTS,
    )


@blueprint.post("/places/<int:place_id>/record/<any(shift, spread):what>")
def learn(place_id: int, what: str) -> Response:
    with refusals_told():
        keep_learned = keep_spread if what == "spread" else keep_shift
        undo = url_for("weather_learned.undo", skill_id=keep_learned(actor(), place_id, now()))
        done("It is kept; the nights of this place are said with it from now on.", undo)
    return redirect(url_for("weather_learned.record", place_id=place_id), 303)


@blueprint.post("/learned/<int:skill_id>/undo")
def undo(skill_id: int) -> Response:
    with refusals_told():
        place_id = undo_skill(actor(), skill_id, now())
        flash("What was in use before is in use again.")
        return redirect(url_for("weather_learned.record", place_id=place_id), 303)
    return redirect(url_for("weather.show"), 303)


def _file() -> tuple[str, bytes]:
    """Give name and content of the file sent; empty where none was chosen."""
    file = request.files.get("file")
    if file is None or not file.filename:
        raise FileRefusedError("Choose a file first.")
    return file.filename, file.stream.read(LARGEST_FILE + 1)
