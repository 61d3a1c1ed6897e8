"""The plan: the one place where the order of planning steps is written."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.domain.facts import Facts
from exchange.domain.posting.answer import PostingAnswer, PostingDecision, source_of, verdict
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.held_days import DayChoices, choices, choose_held
from exchange.domain.posting.moved import Moved, kept
from exchange.domain.posting.options import Option, ParcelCase, cases
from exchange.domain.posting.packed import warn_at, weigh_packed
from exchange.domain.posting.packing import Packing, packing
from exchange.domain.posting.parcel import OPEN, ParcelState
from exchange.domain.posting.planned_days import PlannedDays, planned_days
from exchange.domain.posting.reasons import PostingReason, Topic
from exchange.domain.posting.stops import TakenDays, crowded, taken_days
from exchange.domain.posting.strip import StripDay, figure, strip
from exchange.domain.posting.transit import expected_days
from exchange.domain.posting.warmth import warm_from
from exchange.domain.weather.forecast import Knowledge, WeatherSource

BY_WEATHER = frozenset({PostingAnswer.POST, PostingAnswer.WAIT})


@dataclass(frozen=True, slots=True)
class ParcelPlan:
    """The plan of one parcel.

    Attributes
    ----------
    day, way_id : posting day and way, None while it is held
    arrival_from, arrival_to : first day it may come, and the day by which 19 in 20 have come
    loss_chance : chance of losing the line most in danger, None without a day
    held : true when it has no day
    packing : key of the simplest packing that keeps the loss under the limit
    warn_at_c : "if this or less is forecast at either end, wait" [degrees C]
    strip : 21 days from the sender's today
    moved : what became of an announced day, None where it stands or none was announced
    announced : whether the day is announced; else it is "about the week of"
    asked : what whoever chose the announced day is asked, None where nothing speaks against it
    told_loss : chance of loss as the day was announced, None where it is not
    known : what the forecasts told of the announced day when it was last weighed
    """

    parcel_id: int
    code: str
    answer: PostingAnswer
    day: date | None
    way_id: int | None
    arrival_from: date | None
    arrival_to: date | None
    loss_chance: float | None
    held: bool
    reasons: tuple[PostingReason, ...]
    weather_source: WeatherSource
    packing: str
    warn_at_c: float
    strip: tuple[StripDay, ...]
    moved: Moved | None = None
    announced: bool = True
    asked: Moved | None = None
    told_loss: float | None = None
    known: Knowledge | None = None

    @property
    def offered(self) -> PostingReason | None:
        """Give the best day within the longest wait, where no day of it is good enough."""
        return next((one for one in self.reasons if one.about is Topic.LEAST_RISKY), None)


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of a circle's open parcels.

    Attributes
    ----------
    made_at : the moment it was made for
    parcels : in order of parcel id; posted and arrived parcels are not among them
    cost, bound : value of the choice of days and the solver's bound on it
    proven : whether no better choice of days exists
    """

    made_at: datetime
    parcels: tuple[ParcelPlan, ...]
    cost: int = 0
    bound: float = 0.0
    proven: bool = True

    def of(self, parcel_id: int) -> ParcelPlan | None:
        """Give the plan of one parcel."""
        return next((one for one in self.parcels if one.parcel_id == parcel_id), None)


def make_plan(facts: Facts, now: datetime) -> Plan:
    """Plan the posting day of every open parcel.

    Parameters
    ----------
    now : an instant with its zone; each sender's day is the day in the sender's zone

    Returns
    -------
    Plan
    """
    open_parcels = sorted(
        (one for one in facts.parcels if one.state in OPEN), key=lambda one: one.id
    )
    if not open_parcels:
        return Plan(now, ())
    gone = [one for one in facts.parcels if one.state is ParcelState.POSTED]
    planned = planned_days(cases(open_parcels, facts, now), facts)
    options = weigh_packed(planned)
    laid = [choices(case, options[case.parcel.id], facts) for case in planned.cases]
    chosen, out = choose_held(laid, facts, gone)
    full = taken_days(planned.cases, chosen.options, gone)
    plans = tuple(
        _parcel_plan(planned, one, chosen.options[one.case.parcel.id], full, out) for one in laid
    )
    return Plan(now, plans, chosen.cost, chosen.bound, chosen.proven)


def _parcel_plan(
    planned: PlannedDays,
    choice: DayChoices,
    chosen: Option | None,
    full: TakenDays,
    out: frozenset[int],
) -> ParcelPlan:
    case, around = choice.case, planned.around
    options = crowded(case, choice.options, chosen, full, around)
    days = strip(planned, case, options, chosen)
    held = kept(choice, chosen, options, around, is_out=case.parcel.id in out)
    found = verdict(case, choice.options, chosen, days, around, announced=held.announced)
    source = _source(planned, case, chosen)
    window = expected_days(chosen.coming) if chosen else (None, None)
    return ParcelPlan(
        parcel_id=case.parcel.id,
        code=case.parcel.code,
        answer=found.answer,
        day=chosen.day if chosen else None,
        way_id=chosen.way.id if chosen else None,
        arrival_from=window[0],
        arrival_to=window[1],
        loss_chance=figure(chosen.loss) if chosen else None,
        held=chosen is None,
        reasons=(
            *_with_warmth(case, found, around),
            *held.reasons,
            *(_of_source(source) if found.answer in BY_WEATHER else ()),
        ),
        weather_source=source,
        packing=_packed(options, planned).key,
        warn_at_c=warn_at(case, _packed(options, planned), around),
        strip=days,
        moved=held.moved,
        announced=held.announced,
        asked=held.asked,
        told_loss=held.told_loss,
        known=held.known,
    )


def _with_warmth(
    case: ParcelCase, found: PostingDecision, around: Circumstances
) -> tuple[PostingReason, ...]:
    """Say from when it is warm enough: first where the parcel waits, after its day where it is not ready."""
    if found.answer not in {PostingAnswer.WAIT, PostingAnswer.NOT_READY}:
        return found.reasons
    warm = warm_from(case, around)
    first = 1 if found.answer is PostingAnswer.NOT_READY else 0
    told = () if warm is None else (warm,)
    return (*found.reasons[:first], *told, *found.reasons[first:])


def _of_source(source: WeatherSource) -> tuple[PostingReason, ...]:
    about = {
        WeatherSource.CLIMATE: Topic.CLIMATE_ONLY,
        WeatherSource.BOTH: Topic.LATER_NIGHTS_CLIMATE,
    }
    return (PostingReason(about[source]),) if source in about else ()


def _packed(options: Sequence[Option], planned: PlannedDays) -> Packing:
    return options[0].packing if options else packing(planned.around.terms.default_packing)


def _source(planned: PlannedDays, case: ParcelCase, chosen: Option | None) -> WeatherSource:
    """Join the sources of the nights from posting to the last expected day at both ends.

    Where nothing is known of one end, the other alone says nothing of the parcel: the source is then NONE.
    """
    start = chosen.day if chosen else case.today
    end = expected_days(chosen.coming)[1] if chosen else planned.days[-1]
    span = [start + timedelta(days=n) for n in range((end - start).days + 1)]
    sources = []
    for place in (case.sender, case.receiver):
        outlook = planned.around.outlooks.get(place.id)
        nights = [outlook.night(day) for day in span] if outlook else []
        known = [night.source for night in nights if night is not None]
        if not known:
            return WeatherSource.NONE
        sources += known
    return source_of(sources)
