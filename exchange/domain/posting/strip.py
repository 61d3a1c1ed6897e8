"""The posting strip: three weeks of days, each with a word first and the figures behind it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.danger import danger
from exchange.domain.posting.options import Option, ParcelCase, days_from
from exchange.domain.posting.planned_days import PlannedDays
from exchange.domain.posting.reasons import WEIGHED_WORDS, DayNote, DayWord
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.transit import ArrivalChance, chance_next_day, chance_over_rest


@dataclass(frozen=True, slots=True)
class StripDay:
    """One day of the strip.

    Attributes
    ----------
    word : said first
    label : name of the holiday or authority, may be empty
    loss : chance of losing the line most in danger, None where the weather is unknown
    way_id : the way these figures are for, None where no way is known
    box_middle, box_tenth : lowest temperature in the box, median and 1 in 10 [degrees C]
    next_day, over_rest : chance of coming the next day, of lying over a Sunday or holiday
    coming : the days on which it may come, with their chances
    chosen : whether this is the posting day
    note : of the posting day: why it stands although another day looks as good or better
    """

    day: date
    word: DayWord
    label: str = ""
    loss: float | None = None
    way_id: int | None = None
    box_middle: float | None = None
    box_tenth: float | None = None
    next_day: float | None = None
    over_rest: float | None = None
    coming: tuple[ArrivalChance, ...] = ()
    chosen: bool = False
    note: DayNote = DayNote.NONE


_TAKEN = frozenset({DayWord.DAY_FULL, DayWord.ONE_A_DAY})
"""Words of days that would do but for other parcels of the sender."""


def figure(value: float) -> float | None:
    """Give a figure, or None where it is not a number."""
    return None if math.isnan(value) else value


def best_of_day(options: Sequence[Option]) -> Option:
    """Give the option that speaks for a day: the allowed one of least loss, or the nearest to allowed."""
    return min(options, key=_rank)


def _rank(option: Option) -> tuple[bool, bool, float, int]:
    loss = math.inf if math.isnan(option.loss) else option.loss
    stop = option.stop
    # What would do but for other parcels says more of its day than a way on which more would be lost.
    near = stop is not None and (stop.number is not None or stop.word in _TAKEN)
    return (not option.allowed, not near, loss, option.way.id)


def strip(
    planned: PlannedDays, case: ParcelCase, options: Sequence[Option], chosen: Option | None
) -> tuple[StripDay, ...]:
    """Lay out the days from the sender's today; the posting day and the others by one rule."""
    around = planned.around
    if not options:
        blank = days_from(case.today, around.terms.horizon)
        return tuple(StripDay(day, DayWord.NO_POST) for day in blank)
    closures = around.closures_at(case.receiver)
    days = sorted({one.day for one in options if one.day >= case.today})[: around.terms.horizon]
    laid = []
    for day in days:
        here = [one for one in options if one.day == day]
        picked = chosen if chosen is not None and chosen.day == day else best_of_day(here)
        is_chosen = chosen is not None and picked is chosen
        laid.append(
            StripDay(
                day=day,
                word=DayWord.POST if is_chosen else _word(planned, case, picked, chosen),
                label=picked.stop.label if picked.stop else "",
                loss=figure(picked.loss),
                way_id=picked.way.id,
                box_middle=figure(picked.box_middle),
                box_tenth=figure(picked.box_tenth),
                next_day=chance_next_day(picked.coming, day),
                over_rest=chance_over_rest(picked.coming, day, closures),
                coming=picked.coming,
                chosen=is_chosen,
                note=_note(case, options, picked, around) if is_chosen else DayNote.NONE,
            )
        )
    return tuple(laid)


def _word(planned: PlannedDays, case: ParcelCase, option: Option, chosen: Option | None) -> DayWord:
    if option.stop is not None and option.stop.word not in WEIGHED_WORDS:
        return option.stop.word
    # As good as the posting day: a gain for which no announced day would be moved.
    enough = chosen is None or option.loss < chosen.loss + planned.around.terms.announced_gain
    if enough and option.loss <= loss_limit(case.parcel, planned.around):
        return DayWord.GOOD
    return danger(planned, case, option, chosen)


def _note(
    case: ParcelCase, options: Sequence[Option], chosen: Option, around: Circumstances
) -> DayNote:
    """Say why the posting day stands, where it is over the limit or a later day is safer."""
    told = case.parcel.announced_day == chosen.day
    if told and case.parcel.by_person:
        return DayNote.BY_PERSON
    if math.isnan(chosen.loss):
        return DayNote.TOLD if told else DayNote.NONE
    if chosen.loss > loss_limit(case.parcel, around):
        return DayNote.TOLD if told else DayNote.BEST
    said = round(chosen.loss * 100)
    later = [one for one in options if one.allowed and one.day > chosen.day]
    safer = [one for one in later if round(one.loss * 100) < said]
    if not safer:
        return DayNote.NONE
    wait = around.terms.waiting_price
    if all(one.lost + wait * (one.day - chosen.day).days >= chosen.lost for one in safer):
        return DayNote.WAITING_COSTS_MORE
    return DayNote.TOLD if told else DayNote.NONE
