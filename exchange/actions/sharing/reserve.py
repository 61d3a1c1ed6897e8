"""The reserve: plants that come free after a share-out go to whoever is next, by the same rules."""

from dataclasses import replace
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.allocations import give, said_no
from exchange.actions.sharing.not_sent import tell_not_sent
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.actions.sharing.share_out_letters import tell_later
from exchange.domain.optimise.programme import Watch
from exchange.domain.permissions import Permission
from exchange.domain.sharing.afterwards import as_they_stand, give_reserve
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.states import ANSWERED_NO
from exchange.records import ALLOCATIONS, CLAIMS, SPARES, TASKS, Tx
from exchange.records.rows.running import UNDER_WAY
from exchange.records.rows.sharing import ShareOutRow
from exchange.records.share_outs import last_confirmed

RESERVE = "reserve"
"""The task that gives what came free of a variety; the variety is its subject."""
TRIES = 3


def ask_reserve(tx: Tx, actor: Actor, variety_id: int, now: datetime) -> None:
    """Ask, within an act, that plants of a variety which came free be given, and the days be planned.

    The reserve is asked for first: what it gives is then planned at once.
    """
    ask(tx, actor, RESERVE, variety_id, now)
    ask(tx, actor, "plan", None, now)


def with_the_reserve(tx: Tx, circle_id: int) -> frozenset[int]:
    """Give the varieties of which plants came free that the reserve has not been offered yet."""
    waiting = TASKS.all(tx, circle_id, kind=RESERVE, state=UNDER_WAY)
    return frozenset(one.subject_id for one in waiting if one.subject_id is not None)


def give_from_reserve(actor: Actor, variety_id: int, watch: Watch, now: datetime) -> int:
    """Give freed plants of a variety to claims still open, by the same rules; nobody else moves.

    Where somebody changes the circle each time before it can be recorded, it is asked for again.

    Returns
    -------
    plants given [plants]

    Raises
    ------
    Stopped
        When `watch` asks to stop; nothing is given.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    for _try in range(TRIES):
        with actor.books.reading() as tx:
            share_out = last_confirmed(tx, actor.circle_id)
            if share_out is None:
                return 0
            stamp = circle_of(actor, tx).stamp
            case = _case(tx, actor, share_out, now)
        found = give_reserve(case, variety_id, watch)
        with actor.books.writing() as tx:
            if circle_of(actor, tx).stamp == stamp:
                given = _record_given(tx, actor, share_out.id, found, now)
                tell_not_sent(tx, actor, variety_id, now)
                return given
    with actor.books.writing() as tx:
        ask_reserve(tx, actor, variety_id, now)
    return 0


def _record_given(
    tx: Tx, actor: Actor, share_out_id: int, found: tuple[Allocation, ...], now: datetime
) -> int:
    made = {give(tx, actor.circle_id, share_out_id, one, now): one.count for one in found}
    tell_later(tx, actor, tuple(made), now)
    ask(tx, actor, "plan", None, now)
    return sum(made.values())


def _case(tx: Tx, actor: Actor, share_out: ShareOutRow, now: datetime) -> ShareOutCase:
    """Give the case with what stands kept; what was listed or claimed since waits for the next share-out.

    What a claim declined is not offered to it again, nor what a sender refused to the household.
    """
    since = share_out.confirmed_at or now
    spares = SPARES.all(tx, actor.circle_id)
    claims = CLAIMS.all(tx, actor.circle_id)
    case = as_they_stand(
        share_out_case(tx, actor.circle_id, share_out, now),
        spares={one.id for one in spares if one.listed_at > since},
        claims={one.id for one in claims if one.made_at > since},
    )
    answered = ALLOCATIONS.all(tx, actor.circle_id, state=ANSWERED_NO)
    no = {(one.spare_id, one.claim_id) for one in answered}
    for spare_id, household_id in said_no(tx, actor.circle_id):
        no |= {(spare_id, one.id) for one in claims if one.household_id == household_id}
    return replace(case, forbids=tuple(sorted(no.union(case.forbids))))
