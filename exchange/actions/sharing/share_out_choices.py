"""The organiser's choices before confirming: plants for a claim, or two kept apart, with reasons."""

from dataclasses import dataclass, replace
from datetime import datetime

from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.kernel.same_facts import on_same_facts
from exchange.actions.kernel.tasks import ask
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.actions.sharing.share_out_proposal import Choice, ChoiceKind, choices_of, with_choices
from exchange.actions.sharing.share_out_state import must_be_open
from exchange.domain.permissions import Permission
from exchange.domain.sharing.case import Allocation, ShareOutCase
from exchange.domain.sharing.quantities import PinRefused, WrongQuantity, check_quantities
from exchange.records import SHARE_OUTS, Tx, circles
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.sharing.share_out import pin_sentence

LONGEST_REASON = 200


class ChoiceRefusedError(RefusedError):
    """The choice is impossible, or has no reason beside it."""


@dataclass(frozen=True, slots=True)
class ClaimChoices:
    """What the organiser has settled for one claim."""

    choices: tuple[Choice, ...]

    @property
    def version(self) -> str:
        return version_of(self, ("choices",))


@dataclass(frozen=True, slots=True)
class NewChoice:
    """What the organiser wants: a number of plants of a spare to a claim, or the two kept apart.

    Attributes
    ----------
    count : plants that are to go; None keeps the two apart [plants]
    """

    spare_id: int
    claim_id: int
    count: int | None
    reason: str


def choose(
    actor: Actor, share_out_id: int, new: NewChoice, now: datetime, *, opened: str | None = None
) -> int:
    """Keep a choice, instead of one made before for the same two, and have the rest worked out again.

    Returns
    -------
    the task that works it out

    Raises
    ------
    ChoiceRefusedError
        When it is impossible, or there is no reason.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    reason = " ".join(new.reason.split())
    if not 1 <= len(reason) <= LONGEST_REASON:
        raise ChoiceRefusedError(
            f"Give the reason, in at most {LONGEST_REASON} letters; it is kept with the share-out.",
            "reason",
        )
    return on_same_facts(
        actor,
        lambda tx: _look(tx, actor, share_out_id, new, now),
        lambda tx, seen: _record(tx, actor, seen.id, replace(new, reason=reason), now, opened),
    )


def choices_for(share_out: ShareOutRow, claim_id: int) -> ClaimChoices:
    """Give what the organiser has settled for one claim."""
    return ClaimChoices(tuple(one for one in choices_of(share_out) if one.claim_id == claim_id))


def _look(tx: Tx, actor: Actor, share_out_id: int, new: NewChoice, now: datetime) -> ShareOutRow:
    """Refuse what is impossible; the case is built without the write lock."""
    share_out = _open(tx, actor, share_out_id)
    case = share_out_case(tx, actor.circle_id, share_out, now)
    _check(_without_pair(case, new), new)
    return share_out


def _record(
    tx: Tx, actor: Actor, share_out_id: int, new: NewChoice, now: datetime, opened: str | None
) -> int:
    share_out = _open(tx, actor, share_out_id)
    must_be_as_opened(opened, choices_for(share_out, new.claim_id).version)
    others = tuple(one for one in choices_of(share_out) if one.pair != (new.spare_id, new.claim_id))
    made = Choice(
        ChoiceKind.FORBID if new.count is None else ChoiceKind.PIN,
        new.spare_id,
        new.claim_id,
        new.count or 0,
        new.reason,
        today_in(circle_of(actor, tx), now),
    )
    _keep(tx, actor, share_out, (*others, made))
    act = "kept two apart" if new.count is None else "chose who is given plants"
    note(tx, actor, act, f"spare {new.spare_id}, claim {new.claim_id}: {new.reason}", now)
    return ask(tx, actor, "share_out", share_out.id, now)


def take_choice_back(actor: Actor, share_out_id: int, pair: tuple[int, int], now: datetime) -> int:
    """Take a choice back, and have the share-out worked out again.

    Returns
    -------
    the task that works it out
    """
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.writing() as tx:
        share_out = _open(tx, actor, share_out_id)
        left = tuple(one for one in choices_of(share_out) if one.pair != pair)
        _keep(tx, actor, share_out, left)
        note(tx, actor, "took a choice back", f"spare {pair[0]}, claim {pair[1]}", now)
        return ask(tx, actor, "share_out", share_out_id, now)


def _open(tx: Tx, actor: Actor, share_out_id: int) -> ShareOutRow:
    share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
    must_be_open(share_out)
    return share_out


def _keep(tx: Tx, actor: Actor, share_out: ShareOutRow, choices: tuple[Choice, ...]) -> None:
    proposal = with_choices(share_out.proposal, choices)
    SHARE_OUTS.change(tx, actor.circle_id, share_out.id, proposal=proposal)
    circles.touch(tx, actor.circle_id)


def _without_pair(case: ShareOutCase, new: NewChoice) -> ShareOutCase:
    """Give the case without any earlier choice for the same two."""
    pair = (new.spare_id, new.claim_id)
    return replace(
        case,
        pins=tuple(one for one in case.pins if (one.spare_id, one.claim_id) != pair),
        forbids=tuple(one for one in case.forbids if one != pair),
    )


def _check(case: ShareOutCase, new: NewChoice) -> None:
    """Refuse what is impossible, before anything is worked out."""
    spares, claims = {one.id for one in case.spares}, {one.id for one in case.claims}
    if new.spare_id not in spares or new.claim_id not in claims:
        raise ChoiceRefusedError("The spare or the claim is no longer open.", "spare")
    if new.count is None:
        return
    pin = Allocation(new.spare_id, new.claim_id, new.count)
    try:
        check_quantities(replace(case, pins=(*case.pins, pin)))
    except WrongQuantity as error:
        raise ChoiceRefusedError("Write how many plants, 1 or more.", "count") from error
    except PinRefused as error:
        raise ChoiceRefusedError(pin_sentence(error), "count") from error
