"""How the forecast did at a place, and what is learned from it: its spread, and the place's own shift."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.weather.frost_notes import own_place
from exchange.actions.weather.outlooks import Known, known_of
from exchange.domain.circle.place import Place
from exchange.domain.weather.blend import Skill
from exchange.domain.weather.compare import LeadResult, results_by_lead
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.forecast import Forecast
from exchange.domain.weather.pairs import ForecastAndObservation, observed_nights, pairs
from exchange.domain.weather.refit import (
    FEWEST_NIGHTS,
    KeptNight,
    Refitted,
    learned_shift,
    mean_crps,
    refit,
    spread_of_shift,
)
from exchange.records import PLACE_SKILLS, Tx, forecasts_kept, weather_kept
from exchange.records.rows.weather import PlaceSkillRow

SHIFT_LEAD_DAYS = 3.0
"""A place's own shift is learned from the first three nights of forecasts only (judgement) [days]."""

FEWEST_FOR_SHIFT = 15
"""Nights needed before a place's own shift is offered (judgement) [nights]."""


class NothingToKeepError(RefusedError):
    """There is nothing better to keep, or too few nights to tell."""


@dataclass(frozen=True, slots=True)
class Shifted:
    """What a place's own shift would change.

    Attributes
    ----------
    before, after : old and new skill
    crps_before_k, crps_after_k : mean CRPS on the same nights [K]
    error_k : standard error of the shift, None when it cannot be told [K]
    nights : how many [nights]
    """

    before: Skill
    after: Skill
    crps_before_k: float
    crps_after_k: float
    error_k: float | None
    nights: int


@dataclass(frozen=True, slots=True)
class Record:
    """How the forecasts kept for a place did.

    Attributes
    ----------
    has_climate : whether it is known what is usual there; if not, nothing can be compared
    observed, forecasts, compared : nights known, forecasts kept, pairs of both
    leads : scores by lead, shortest first
    spread : what refitting the spread would change, None with too few nights
    shift : what learning the place's own shift would change, None with too few nights
    skill, kept : in use; the row it stands in, None for the published figures
    """

    place: Place
    has_climate: bool
    observed: int
    forecasts: int
    compared: int
    leads: tuple[LeadResult, ...]
    spread: Refitted | None
    shift: Shifted | None
    skill: Skill
    kept: PlaceSkillRow | None


def forecast_record(actor: Actor, place_id: int) -> Record:
    """Compare the forecasts kept for a place with the nights known there."""
    with actor.books.reading() as tx:
        read = _read(tx, actor, place_id)
    return _compared(read)


def keep_spread(actor: Actor, place_id: int, now: datetime) -> int:
    """Use the refitted spread at a place from now on; gives the number that undoes it.

    Raises
    ------
    NothingToKeepError
    """
    with actor.books.reading() as tx:
        read = _read(tx, actor, place_id)
    found = _compared(read).spread
    if found is None or found.after == found.before:
        raise NothingToKeepError("There is no better spread to keep.")
    return _keep(actor, read, found, now)


def keep_shift(actor: Actor, place_id: int, now: datetime) -> int:
    """Use the place's own shift from now on; gives the number that undoes it.

    Raises
    ------
    NothingToKeepError
    """
    with actor.books.reading() as tx:
        read = _read(tx, actor, place_id)
    found = _compared(read).shift
    if found is None or found.crps_after_k >= found.crps_before_k:
        raise NothingToKeepError("There is no better shift to keep.")
    return _keep(actor, read, found, now)


def undo_skill(actor: Actor, skill_id: int, now: datetime) -> int:
    """Go back to what was in use before; gives the place it was for.

    Raises
    ------
    NothingToKeepError
        when it is not the latest
    """
    with actor.books.writing() as tx:
        one = PLACE_SKILLS.get(tx, actor.circle_id, skill_id)
        place = own_place(tx, actor, one.place_id)
        if PLACE_SKILLS.all(tx, actor.circle_id, place_id=place.id)[-1].id != skill_id:
            raise NothingToKeepError("Something newer was learned since; undo that first.")
        PLACE_SKILLS.remove(tx, actor.circle_id, skill_id)
        note(tx, actor, "undid what was learned of forecasts", _what(place), now)
    return place.id


@dataclass(frozen=True, slots=True)
class _Read:
    """What is kept of a place's forecasts and nights, as it is compared."""

    place: Place
    known: Known
    days: Mapping[date, float]
    rows: tuple[PlaceSkillRow, ...]
    forecasts: Sequence[Forecast]


def _read(tx: Tx, actor: Actor, place_id: int) -> _Read:
    place = own_place(tx, actor, place_id)
    return _Read(
        place,
        known_of(tx, actor.circle_id, [place])[place_id],
        weather_kept.days_observed(tx, actor.circle_id, place_id),
        PLACE_SKILLS.all(tx, actor.circle_id, place_id=place_id),
        forecasts_kept.kept(tx, actor.circle_id, place_id),
    )


def _compared(read: _Read) -> Record:
    climate, skill = read.known.climate, read.known.skill
    found: tuple[ForecastAndObservation, ...] = ()
    if climate is not None:
        observed = observed_nights(DayRead(day, low) for day, low in read.days.items())
        found = pairs(read.place, read.forecasts, climate, observed, skill)
    return Record(
        place=read.place,
        has_climate=climate is not None,
        observed=len(read.days),
        forecasts=len(read.forecasts),
        compared=len(found),
        leads=results_by_lead([pair.compared for pair in found]),
        spread=_spread(found, skill),
        shift=_shift(found, skill),
        skill=skill,
        kept=read.rows[-1] if read.rows else None,
    )


def _keep(actor: Actor, read: _Read, found: Refitted | Shifted, now: datetime) -> int:
    """Keep what was learned without a lock, if what it was learned from still stands."""
    with actor.books.writing() as tx:
        own_place(tx, actor, read.place.id)
        days = weather_kept.days_observed(tx, actor.circle_id, read.place.id)
        rows = PLACE_SKILLS.all(tx, actor.circle_id, place_id=read.place.id)
        if (days, rows) != (read.days, read.rows):
            raise NothingToKeepError("The nights known there changed just now; look once more.")
        skill_id = PLACE_SKILLS.add(
            tx,
            actor.circle_id,
            place_id=read.place.id,
            days=found.after.days,
            site_error_k=found.after.site_error_k,
            shift_k=found.after.shift_k,
            nights=found.nights,
            crps_before_k=found.crps_before_k,
            crps_after_k=found.crps_after_k,
            kept_at=now,
        )
        note(tx, actor, "kept what was learned of forecasts", _what(read.place), now)
    return skill_id


def _what(place: Place) -> str:
    return f"{place.name}, {place.town}"


def _spread(found: Sequence[ForecastAndObservation], skill: Skill) -> Refitted | None:
    """Refit the spread with the shift in use; None with too few nights."""
    if len(found) < FEWEST_NIGHTS:
        return None
    nights = [_shifted(pair.kept, skill.shift_k) for pair in found]
    fitted = refit(nights, skill)
    return replace(fitted, after=replace(fitted.after, shift_k=skill.shift_k))


def _shift(found: Sequence[ForecastAndObservation], skill: Skill) -> Shifted | None:
    """Learn the place's own shift from the forecast nearest before each night."""
    nearest: dict[date, KeptNight] = {}
    for pair in sorted(found, key=lambda one: one.kept.lead_days):
        if pair.kept.lead_days <= SHIFT_LEAD_DAYS:
            nearest.setdefault(pair.compared.night, pair.kept)
    if len(nearest) < FEWEST_FOR_SHIFT:
        return None
    nights = list(nearest.values())
    differences = [one.observed_c - one.forecast_c for one in nights]
    shift = learned_shift(differences)
    return Shifted(
        before=skill,
        after=replace(skill, shift_k=shift),
        crps_before_k=mean_crps([_shifted(one, skill.shift_k) for one in nights], skill),
        crps_after_k=mean_crps([_shifted(one, shift) for one in nights], skill),
        error_k=spread_of_shift(differences),
        nights=len(nights),
    )


def _shifted(one: KeptNight, shift_k: float) -> KeptNight:
    return replace(one, forecast_c=one.forecast_c + shift_k)
