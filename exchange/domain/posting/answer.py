"""The answer for one parcel: post on a day, wait, or no day yet, with its reasons."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from itertools import groupby

from exchange.domain.circle.border import Passage, passage
from exchange.domain.posting.announced import earliest_ahead, week_of
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.packing import usual_packing
from exchange.domain.posting.reasons import WEATHER_WORDS, DayWord, PostingReason, Topic
from exchange.domain.posting.stops import ready_from
from exchange.domain.posting.strip import StripDay, figure
from exchange.domain.weather.forecast import WeatherSource


class PostingAnswer(StrEnum):
    """What the sender is told; a parcel without a day is not ready, waits for weather, or has no way."""

    POST = "post"
    WAIT = "wait"
    NOT_READY = "not ready"
    NO_WAY = "no way"

    @classmethod
    def _missing_(cls, value: object) -> "PostingAnswer | None":
        """Read what older plans say; the next plan tells the two kinds apart."""
        return cls.NO_WAY if value == "no day yet" else None


@dataclass(frozen=True, slots=True)
class PostingDecision:
    """The answer with what led to it."""

    answer: PostingAnswer
    reasons: tuple[PostingReason, ...]


def verdict(
    case: ParcelCase,
    options: Sequence[Option],
    chosen: Option | None,
    days: Sequence[StripDay],
    around: Circumstances,
    *,
    announced: bool,
) -> PostingDecision:
    """Word the answer for a parcel as values.

    Parameters
    ----------
    days : the parcel's strip; those that can no longer be told are left out
    announced : whether the chosen day is announced; else it is named by its week
    """
    if not case.ways:
        return PostingDecision(
            PostingAnswer.NO_WAY, (PostingReason(Topic.NO_WAY, label=case.sender.country),)
        )
    soonest = _soonest(case)
    days = [day for day in days if day.day >= soonest]
    ready = ready_from(case.parcel)
    if chosen is None and ready > case.today:
        after = [day for day in days if day.day >= ready]
        return PostingDecision(
            PostingAnswer.NOT_READY, (PostingReason(Topic.READY_LATER, ready), *spells(after))
        )
    if chosen is not None:
        about, day = (Topic.CHOSEN, chosen.day) if announced else (Topic.ABOUT, week_of(chosen.day))
        first = PostingReason(about, day, number=figure(chosen.loss), label=chosen.way.name)
        earlier = [day for day in days if day.day < chosen.day]
        best = _best_in_reach(case, options, around) if _is_far(case, chosen, around) else ()
        return PostingDecision(
            PostingAnswer.POST, (first, *spells(earlier), *best, *_notes(case, chosen, around))
        )
    good = [one for one in options if one.allowed and one.day >= soonest]
    if good:
        reasons = (PostingReason(Topic.CROWDED, good[0].day), *spells(days))
        return PostingDecision(PostingAnswer.NO_WAY, reasons)
    if any(day.word in WEATHER_WORDS for day in days):
        last = days[-1].day
        reasons = (PostingReason(Topic.NO_GOOD_DAY, days[0].day, last), *spells(days))
        hints = (*_best_in_reach(case, options, around), *_long_wait(case, around))
        return PostingDecision(PostingAnswer.WAIT, (*reasons, *hints))
    return PostingDecision(PostingAnswer.NO_WAY, (*spells(days), *freeing(days)))


def _soonest(case: ParcelCase) -> date:
    """Give the first day of which both ends can still be told."""
    return case.today + timedelta(days=earliest_ahead(case.local_now.hour))


def spells(days: Sequence[StripDay]) -> tuple[PostingReason, ...]:
    """Gather days in a row that have the same word into one reason each.

    Days on which nothing is posted anyway neither count nor break a spell.
    """
    quiet = {DayWord.NO_POST, DayWord.OWN_DAYS, DayWord.PAST}
    counted = [day for day in days if day.word not in quiet] or list(days)
    gathered = []
    for (sort, label), run in groupby(counted, key=lambda day: (_sort(day.word), day.label)):
        held = list(run)
        word = held[0].word if len({day.word for day in held}) == 1 else sort
        losses = [day.loss for day in held if day.loss is not None]
        weather = word in WEATHER_WORDS or word in {DayWord.GOOD, DayWord.POST}
        number, highest = (min(losses), max(losses)) if losses and weather else (None, None)
        gathered.append(PostingReason(word, held[0].day, held[-1].day, number, label, highest))
    return tuple(gathered)


_COLD_SORTS = {
    DayWord.COLDER_HERE: DayWord.COLD_HERE,
    DayWord.COLDER_THERE: DayWord.COLD_THERE,
}


def _sort(word: DayWord) -> DayWord:
    """Take cold and colder at one end as one spell; frost is told apart."""
    return _COLD_SORTS.get(word, word)


def freeing(days: Sequence[StripDay]) -> tuple[PostingReason, ...]:
    """Name what would free a parcel without a day: the stops met, the most frequent first."""
    words = [day.word for day in days if day.word not in {DayWord.NO_POST, DayWord.PAST}]
    ranked = sorted(set(words), key=lambda word: (-words.count(word), word.value))
    return tuple(
        PostingReason(Topic.WOULD_FREE, number=words.count(word), label=word.value)
        for word in ranked
    )


def _notes(case: ParcelCase, chosen: Option, around: Circumstances) -> tuple[PostingReason, ...]:
    notes = []
    simplest = usual_packing(
        case.parcel.lines, case.receiver.letter_box, around.terms.default_packing
    )
    if chosen.packing.tau_h > simplest.tau_h:
        notes.append(PostingReason(Topic.WARMER_PACKING, label=chosen.packing.key))
    row = passage(case.sender, case.receiver, around.borders)
    if row.passage is Passage.NOTED:
        notes.append(PostingReason(Topic.NOTED_BORDER, label=row.authority))
    if not case.shelters:
        notes.append(PostingReason(Topic.NO_SHELTER_GIVEN))
    elif case.room is None:
        notes.append(PostingReason(Topic.NO_ROOM_GIVEN))
    return tuple(notes)


def _is_far(case: ParcelCase, chosen: Option, around: Circumstances) -> bool:
    """Say whether a day lies beyond the longest wait."""
    start = max(case.today, ready_from(case.parcel))
    return (chosen.day - start).days > around.terms.longest_wait


def _best_in_reach(
    case: ParcelCase, options: Sequence[Option], around: Circumstances
) -> tuple[PostingReason, ...]:
    """Offer, within the longest wait, the day of least loss among those that only their loss forbids."""
    start = max(case.today, ready_from(case.parcel))
    until = start + timedelta(days=around.terms.longest_wait)
    held = [
        one
        for one in options
        if one.stop is not None
        and one.stop.number == one.loss
        and _soonest(case) <= one.day <= until
    ]
    if not held:
        return ()
    best = min(held, key=lambda one: (one.loss, one.day))
    return (PostingReason(Topic.LEAST_RISKY, best.day, number=best.loss),)


def _long_wait(case: ParcelCase, around: Circumstances) -> tuple[PostingReason, ...]:
    since = case.parcel.waiting_since or ready_from(case.parcel)
    waited = (case.today - since).days
    if waited < around.terms.longest_wait:
        return ()
    return (PostingReason(Topic.LONG_WAIT, since, case.today, waited),)


def source_of(sources: Sequence[WeatherSource]) -> WeatherSource:
    """Join the sources of the nights behind an answer."""
    known = {one for one in sources if one is not WeatherSource.NONE}
    if not known:
        return WeatherSource.NONE
    return known.pop() if len(known) == 1 else WeatherSource.BOTH
