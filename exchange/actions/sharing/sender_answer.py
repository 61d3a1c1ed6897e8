"""The sender's answer: what can go, all or fewer, now or later; asked after the share-out and again."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, note, today_in
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.tasks import ask
from exchange.actions.posting.parcel_lines import last_day
from exchange.actions.posting.replan import gather
from exchange.actions.sharing.allocation_answers import record_no, record_yes
from exchange.actions.sharing.asked_together import asked_together, in_one_line
from exchange.actions.sharing.reserve import ask_reserve
from exchange.domain.permissions import Permission, Subject
from exchange.domain.posting.parcel import OPEN, WITH_SENDER
from exchange.domain.sharing.states import STANDING, AllocationState
from exchange.records import (
    ALLOCATIONS,
    CLAIMS,
    MEMBERS,
    PARCEL_LINES,
    PARCELS,
    SPARES,
    VARIETIES,
    Tx,
    circles,
)
from exchange.records.rows.posting import ParcelRow
from exchange.records.rows.sharing import AllocationRow
from exchange.records.spares import give_back
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed


class AnswerRefusedError(RefusedError):
    """The answer is impossible: more than was given, or ready after the last day to send."""


@dataclass(frozen=True, slots=True)
class ToAnswer:
    """Plants a household is asked to send.

    Attributes
    ----------
    allocation_id : of several asked for in one line the first, which stands for all
    what : "3 rooted cuttings of ..."
    other : first names of whom they are for
    count : how many were given [plants]
    posting_day : of its parcel, None while there is none
    announced : whether that day is announced
    send_by : the last day they may be sent
    agreed : whether the sender has said yes
    """

    allocation_id: int
    what: str
    other: str
    count: int
    posting_day: date | None
    announced: bool
    send_by: date
    agreed: bool


@dataclass(frozen=True, slots=True)
class SenderAnswer:
    """What the sender says of one allocation.

    Attributes
    ----------
    count : how many can go; 0 is a quiet no [plants]
    ready_from : the day from which they can go, where that is later; None as listed
    """

    allocation_id: int
    count: int
    ready_from: date | None = None


def to_answer(actor: Actor, parcel_id: int | None = None) -> tuple[ToAnswer, ...]:
    """Give what the household is asked to send and has not yet posted, in order of posting day.

    Parameters
    ----------
    parcel_id : only what is in this parcel
    """
    with actor.books.reading() as tx:
        return asked_of_sender(tx, actor, parcel_id)


def asked_of_sender(tx: Tx, actor: Actor, parcel_id: int | None = None) -> tuple[ToAnswer, ...]:
    """Give the same, within an act."""
    household_id = actor.own_household()
    spares = SPARES.by_id(tx, actor.circle_id, household_id=household_id)
    given = ALLOCATIONS.all(tx, actor.circle_id, spare_id=set(spares), state=STANDING)
    here = [one for one in given if _is_here(tx, actor, one, parcel_id)]
    found = [_to_answer(tx, actor, line) for line in in_one_line(tx, actor, here)]
    return tuple(
        sorted(found, key=lambda one: (one.posting_day or date.max, one.other, one.allocation_id))
    )


def answer_as_sender(actor: Actor, answers: Iterable[SenderAnswer], now: datetime) -> None:
    """Record the sender's answers; what cannot go is given from other spares, by the reserve.

    Raises
    ------
    AnswerRefusedError
        When more is promised than was given, or the later day is past the last day to send.
    """
    with actor.books.writing() as tx:
        record_sender_answer(tx, actor, answers, now)


def record_sender_answer(
    tx: Tx, actor: Actor, answers: Iterable[SenderAnswer], now: datetime
) -> None:
    """Record the sender's answers and bring the parcels in line with them, within an act.

    Raises
    ------
    AnswerRefusedError
        When more is promised than was given, or the later day is past the last day to send.
    """
    said = tuple(answers)
    named = {one.allocation_id for one in said}
    for one in said:
        there = asked_together(tx, actor, one.allocation_id)
        line = [part for part in there if part.id == one.allocation_id or part.id not in named]
        _check(tx, actor, one, line, now)
        left = one.count
        for part in line:
            count = min(left, part.count)
            _record_part(tx, actor, replace(one, allocation_id=part.id, count=count), now)
            left -= count
    gather(tx, actor.circle_id, now)
    ask(tx, actor, "plan", None, now)


def _record_part(tx: Tx, actor: Actor, answer: SenderAnswer, now: datetime) -> None:
    """Keep the answer for one allocation."""
    if answer.count == 0:
        record_no(tx, actor, answer.allocation_id, now)
        return
    _record_fewer(tx, actor, answer.allocation_id, answer.count, now)
    if answer.ready_from is not None:
        _record_ready_later(tx, actor, answer.allocation_id, answer.ready_from, now)
    record_yes(tx, actor, answer.allocation_id, now)


def _record_fewer(tx: Tx, actor: Actor, allocation_id: int, count: int, now: datetime) -> None:
    """Let fewer plants of an allocation go than were given; the rest are not there."""
    one = _standing(tx, actor, allocation_id)
    missing = one.count - count
    if missing <= 0:
        return
    ALLOCATIONS.change(tx, actor.circle_id, allocation_id, count=count)
    _say_no_to(tx, actor, one, missing, now)
    give_back(tx, actor.circle_id, one.spare_id, missing)
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    SPARES.change(tx, actor.circle_id, spare.id, count=spare.count - missing)
    note(tx, actor, "could give fewer", f"allocation {allocation_id}: {count}", now)
    ask_reserve(tx, actor, spare.variety_id, now)


def _say_no_to(tx: Tx, actor: Actor, one: AllocationRow, missing: int, now: datetime) -> None:
    """Keep the plants of an allocation that cannot go as one of their own, answered with no."""
    ALLOCATIONS.add(
        tx,
        actor.circle_id,
        share_out_id=one.share_out_id,
        spare_id=one.spare_id,
        claim_id=one.claim_id,
        count=missing,
        state=AllocationState.REFUSED,
        answered_at=now,
        made_at=one.made_at,
    )


def _record_ready_later(tx: Tx, actor: Actor, allocation_id: int, day: date, now: datetime) -> None:
    """Keep the later day from which the plants of an allocation can go."""
    one = _standing(tx, actor, allocation_id)
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    if day > spare.ready_from:
        SPARES.change(tx, actor.circle_id, spare.id, ready_from=day)
        note(tx, actor, "is ready later", f"allocation {allocation_id}: {day}", now)


def _check(
    tx: Tx, actor: Actor, answer: SenderAnswer, line: Sequence[AllocationRow], now: datetime
) -> None:
    one = _standing(tx, actor, answer.allocation_id)
    asked = sum(part.count for part in line)
    if not 0 <= answer.count <= asked:
        raise AnswerRefusedError(
            f"Write a number from 0 to {asked}; so many were asked for.", f"count-{one.id}"
        )
    last = min(_last_day(tx, actor, part) for part in line)
    if answer.ready_from is not None and answer.ready_from > last:
        raise AnswerRefusedError(
            f"It must go by {dates.day(last)}; say a day before that, or none of it.",
            f"later-{one.id}",
        )
    today = today_in(circles.get(tx, actor.circle_id), now)
    if answer.ready_from is not None and answer.ready_from < today:
        raise AnswerRefusedError("That day is past; give one to come.", f"later-{one.id}")


def _standing(tx: Tx, actor: Actor, allocation_id: int) -> AllocationRow:
    one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=spare.household_id))
    if one.state not in STANDING or not _is_here(tx, actor, one, None):
        raise AnswerRefusedError("These plants are on their way, or no longer asked for.")
    return one


def _is_here(tx: Tx, actor: Actor, one: AllocationRow, parcel_id: int | None) -> bool:
    """Say whether the plants are still with the sender, and in the parcel asked about."""
    rows = PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id)
    inside = [PARCELS.get(tx, actor.circle_id, row.parcel_id) for row in rows]
    if any(parcel.state not in WITH_SENDER for parcel in inside):
        return False
    return parcel_id is None or any(parcel.id == parcel_id for parcel in inside)


def _last_day(tx: Tx, actor: Actor, one: AllocationRow) -> date:
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    claim = CLAIMS.get(tx, actor.circle_id, one.claim_id)
    return last_day(spare, claim)


def _to_answer(tx: Tx, actor: Actor, line: Sequence[AllocationRow]) -> ToAnswer:
    one, count = line[0], sum(part.count for part in line)
    spare = SPARES.get(tx, actor.circle_id, one.spare_id)
    claim = CLAIMS.get(tx, actor.circle_id, one.claim_id)
    variety = VARIETIES.get(tx, actor.circle_id, spare.variety_id)
    people = MEMBERS.all(tx, actor.circle_id, household_id=claim.household_id, left_at=None)
    inside = [
        PARCELS.get(tx, actor.circle_id, row.parcel_id)
        for row in PARCEL_LINES.all(tx, actor.circle_id, allocation_id=one.id)
    ]
    going = (each for each in inside if each.state in OPEN)
    first = min(going, key=_posting_day, default=None)
    return ToAnswer(
        one.id,
        plants.some(count, spare.material, variety.species, variety.name),
        listed([member.first_name for member in people]),
        count,
        first.posting_day if first else None,
        first is not None and first.is_announced,
        min(_last_day(tx, actor, part) for part in line),
        one.state == AllocationState.AGREED,
    )


def _posting_day(entry: ParcelRow) -> date:
    return entry.posting_day or date.max
