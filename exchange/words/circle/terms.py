"""The circle's terms in the growers' words: each with what it means, and its value as it is said."""

from collections.abc import Collection
from datetime import date
from enum import StrEnum
from typing import Any

from exchange.words.kernel import dates
from exchange.words.kernel.chances import exact_in_hundred
from exchange.words.kernel.phrase import NBSP, counted, listed
from exchange.words.people.places import weekday_words
from exchange.words.posting import posting_days

_LEAP_YEAR = 2028


class Said(StrEnum):
    """How the value of a term is said and asked for."""

    IN_HUNDRED = "in a hundred"
    DAYS = "days"
    NIGHTS = "nights"
    PLANTS = "plants"
    PLACES = "places"
    DEGREES = "degrees"
    TIMES = "times"
    YES_NO = "yes or no"
    DAY_OF_YEAR = "day of the year"
    WEEKDAYS = "weekdays"
    PACKING = "packing"


_TERMS = {
    "unrooted_quick": (
        "Unrooted cuttings: days for a quick way",
        "They wilt within days, so they must not lie in a depot over Sunday.",
    ),
    "unrooted_slow": (
        "Unrooted cuttings: days for any other way",
        "By a slow way they seldom come fresh; no day means never.",
    ),
    "green_quick": (
        "Rooted cuttings and young plants: days for a quick way",
        "From Thursday on a parcel may lie over Sunday.",
    ),
    "green_slow": (
        "Rooted cuttings and young plants: days for any other way",
        "A slow way needs the whole week before it.",
    ),
    "resting_quick": (
        "Tubers, divisions and the like: days for a quick way",
        "They bear more, but frost in a depot ends them too.",
    ),
    "resting_slow": (
        "Tubers, divisions and the like: days for any other way",
        "Early in the week, so that they come before Sunday.",
    ),
    "closed_from": (
        "First day of the closed season",
        "From this day nothing goes by post; by hand always may.",
    ),
    "closed_until": (
        "Last day of the closed season",
        "After this day parcels go by post again, where the weather allows.",
    ),
    "loss_limit": (
        "A parcel waits above a chance of loss of",
        "A smaller chance makes parcels wait longer and lose less.",
    ),
    "loss_limit_kept": (
        "With something that must not be lost, above",
        "Stricter, since nobody can send it a second time.",
    ),
    "waiting_price": (
        "A day’s waiting counts as much as losing a plant by",
        "The more a day counts, the sooner parcels go in middling weather.",
    ),
    "announced_days": (
        "A day is told at most so long before posting",
        "Until then a parcel is “about the week of”, since forecasts still change.",
    ),
    "announced_held": (
        "A day already told is held until its chance of loss passes the limit",
        "Below that a worse forecast moves nothing, since the next may be better again.",
    ),
    "announced_gain": (
        "A day already told moves only where another is safer by",
        "Counted for the plants most in danger, so that no new day is told for next to nothing.",
    ),
    "longest_wait": (
        "Longest wait",
        "After it the organiser is asked: by hand, grow on, the reserve, or later.",
    ),
    "rest_limit": (
        "Green plants wait above a chance of lying over a Sunday or holiday of",
        "A box that lies two days in the dark harms cuttings more than young plants.",
    ),
    "shelter_nights": (
        "Nights after arrival that count",
        "In so many first nights the receiver’s shelter must hold what the plants bear.",
    ),
    "default_packing": (
        "Packing unless another is needed",
        "Weighed for every parcel; a colder night asks for a better one.",
    ),
    "packed_at_c": (
        "Where parcels are packed it is about",
        "The box starts its way as warm as that.",
    ),
    "most_contested": (
        "Most of one contested variety for a household",
        "Contested means that more is claimed than offered.",
    ),
    "shift": (
        "A household that gave more than it received may be ahead by",
        "Newcomers count as givers. None means that only need counts.",
    ),
    "first_refusal": (
        "Who gave comes first for a first plant",
        "Of a contested variety, before those who have not given yet.",
    ),
    "target_places": (
        "What must not be lost should stand in",
        "In fewer places than that, rule 1 works for it. Left empty, each variety’s own number counts.",
    ),
}


def title(key: str) -> str:
    """Give what a term is called."""
    return _TERMS[key][0]


def meaning(key: str) -> str:
    """Give what a term does, in one sentence."""
    return _TERMS[key][1]


def said(how: Said, value: Any) -> str:
    """Give the value of a term as it is read."""
    if how is Said.IN_HUNDRED:
        return exact_in_hundred(value)
    if how is Said.YES_NO:
        return "yes" if value else "no"
    if how is Said.DEGREES:
        return dates.degrees(value)
    if how is Said.TIMES:
        return f"{value:g}{NBSP}times"
    if how is Said.DAY_OF_YEAR:
        return f"{value[1]}{NBSP}{dates.month(date(_LEAP_YEAR, *value))}"
    if how is Said.WEEKDAYS:
        return weekdays(value)
    if how is Said.PACKING:
        return posting_days.packing(value)
    return _counted(how, value)


def _counted(how: Said, value: int | None) -> str:
    if value is None:
        return "as each variety says"
    one, many = {
        Said.DAYS: ("day", "days"),
        Said.NIGHTS: ("night", "nights"),
        Said.PLACES: ("place", "places"),
        Said.PLANTS: ("plant", "plants"),
    }[how]
    return counted(value, one, many)


def weekdays(days: Collection[int]) -> str:
    """Give "Mon to Wed" or "Mon and Thu"; no day is "never"."""
    if not days:
        return "never"
    if len(days) == 7:
        return "any day"
    wanted = sorted(days)
    names = [weekday_words(one)[:3] for one in wanted]
    if len(wanted) > 2 and wanted[-1] - wanted[0] == len(wanted) - 1:
        return f"{names[0]} to {names[-1]}"
    return listed(names)
