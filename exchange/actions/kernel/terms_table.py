"""The table of what a circle may settle for itself: one row per term, with its limits."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.terms import AnyTerms
from exchange.domain.growing.batch import RESTING, Material
from exchange.domain.posting.circumstances import PostingDays, PostingTerms
from exchange.domain.posting.packing import PACKINGS
from exchange.words.circle.terms import Said

POSTING, SHARING = "posting", "sharing"
_GREEN = frozenset({Material.ROOTED, Material.YOUNG_PLANT})
_DAYS_IN_MONTH = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


class TermRefusedError(RefusedError):
    """The value is not allowed; the sentence says which are."""


@dataclass(frozen=True, slots=True)
class Term:
    """One thing a circle may settle.

    Attributes
    ----------
    part : "posting" or "sharing"
    least, most : smallest and largest value, in the unit it is said in
    field : its name among the domain's terms
    materials, quick : for posting days, whose they are and whether for a quick way
    """

    key: str
    part: str
    how: Said
    least: float = 0
    most: float = 0
    field: str = ""
    materials: frozenset[Material] = frozenset()
    quick: bool = False

    @property
    def name(self) -> str:
        return self.field or self.key


def _days(key: str, materials: frozenset[Material]) -> tuple[Term, Term]:
    return (
        Term(f"{key}_quick", POSTING, Said.WEEKDAYS, 0, 6, "posting_days", materials, quick=True),
        Term(f"{key}_slow", POSTING, Said.WEEKDAYS, 0, 6, "posting_days", materials),
    )


TERMS = (
    *_days("unrooted", frozenset({Material.UNROOTED})),
    *_days("green", _GREEN),
    *_days("resting", RESTING),
    Term("closed_from", POSTING, Said.DAY_OF_YEAR),
    Term("closed_until", POSTING, Said.DAY_OF_YEAR),
    Term("loss_limit", POSTING, Said.IN_HUNDRED, 0.1, 50),
    Term("loss_limit_kept", POSTING, Said.IN_HUNDRED, 0.1, 50),
    Term("waiting_price", POSTING, Said.IN_HUNDRED, 0.01, 10),
    Term("announced_days", POSTING, Said.DAYS, 1, 14),
    Term("announced_held", POSTING, Said.TIMES, 1, 5),
    Term("announced_gain", POSTING, Said.IN_HUNDRED, 0.01, 50),
    Term("longest_wait", POSTING, Said.DAYS, 1, 90),
    Term("rest_limit", POSTING, Said.IN_HUNDRED, 0.1, 50),
    Term("shelter_nights", POSTING, Said.NIGHTS, 1, 21),
    Term("default_packing", POSTING, Said.PACKING),
    Term("packed_at_c", POSTING, Said.DEGREES, 0, 25),
    Term("most_contested", SHARING, Said.PLANTS, 1, 50),
    Term("shift", SHARING, Said.PLANTS, 0, 10),
    Term("first_refusal", SHARING, Said.YES_NO),
    Term("target_places", SHARING, Said.PLACES, 1, 50),
)


def term(key: str) -> Term:
    """Give a term by its key.

    Raises
    ------
    KeyError
        When there is none.
    """
    return _BY_KEY[key]


_BY_KEY = {one.key: one for one in TERMS}


def value_of(one: Term, terms: AnyTerms) -> Any:
    """Give a term's value as members say it: "in 100" as a number, weekdays as a set."""
    kept = getattr(terms, one.name)
    if one.how is Said.IN_HUNDRED:
        return round(100 * kept, 2)
    if one.how is Said.WEEKDAYS:
        days = kept.get(min(one.materials), PostingDays(frozenset(range(7)), frozenset(range(7))))
        return days.quick if one.quick else days.slow
    return kept


def with_value(one: Term, terms: AnyTerms, value: Any) -> AnyTerms:
    """Give the terms with one of them changed.

    Raises
    ------
    TermRefusedError
        When the value is not allowed.
    """
    check: Callable[[Term, Any], Any] = _CHECKS.get(one.how, _number)
    checked = check(one, value)
    if one.how is Said.IN_HUNDRED:
        checked = checked / 100
    changed: dict[str, Any] = {one.name: checked}
    if one.how is Said.WEEKDAYS:
        changed = {one.name: _days_changed(one, getattr(terms, one.name), checked)}
    if isinstance(terms, PostingTerms):
        return replace(terms, **changed)
    return replace(terms, **changed)


def _days_changed(
    one: Term, days: Mapping[Material, PostingDays], wanted: frozenset[int]
) -> dict[Material, PostingDays]:
    found = dict(days)
    for material in one.materials:
        before = found.get(material, PostingDays(frozenset(), frozenset()))
        found[material] = (
            replace(before, quick=wanted) if one.quick else replace(before, slow=wanted)
        )
    return found


def _number(one: Term, value: Any) -> int | None:
    if value is None and one.how is Said.PLACES:
        return None
    if value is None or not one.least <= value <= one.most:
        raise TermRefusedError(
            f"Write a whole number from {one.least} to {one.most}.",
            "value",
        )
    return int(value)


def _figure(one: Term, value: Any) -> float:
    if value is None or not one.least <= value <= one.most:
        raise TermRefusedError(f"Write a number from {one.least:g} to {one.most:g}.", "value")
    return round(float(value), 2)


def _weekdays(_one: Term, value: Any) -> frozenset[int]:
    days = frozenset(value or ())
    if not days <= frozenset(range(7)):
        raise TermRefusedError("Tick days of the week.", "value")
    return days


def _day_of_year(_one: Term, value: Any) -> tuple[int, int]:
    month, day = value
    if not (1 <= month <= 12 and 1 <= day <= _DAYS_IN_MONTH[month - 1]):
        raise TermRefusedError("There is no such day in that month.", "day")
    return month, day


def _packing(_one: Term, value: Any) -> str:
    if value not in {one.key for one in PACKINGS}:
        raise TermRefusedError("Choose one of the packings.", "value")
    return str(value)


def _degrees(one: Term, value: Any) -> float:
    return float(_number(one, value) or 0)


def _yes_no(_one: Term, value: Any) -> bool:
    return bool(value)


_CHECKS: dict[Said, Callable[[Term, Any], Any]] = {
    Said.IN_HUNDRED: _figure,
    Said.TIMES: _figure,
    Said.WEEKDAYS: _weekdays,
    Said.DAY_OF_YEAR: _day_of_year,
    Said.PACKING: _packing,
    Said.DEGREES: _degrees,
    Said.YES_NO: _yes_no,
}
