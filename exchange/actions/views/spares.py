"""What the pages of spares and claims show."""

from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.actor import Actor, circle_of, today_in
from exchange.actions.views.holders import household_labels
from exchange.domain.growing.batch import Material
from exchange.domain.growing.names import fold_accents
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.permissions import Permission, Subject
from exchange.records import CLAIMS, PLACES, SHARE_OUTS, SPARES, VARIETIES, Tx
from exchange.records.values import ClaimEntry, ShareOutEntry, SpareEntry

PAGE_OF_SPARES = 25


@dataclass(frozen=True, slots=True)
class Search:
    """What the list is narrowed to.

    Attributes
    ----------
    text : part of a name
    mine : only what the household lists itself
    left_only : only spares of which plants are left
    """

    text: str = ""
    species: Species | None = None
    material: Material | None = None
    mine: bool = False
    left_only: bool = False
    page: int = 1


@dataclass(frozen=True, slots=True)
class SpareLine:
    """One spare as the list shows it.

    Attributes
    ----------
    holder : first names and county
    left : plants not promised yet [plants]
    claims : open claims on the variety [claims]
    my_claim : the reader's own open claim on the variety, or None
    """

    spare: SpareEntry
    variety: Variety
    holder: str
    left: int
    claims: int
    mine: bool
    my_claim: ClaimEntry | None
    set_aside_for: str


@dataclass(frozen=True, slots=True)
class SparesPage:
    """The list of spares."""

    lines: tuple[SpareLine, ...]
    found: int
    all_together: int
    pages: int
    search: Search
    share_out: ShareOutEntry | None
    today: date


def spares_page(actor: Actor, search: Search, now: datetime) -> SparesPage:
    """Show the spares the search narrows to, a page of them."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        lines = _lines(tx, actor)
        today = today_in(circle_of(actor, tx), now)
        share_out = open_share_out(tx, actor.circle_id)
    found = tuple(line for line in lines if _fits(line, search))
    pages = max(1, -(-len(found) // PAGE_OF_SPARES))
    page = min(max(1, search.page), pages)
    part = found[(page - 1) * PAGE_OF_SPARES : page * PAGE_OF_SPARES]
    return SparesPage(part, len(found), len(lines), pages, search, share_out, today)


def spare_page(actor: Actor, spare_id: int, now: datetime) -> tuple[SpareLine, date]:
    """Show one spare and the circle's date."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        SPARES.get(tx, actor.circle_id, spare_id)
        line = next(one for one in _lines(tx, actor, withdrawn=True) if one.spare.id == spare_id)
        return line, today_in(circle_of(actor, tx), now)


def open_share_out(tx: Tx, circle_id: int) -> ShareOutEntry | None:
    """Give the share-out that is open or being looked at, the first to close."""
    running = SHARE_OUTS.all(tx, circle_id, state={"open", "worked_out"})
    return running[0] if running else None


def _lines(tx: Tx, actor: Actor, *, withdrawn: bool = False) -> tuple[SpareLine, ...]:
    circle_id = actor.circle_id
    where = {} if withdrawn else {"withdrawn_at": None}
    spares = SPARES.all(tx, circle_id, **where)
    varieties = VARIETIES.by_id(tx, circle_id)
    labels = household_labels(tx, circle_id)
    claims = CLAIMS.all(tx, circle_id, withdrawn_at=None, set_aside=False)
    asked = Counter(entry.variety_id for entry in claims)
    own = {one.variety_id: one for one in claims if one.household_id == actor.household_id}
    lines = [
        SpareLine(
            spare,
            varieties[spare.variety_id],
            labels.get(spare.household_id, ""),
            spare.count - spare.allocated,
            asked[spare.variety_id],
            spare.household_id == actor.household_id,
            own.get(spare.variety_id),
            labels.get(spare.set_aside_for, "") if spare.set_aside_for else "",
        )
        for spare in spares
        if _may_see(actor, spare)
    ]
    lines.sort(key=lambda one: (fold_accents(one.variety.name), one.spare.id))
    return tuple(lines)


def _may_see(actor: Actor, spare: SpareEntry) -> bool:
    """Show a spare set aside to the two households it concerns and the organiser only."""
    if spare.set_aside_for is None or actor.organiser or actor.clock:
        return True
    return actor.household_id in {spare.household_id, spare.set_aside_for}


def _fits(line: SpareLine, search: Search) -> bool:
    wanted = fold_accents(search.text)
    return (
        (not wanted or wanted in fold_accents(line.variety.name))
        and search.species in (None, line.variety.species)
        and search.material in (None, line.spare.material)
        and (line.mine or not search.mine)
        and (line.left > 0 or not search.left_only)
    )


@dataclass(frozen=True, slots=True)
class Choices:
    """What a form offers to choose from."""

    varieties: tuple[Variety, ...]
    places: tuple[tuple[int, str], ...]
    households: tuple[tuple[int, str], ...]
    today: date


def choices(actor: Actor, now: datetime) -> Choices:
    """Give what the forms of spares and claims offer."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        labels = household_labels(tx, actor.circle_id)
        others = [(key, label) for key, label in labels.items() if key != actor.household_id]
        places = PLACES.all(tx, actor.circle_id, household_id=actor.own_household())
        return Choices(
            VARIETIES.all(tx, actor.circle_id),
            tuple((place.id, f"{place.name}, {place.town}") for place in places),
            tuple(sorted(others, key=lambda one: one[1])),
            today_in(circle_of(actor, tx), now),
        )
