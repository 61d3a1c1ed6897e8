"""What the page of claims shows: one's own, and for growers what nobody offers."""

from collections import Counter
from dataclasses import dataclass
from datetime import datetime

from exchange.actions.actor import Actor
from exchange.actions.views.spares import open_share_out
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject
from exchange.records import ALLOCATIONS, ANSWERS, CLAIMS, SPARES, VARIETIES, Tx
from exchange.records.values import Allocation, Answer, ClaimEntry, ShareOutEntry


@dataclass(frozen=True, slots=True)
class ClaimLine:
    """One claim.

    Attributes
    ----------
    given : plants promised to it so far [plants]
    answer : what the last share-out said of it, or None
    offered : whether anybody lists the variety now
    """

    claim: ClaimEntry
    variety: Variety
    alternatives: tuple[Variety, ...]
    given: int
    answer: Answer | None
    offered: bool
    allocations: tuple[Allocation, ...]


@dataclass(frozen=True, slots=True)
class Wish:
    """A variety that is claimed and not offered enough.

    Attributes
    ----------
    asked : plants asked for by open claims [plants]
    offered : plants left on the list [plants]
    """

    variety: Variety
    asked: int
    offered: int


@dataclass(frozen=True, slots=True)
class ClaimsPage:
    """A household's claims and the wishes nobody can meet."""

    lines: tuple[ClaimLine, ...]
    wishes: tuple[Wish, ...]
    share_out: ShareOutEntry | None


def claims_page(actor: Actor, now: datetime) -> ClaimsPage:  # noqa: ARG001  # every act takes now
    """Show the household's claims and what the circle wishes for in vain."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        everything = CLAIMS.all(tx, actor.circle_id, withdrawn_at=None)
        own = [one for one in everything if one.household_id == actor.household_id]
        return ClaimsPage(
            _lines(tx, actor.circle_id, own),
            _wishes(tx, actor.circle_id, everything),
            open_share_out(tx, actor.circle_id),
        )


def claim_page(actor: Actor, claim_id: int) -> ClaimLine:
    """Show one claim."""
    with actor.books.reading() as tx:
        entry = CLAIMS.get(tx, actor.circle_id, claim_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=entry.household_id))
        return _lines(tx, actor.circle_id, [entry])[0]


def _lines(tx: Tx, circle_id: int, claims: list[ClaimEntry]) -> tuple[ClaimLine, ...]:
    varieties = VARIETIES.by_id(tx, circle_id)
    offered = {spare.variety_id for spare in SPARES.all(tx, circle_id, withdrawn_at=None)}
    ids = {one.id for one in claims}
    answers = {one.claim_id: one for one in ANSWERS.all(tx, circle_id, claim_id=ids)}
    standing: dict[int, list[Allocation]] = {}
    for one in ALLOCATIONS.all(tx, circle_id, claim_id=ids, state={"confirmed", "agreed"}):
        standing.setdefault(one.claim_id, []).append(one)
    return tuple(
        ClaimLine(
            one,
            varieties[one.variety_id],
            tuple(varieties[other] for other in one.alternatives if other in varieties),
            sum(part.count for part in standing.get(one.id, ())),
            answers.get(one.id),
            one.variety_id in offered,
            tuple(standing.get(one.id, ())),
        )
        for one in sorted(claims, key=lambda entry: (entry.choice, entry.id))
    )


def _wishes(tx: Tx, circle_id: int, claims: tuple[ClaimEntry, ...]) -> tuple[Wish, ...]:
    varieties = VARIETIES.by_id(tx, circle_id)
    given = Counter[int]()
    for part in ALLOCATIONS.all(tx, circle_id, state={"confirmed", "agreed"}):
        given[part.claim_id] += part.count
    asked, offered = Counter[int](), Counter[int]()
    for one in claims:
        if not one.set_aside:
            asked[one.variety_id] += max(0, one.asked - given[one.id])
    for spare in SPARES.all(tx, circle_id, withdrawn_at=None):
        if spare.set_aside_for is None and not spare.held:
            offered[spare.variety_id] += spare.count - spare.allocated
    short = [
        Wish(varieties[key], plants, offered[key])
        for key, plants in asked.items()
        if plants > offered[key]
    ]
    short.sort(key=lambda wish: (wish.offered - wish.asked, wish.variety.name))
    return tuple(short)
