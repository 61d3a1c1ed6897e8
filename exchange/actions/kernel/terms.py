"""The circle's terms as recorded: what it changed, as plain values over the defaults.

A note that cannot be read, or names an unknown term, is passed over: an old note never
stops a plan.
"""

from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from typing import Any, TypeVar

from exchange.domain.growing.batch import Material
from exchange.domain.posting.circumstances import PostingDays, PostingTerms
from exchange.domain.sharing import case as sharing
from exchange.records.columns import to_plain
from exchange.records.rows.circle import CircleRow

HIDDEN_UP_TO = 15
"""Up to this size of circle, given and received are hidden and shift nothing [members]."""

AnyTerms = PostingTerms | sharing.SharingTerms
Kept = TypeVar("Kept", PostingTerms, sharing.SharingTerms)


def is_small(circle: CircleRow) -> bool:
    """Say whether the circle is small enough to go without ceremony."""
    return circle.about_how_many <= HIDDEN_UP_TO


def posting_terms(circle: CircleRow) -> PostingTerms:
    """Give the circle's terms for posting: the defaults with what the circle changed."""
    return restored(PostingTerms(), circle.terms.get("posting"))


def sharing_terms(circle: CircleRow) -> sharing.SharingTerms:
    """Give the circle's terms for sharing out: the defaults with what the circle changed."""
    return restored(usual_sharing(circle), circle.terms.get("sharing"))


def usual_sharing(circle: CircleRow) -> sharing.SharingTerms:
    """Give the defaults for sharing out; in a small circle past giving shifts nothing."""
    return sharing.SharingTerms(shift=0) if is_small(circle) else sharing.SharingTerms()


def restored(usual: Kept, changed: object) -> Kept:
    """Give the defaults with plain changes laid over them."""
    if not isinstance(changed, Mapping):
        return usual
    values: dict[str, Any] = {}
    for field in fields(usual):
        if field.name in changed:
            try:
                values[field.name] = _reader(field.name, usual)(changed[field.name])
            except (TypeError, ValueError, KeyError, AttributeError):
                continue
    return replace(usual, **values)


def changes(usual: AnyTerms, wanted: AnyTerms) -> dict[str, Any]:
    """Give what differs from the defaults, as plain values."""
    found: dict[str, Any] = {}
    for field in fields(usual):
        was, value = getattr(usual, field.name), getattr(wanted, field.name)
        if value == was:
            continue
        if isinstance(value, Mapping):
            found[field.name] = {
                key.value: to_plain(one) for key, one in value.items() if was.get(key) != one
            }
        else:
            found[field.name] = to_plain(value)
    return found


def _reader(name: str, usual: AnyTerms) -> Callable[[Any], Any]:
    value = getattr(usual, name)
    if isinstance(value, Mapping):
        return lambda plain: {**value, **_posting_days(plain)}
    if isinstance(value, tuple):
        return _day_of_year
    if isinstance(value, bool):
        return _yes_no
    if name == "target_places":
        return lambda plain: None if plain is None else int(plain)
    kind: Callable[[Any], Any] = type(value)
    return kind


def _yes_no(plain: object) -> bool:
    if not isinstance(plain, bool):
        raise TypeError(plain)
    return plain


def _day_of_year(plain: Any) -> tuple[int, int]:
    month, day = plain
    return int(month), int(day)


def _posting_days(plain: Mapping[str, Mapping[str, list[int]]]) -> dict[Material, Any]:
    return {
        Material(key): PostingDays(frozenset(one["quick"]), frozenset(one["slow"]))
        for key, one in plain.items()
    }
