"""Handing the organiser's part on: the pack for the next organiser, and the act; who has it hands it back."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.circle.terms import term_lines
from exchange.actions.growing.page_varieties import variety_lines
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.letters import letters_to_copy, write
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.people.members import member_here
from exchange.actions.posting.diary import first_names
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import OPEN, ParcelState
from exchange.domain.sharing.states import UNCONFIRMED
from exchange.records import CLOSURES, MEMBERS, SHARE_OUTS, SPARES, Tx, parcel_heads
from exchange.records.claims import lacking_claims
from exchange.records.rows.people import MemberRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.circle import handing_on as words
from exchange.words.kernel.letters import LetterReader

AHEAD = timedelta(days=60)
"""How far ahead days without post are told to the next organiser [d]."""


class HandOverRefusedError(RefusedError):
    """The organiser's part cannot be handed to that member."""


@dataclass(frozen=True, slots=True)
class OpenParcel:
    """A parcel that has been promised and has not come."""

    code: str
    sender: str
    receiver: str
    state: ParcelState
    day: date | None


@dataclass(frozen=True, slots=True)
class HandOverPack:
    """What the next organiser has to know.

    Attributes
    ----------
    kept : varieties that must not be lost, with the places they stand in
    promised, lacking : parcels not come, and claims that lack plants [claims]
    by_hand : letters to be handed over [letters]
    changed : terms the circle settled otherwise, in words
    members : to whom the part can be handed
    """

    circle: str
    households: int
    members: tuple[MemberRow, ...]
    organisers: tuple[MemberRow, ...]
    kept: tuple[tuple[str, int], ...]
    share_outs: tuple[ShareOutRow, ...]
    promised: tuple[OpenParcel, ...]
    spares: int
    lacking: int
    by_hand: int
    closures: tuple[tuple[date, str], ...]
    changed: tuple[tuple[str, str], ...]
    today: date


def hand_over_pack(actor: Actor, now: datetime) -> HandOverPack:
    """Show what stands where, what is open and what is settled."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        circle = circle_of(actor, tx)
        today = today_in(circle, now)
        members = MEMBERS.all(tx, actor.circle_id, left_at=None)
        return HandOverPack(
            circle=circle.name,
            households=len({one.household_id for one in members}),
            members=tuple(members),
            organisers=tuple(one for one in members if one.organiser),
            kept=tuple(
                (line.variety.name, line.places)
                for line in variety_lines(tx, actor.circle_id)
                if line.variety.must_not_be_lost
            ),
            share_outs=SHARE_OUTS.all(tx, actor.circle_id, state=UNCONFIRMED),
            promised=_promised(tx, actor.circle_id),
            spares=len(
                [
                    one
                    for one in SPARES.all(tx, actor.circle_id, withdrawn_at=None)
                    if one.send_by >= today
                ]
            ),
            lacking=len(lacking_claims(tx, actor.circle_id)),
            by_hand=len(letters_to_copy(tx, actor.house, actor.circle_id)),
            closures=tuple(
                (one.day, one.label)
                for one in CLOSURES.all(tx, actor.circle_id)
                if today <= one.day <= today + AHEAD and not one.opened
            ),
            changed=tuple((line.title, line.said) for line in term_lines(circle) if line.changed),
            today=today,
        )


def hand_on(actor: Actor, member_id: int, now: datetime) -> None:
    """Make another member organiser in one's own place; they can hand it back in the same way.

    Raises
    ------
    HandOverRefusedError
        When it is oneself, or somebody who cannot sign in.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        member = member_here(tx, actor, member_id)
        if member.id == actor.member_id:
            raise HandOverRefusedError("You have it already.")
        if member.account_id is None:
            raise HandOverRefusedError(
                f"{member.full_name} does not sign in yet. Invite them first: the organiser needs it."
            )
        before = "" if actor.member_id is None else _give_up(tx, actor, actor.member_id)
        MEMBERS.change(tx, actor.circle_id, member.id, organiser=True)
        circle = circle_of(actor, tx)
        link = f"{actor.house.public_url}/circle/hand-over"
        letter = words.told(LetterReader(member.first_name, circle.name), before, link)
        write(tx, actor.house, member, letter, f"handed_on:{member.id}:{now.isoformat()}", now)
        note(tx, actor, "handed the organiser’s part on", f"to {member.full_name}", now)


def _give_up(tx: Tx, actor: Actor, member_id: int) -> str:
    MEMBERS.change(tx, actor.circle_id, member_id, organiser=False)
    return MEMBERS.get(tx, actor.circle_id, member_id).first_name


def _promised(tx: Tx, circle_id: int) -> tuple[OpenParcel, ...]:
    names = first_names(tx, circle_id)
    found = parcel_heads.heads(tx, circle_id, state=OPEN | {ParcelState.POSTED})
    return tuple(
        OpenParcel(
            one.code,
            names.get(one.sender_household_id, ""),
            names.get(one.receiver_household_id, ""),
            one.state,
            one.posted_on or one.posting_day,
        )
        for one in found
        if one.closed_at is None
    )
