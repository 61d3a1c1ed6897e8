"""The share-out as members see it: the draw, what it decides, one's own given and received."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.terms import is_small, sharing_terms
from exchange.actions.sharing.share_out_case import given_and_received
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.domain.sharing.draw import order_of_ties
from exchange.domain.sharing.instance import case_from
from exchange.domain.sharing.measure import lead
from exchange.domain.sharing.states import UNCONFIRMED, ShareOutState
from exchange.records import CLAIMS, SHARE_OUTS, VARIETIES, Tx
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.sharing.given_and_received import lead_sentence


@dataclass(frozen=True, slots=True)
class TieLine:
    """The order in which the claims on one variety win a tie, by their numbers; nobody is named.

    Attributes
    ----------
    mine : the reader's own claims among them
    """

    variety: Variety
    order: tuple[int, ...]
    mine: frozenset[int]


@dataclass(frozen=True, slots=True)
class DrawPage:
    """The draw of the share-out now running, or of the last one.

    Attributes
    ----------
    number : empty before the closing day
    ties : for each variety with more than one claim, once confirmed
    own_balance : plants given and received by the reader's household, None where hidden
    lead : whether that lets the household come earlier or later, and why; empty when it does neither
    """

    share_out: ShareOutRow | None
    number: str
    ties: tuple[TieLine, ...]
    own_balance: tuple[int, int] | None
    lead: str
    small: bool
    today: date


def draw_page(actor: Actor, now: datetime) -> DrawPage:
    """Show the draw of the latest share-out."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        circle = circle_of(actor, tx)
        today, small = today_in(circle, now), is_small(circle)
        known = SHARE_OUTS.all(tx, actor.circle_id, state=UNCONFIRMED | {ShareOutState.CONFIRMED})
        last = max(known, key=lambda one: (one.closes_on, one.id)) if known else None
        own = None if small else _own_balance(tx, actor)
        shown = last is not None and today >= last.closes_on
        return DrawPage(
            last,
            last.draw_number if last and shown else "",
            _ties(tx, actor, last) if last and shown else (),
            own,
            lead_sentence(lead(sharing_terms(circle), *own)) if own else "",
            small,
            today,
        )


def _ties(tx: Tx, actor: Actor, share_out: ShareOutRow) -> tuple[TieLine, ...]:
    """Give the order for every variety more than one household claimed; only once all is decided."""
    if share_out.state != ShareOutState.CONFIRMED or share_out.working is None:
        return ()
    claims = case_from(share_out.working["case"]).claims
    varieties = VARIETIES.by_id(tx, actor.circle_id)
    entries = CLAIMS.by_id(tx, actor.circle_id)
    own = {key for key, one in entries.items() if one.household_id == actor.household_id}
    by_variety: dict[int, list[int]] = {}
    for one in claims:
        by_variety.setdefault(one.variety_id, []).append(one.id)
    lines = [
        TieLine(
            varieties[key],
            order_of_ties(share_out.draw_number, tuple(ids)),
            frozenset(own.intersection(ids)),
        )
        for key, ids in by_variety.items()
        if len(ids) > 1
    ]
    return tuple(sorted(lines, key=lambda one: (not one.mine, one.variety.name)))


def _own_balance(tx: Tx, actor: Actor) -> tuple[int, int] | None:
    if actor.household_id is None:
        return None
    given, received = given_and_received(tx, actor.circle_id)
    return given.get(actor.household_id, 0), received.get(actor.household_id, 0)
