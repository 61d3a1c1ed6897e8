"""Sentences on one parcel: how it stands, what to do, when it comes, who sees where it goes."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, time
from types import MappingProxyType

from exchange.domain.arriving.arrival import ArrivalWindow, Condition, JourneyState
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.reasons import DayNote, DayWord
from exchange.domain.posting.strip import StripDay
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import NBSP, as_sentence, counted
from exchange.words.posting import posting_days as posting_words

_STANDS: Mapping[JourneyState, tuple[str, str, str]] = MappingProxyType(
    {
        JourneyState.NO_DAY: ("open", "no day yet", ""),
        JourneyState.NOT_READY: ("open", "not ready yet", ""),
        JourneyState.WAITS: ("held", "waits for weather", ""),
        JourneyState.NO_WAY: ("lost", "no way yet", "bad"),
        JourneyState.TO_COME: ("open", "planned", ""),
        JourneyState.TODAY: ("needs_you", "goes today", ""),
        JourneyState.PROBABLY_POSTED: ("part", "probably posted", ""),
        JourneyState.POSTED: ("given", "posted", "good"),
        JourneyState.OVERDUE: ("needs_you", "overdue", "bad"),
        JourneyState.ARRIVED: ("done", "came", "good"),
        JourneyState.LOST: ("lost", "lost", "bad"),
        JourneyState.RETURNED: ("held", "came back", "bad"),
    }
)
_CONDITIONS = {
    Condition.WELL: "all well",
    Condition.LIMP: "limp, but they should live",
    Condition.HURT: "hurt by cold, heat or knocks",
    Condition.DEAD: "dead",
}
_OTHER_END = {
    DayWord.FROST_HERE: DayWord.FROST_THERE,
    DayWord.COLD_HERE: DayWord.COLD_THERE,
    DayWord.COLDER_HERE: DayWord.COLDER_THERE,
}
_OTHER_END |= {there: here for here, there in _OTHER_END.items()}
_ONLY_SENDERS = frozenset({DayWord.OWN_DAYS, DayWord.AWAY_HERE, DayWord.DAY_FULL})


def stands(where: JourneyState) -> tuple[str, str, str]:
    """Give sign, word and tone of how a parcel stands."""
    sign, word, tone = _STANDS[where]
    return sign, word, tone


def condition(value: Condition) -> str:
    """Give "all well" or what else was seen on opening."""
    return _CONDITIONS[value]


def by_when(way_cut_off: time | None, today: date, day: date) -> str:
    """Give "by 4 pm" for a day that is today, else nothing."""
    if day != today or way_cut_off is None:
        return ""
    return f" by {dates.hour(way_cut_off)}"


def comes(expected: ArrivalWindow | None) -> str:
    """Give "It should come Wed 28 to Fri 30 April."."""
    if expected is None:
        return ""
    return f"It should come {dates.span(expected.first, expected.last)}."


_NOTES = {
    DayNote.WAITING_COSTS_MORE: "; waiting would cost more",
    DayNote.BEST: "; waiting would cost more",
    DayNote.TOLD: "; this day was told already",
}


def chance_of_harm(loss: float | None, note: DayNote = DayNote.NONE) -> str:
    """Give "2 in 100 such parcels come to harm; waiting would cost more."."""
    if loss is None:
        return ""
    return as_sentence(f"{in_hundred(loss)} such parcels come to harm{_NOTES.get(note, '')}")


def ended(arrived_on: date | None, told: str) -> str:
    """Say how the journey ended."""
    if told == ParcelState.RETURNED:
        return "It came back to its sender."
    if arrived_on is None:
        return "It never came."
    form = "It came on {day}: {condition}."
    return form.format(day=dates.day(arrived_on), condition=condition(Condition(told or "well")))


def is_senders_affair(value: StripDay) -> bool:
    """Say whether what shuts a day concerns the sender alone, and is told to nobody at the other end."""
    return value.word in _ONLY_SENDERS


def day_word(value: StripDay, *, side: str) -> str:
    """Give the word of a day as its "sender", its "receiver" or "neither" reads it.

    "Here" is the sender's end, except to the receiver.
    """
    if value.word is DayWord.OWN_DAYS and side == "sender":
        return "not your posting days"
    if value.word is DayWord.AWAY_HERE and side == "sender":
        return "does not suit you"
    if side == "receiver" and is_senders_affair(value):
        return "does not suit the sender"
    if side == "receiver":
        value = replace(value, word=_OTHER_END.get(value.word, value.word))
    return posting_words.day_word(value)


def spoken_word(value: StripDay, *, side: str) -> str:
    """Give the word of a day with what stands under its chance: "post; waiting costs more"."""
    word = day_word(value, side=side)
    return f"{word}; {value.note}" if value.note else word


def choose_a_day(*, has_shut: bool) -> str:
    """Say what can be done with the strip, and what its narrow days are."""
    narrow = (
        " Days on which it cannot go are narrow; the weather goes on over them." if has_shut else ""
    )
    return f"Choose a day to ask about it.{narrow}"


def safer_but(found: date, chosen: date, note: DayNote, *, told: bool, today: date) -> str:
    """Say why a safer day is not the posting day.

    Parameters
    ----------
    told : whether the posting day was told already
    """
    if told or note is DayNote.TOLD:
        return f"A little safer, but {dates.day(chosen)} was told already."
    if found <= today:
        return "A little safer, but a posting day is told by the evening before."
    if found < chosen:
        return f"{dates.day(found)} is a little safer, but other parcels go that day."
    return "A little safer, but waiting costs more than that."


def chance_in_cell(loss: float | None) -> tuple[str, str]:
    """Give ("5", "in 100"), for a cell of the strip with its number in front; nothing without a figure."""
    if loss is None:
        return "", ""
    number, _, rest = in_hundred(loss).replace(NBSP, " ").rpartition(" in ")
    return number, f"in {rest}"


def chance_spoken(loss: float | None) -> str:
    """Give the same as a screen reader says it."""
    return "" if loss is None else f"{in_hundred(loss)} would be lost"


def to_somebody(receiver: str) -> str:
    return f"to {receiver}"


def from_somebody(sender: str) -> str:
    return f"from {sender}"


def between(sender: str, receiver: str) -> str:
    return f"{sender} to {receiver}"


def goes(day: date, today: date, cut_off: time | None, *, by_hand: bool) -> str:
    """Give "Post it today by 4 pm." or "Post on Mon 12 April."."""
    form = {
        (False, False): "Post on {day}.",
        (False, True): "Post it today{by}.",
        (True, False): "Hand it over on {day}.",
        (True, True): "Hand it over today.",
    }[by_hand, day == today]
    return form.format(day=dates.day(day), by=by_when(cut_off, today, day))


def is_to_go(day: date, *, by_hand: bool) -> str:
    """Give the same for somebody other than the sender: "It is to be posted on Mon 12 April."."""
    form = "It is to be handed over on {day}." if by_hand else "It is to be posted on {day}."
    return form.format(day=dates.day(day))


def is_meant(day: date, announced_days: int, *, by_hand: bool) -> str:
    """Say about when a parcel goes whose day is not announced yet."""
    form = (
        "To be handed over {week}; the day is told at most {days} before."
        if by_hand
        else "To be posted {week}; the day is told at most {days} before."
    )
    days = counted(announced_days, "day", "days")
    return form.format(week=posting_words.about_week(day), days=days)


def probably_posted(day: date) -> str:
    return f"It was to go on {dates.day(day)}: probably posted, nobody has said."


def went(day: date) -> str:
    return f"Posted on {dates.day(day)}."


def overdue(last: date) -> str:
    return f"It should have come by {dates.day(last)}."


def weather_warning(*, known: bool) -> str:
    """Warn where an answer does not rest on a forecast."""
    if known:
        return "Reckoned from the climate of past years, not from a forecast: look again nearer the day."
    return "Neither a forecast nor the usual weather of one end is known, so it waits."


def lead_of_all(to_post: int, first: str, goes: str, to_come: int) -> str:
    """Count a household's parcels and name the first.

    Parameters
    ----------
    goes : "on Tue 13 April" or "about the week of Mon 12 April", empty where it has no day
    """
    parts = []
    if to_post and goes:
        parts.append(f"{to_post} to post, first {first} {goes}.")
    elif to_post:
        parts.append(f"{to_post} to post, none with a day yet.")
    if to_come:
        parts.append(f"{to_come} to come.")
    return " ".join(parts) or "Nothing to post and nothing to come."


def return_address(sender_allows: bool, *, own: bool) -> str:
    """Warn about the sender's address on the outside."""
    if sender_allows:
        return (
            "The label prints the return address, which the receiver then sees. My garden changes that."
            if own
            else "The label prints the return address; the receiver then sees it."
        )
    return (
        "Without a return address on the outside the carrier opens parcels that get lost; with one, "
        "the receiver sees it. It is printed only if the sender allows it."
    )


def clock(hour: float | None) -> time | None:
    """Give an hour of the day with its part, 16.5, as a time of day."""
    if hour is None:
        return None
    whole = int(hour)
    return time(whole % 24, round((hour - whole) * 60) % 60)
