"""One person entered as two members: what moves when the one is merged into the other."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from exchange.domain.circle.moves import Move, Plain, changed


@dataclass(frozen=True, slots=True)
class Entered:
    """A member as entered.

    Attributes
    ----------
    said : what is said of the person [column -> value]; what is empty in the one kept is taken from the other
    account_id : the sign-in, or None
    """

    id: int
    household_id: int
    account_id: int | None
    organiser: bool
    said: Mapping[str, Plain]


@dataclass(frozen=True, slots=True)
class Belonging:
    """A row that names the household or the member: "spare" 7 by its column "household_id"."""

    noun: str
    row_id: int
    column: str


@dataclass(frozen=True, slots=True)
class Belongings:
    """What goes along.

    Attributes
    ----------
    of_member : rows that name the member merged
    links_ending : links that let only the member merged in
    of_household : rows that name the household, empty where somebody else still lives there
    doubled : claims of the household merged on what the household kept waits for too
    place_names : places that have to be called otherwise [place id -> name now, name from then on]
    lent : what the household kept does not say of itself and the other does [column -> value now, value from then on]
    """

    of_member: tuple[Belonging, ...] = ()
    links_ending: tuple[int, ...] = ()
    of_household: tuple[Belonging, ...] = ()
    doubled: tuple[int, ...] = ()
    place_names: Mapping[int, tuple[str, str]] | None = None
    lent: Mapping[str, tuple[Plain, Plain]] | None = None


def merge_members(
    kept: Entered,
    merged: Entered,
    belongings: Belongings,
    at: str,
    ends: Mapping[str, Plain] | None,
) -> tuple[Move, ...]:
    """Give what moves when a member is merged into another, in an order in which it can be done.

    Parameters
    ----------
    at : the instant of the act, as ISO 8601 writes it
    ends : how the household merged ends [column -> value]; None where somebody else still lives there
    """
    return changed(
        (
            *_rows(belongings.of_member, merged.id, kept.id),
            *(Move("one_time_link", one, "used_at", None, at) for one in belongings.links_ending),
            *_rows(belongings.of_household, merged.household_id, kept.household_id),
            *(Move("claim", one, "withdrawn_at", None, at) for one in belongings.doubled),
            *(
                Move("place", one, "name", *names)
                for one, names in (belongings.place_names or {}).items()
            ),
            *(
                Move("household", kept.household_id, column, *values)
                for column, values in (belongings.lent or {}).items()
            ),
            *(
                Move("household", merged.household_id, column, None, value)
                for column, value in (ends or {}).items()
            ),
            *_person(kept, merged, at),
        )
    )


def _rows(rows: tuple[Belonging, ...], before: int, after: int) -> Iterator[Move]:
    for one in rows:
        yield Move(one.noun, one.row_id, one.column, before, after)


def _person(kept: Entered, merged: Entered, at: str) -> Iterator[Move]:
    """Let the person merged leave, and the one kept have what only the other had."""
    yield Move("member", merged.id, "account_id", merged.account_id, None)
    yield Move("member", merged.id, "organiser", merged.organiser, False)
    yield Move("member", merged.id, "left_at", None, at)
    yield Move("member", merged.id, "merged_into", None, kept.id)
    signs_in_anew = kept.account_id is None and merged.account_id is not None
    if signs_in_anew:
        yield Move("member", kept.id, "account_id", None, merged.account_id)
    for column, value in merged.said.items():
        standing = kept.said[column]
        if value and (not standing or (column == "email" and signs_in_anew)):
            yield Move("member", kept.id, column, standing, value)
    if merged.organiser:
        yield Move("member", kept.id, "organiser", kept.organiser, True)
