"""Letters: written once, mailed by the clock or copied by hand."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from exchange.actions.kernel.actor import Actor, House, note
from exchange.actions.kernel.refusals import RefusedError
from exchange.domain.permissions import Permission
from exchange.mail.letter import From, NoAddressError, as_message
from exchange.mail.letter import Letter as Outgoing
from exchange.mail.sending import DeliveryFault, Sent, send
from exchange.records import LETTERS, MEMBERS, Tx, accounts, circles, letters
from exchange.records.rows.people import MemberRow
from exchange.records.rows.running import TO_COPY, LetterRow, LetterState
from exchange.words.kernel.addresses import only_there
from exchange.words.kernel.letters import LetterText

AT_ONCE = 20
"""Most letters claimed at one time."""
LEASE = timedelta(minutes=15)
"""How long a claimed letter is left to its worker before another may take it."""
WAIT_AFTER_FAULT = timedelta(minutes=10)
SECRET_KINDS = frozenset({"invitation", "sign_in", "new_address", "reset_instructions"})
"""Letters with a link that signs in; the organiser copies them only where they cannot be mailed."""


def write(
    tx: Tx,
    house: House,
    member: MemberRow,
    letter: LetterText,
    key: str,
    now: datetime,
) -> LetterRow:
    """Write a letter to a member, once for each key; the kind is the key up to its first colon.

    It waits to be mailed, or to be handed over by hand where the member or the house has no mail.
    """
    return write_to(tx, house, Addressee(member), letter, key, now)


@dataclass(frozen=True, slots=True)
class Addressee:
    """Whom a letter is for.

    Attributes
    ----------
    address : where it goes, None for the address the member has when it is sent
    """

    member: MemberRow
    address: str | None = None


def write_to(
    tx: Tx, house: House, to: Addressee, letter: LetterText, key: str, now: datetime
) -> LetterRow:
    """Write a letter as `write` does, to an address that may not be the member's own."""
    member = to.member
    there = letters.with_key(tx, key)
    if there is not None:
        return there
    by_hand = not goes_by_mail(house, member, to.address)
    letter_id = LETTERS.add(
        tx,
        member.circle_id,
        member_id=member.id,
        key=key,
        kind=key.partition(":")[0],
        subject=letter.subject,
        body=letter.text,
        state=LetterState.BY_HAND if by_hand else LetterState.WAITING,
        written_at=now,
        to_address=to.address,
    )
    return LETTERS.get(tx, member.circle_id, letter_id)


def goes_by_mail(house: House, member: MemberRow, address: str | None = None) -> bool:
    """Say whether a letter to a member is mailed; else somebody hands it over."""
    return house.mail is not None and bool(address or member.email)


def write_to_address(
    house: House, email: str, kind: str, letter: LetterText, now: datetime
) -> None:
    """Write a letter about an account, to its member in the first of its circles."""
    with house.books.writing() as tx:
        account = accounts.with_email(tx, email)
        members = accounts.memberships(tx, account.id) if account else ()
        if members:
            write(tx, house, members[0], letter, f"{kind}:{house.new_token()}", now)


@dataclass(frozen=True, slots=True)
class Sending:
    """What came of one round of sending [letters]."""

    sent: int = 0
    later: int = 0
    failed: int = 0


@dataclass(frozen=True, slots=True)
class _InHand:
    letter: LetterRow
    outgoing: Outgoing
    sender: From


def send_waiting(house: House, now: datetime) -> Sending:
    """Mail the letters that are due; no transaction is open while the mail server is spoken to.

    A letter is claimed first. A worker killed before the server has it loses nothing: the
    letter is due again when the lease has run out.
    """
    if house.mail is None:
        return Sending()
    with house.books.writing() as tx:
        in_hand = [_take(tx, house, one, now) for one in letters.due(tx, now, AT_ONCE)]
    sent = later = failed = 0
    for one in in_hand:
        outcome = _hand_over(house, one)
        with house.books.writing() as tx:
            state = _record(tx, one.letter, outcome, now)
        sent += state == LetterState.SENT
        later += state == LetterState.WAITING
        failed += state == LetterState.FAILED
    return Sending(sent, later, failed)


def _take(tx: Tx, house: House, letter: LetterRow, now: datetime) -> _InHand:
    circle_id = letter.circle_id
    member = MEMBERS.get(tx, circle_id, letter.member_id)
    circle = circles.get(tx, circle_id)
    LETTERS.change(tx, circle_id, letter.id, tries=letter.tries + 1, not_before=now + LEASE)
    host = house.mail_from.rpartition("@")[2] or "localhost"
    return _InHand(
        letter,
        Outgoing(
            to_name=member.full_name,
            to_address=letter.to_address or member.email or "",
            subject=letter.subject,
            text=_going_out(house, letter.body),
            message_id=f"letter-{letter.id}.{house.new_token()[:16]}@{host}",
            written_at=letter.written_at,
        ),
        From(circle.name, house.mail_from),
    )


def _going_out(house: House, body: str) -> str:
    """Give a letter as it goes out: of links that nobody else can open, it says why."""
    caution = only_there(house.public_url)
    return f"{body}\n{caution}\n" if caution and house.public_url in body else body


def _hand_over(house: House, one: _InHand) -> Sent | str | DeliveryFault:
    if house.mail is None:
        return "no mail server is set"
    try:
        message = as_message(one.outgoing, one.sender)
    except NoAddressError as error:
        return str(error)
    return send(message, house.mail)


def _record(
    tx: Tx, letter: LetterRow, outcome: Sent | str | DeliveryFault, now: datetime
) -> LetterState:
    circle_id = letter.circle_id
    match outcome:
        case Sent():
            LETTERS.change(tx, circle_id, letter.id, state=LetterState.SENT, sent_at=now, fault="")
            return LetterState.SENT
        case DeliveryFault(again=True, answer=answer) if letter.tries + 1 < letters.MOST_TRIES:
            wait = WAIT_AFTER_FAULT * 2**letter.tries
            LETTERS.change(tx, circle_id, letter.id, fault=answer, not_before=now + wait)
            return LetterState.WAITING
        case DeliveryFault(answer=answer):
            LETTERS.change(tx, circle_id, letter.id, state=LetterState.FAILED, fault=answer)
        case _:
            LETTERS.change(tx, circle_id, letter.id, state=LetterState.FAILED, fault=str(outcome))
    return LetterState.FAILED


@dataclass(frozen=True, slots=True)
class ToCopy:
    """A letter to be copied or printed, whom it is for, and its body as it goes out."""

    letter: LetterRow
    member: MemberRow
    body: str

    @property
    def text(self) -> str:
        return LetterText(self.letter.subject, self.body).as_copy()


def letters_by_hand(actor: Actor) -> tuple[ToCopy, ...]:
    """Give the letters that cannot be mailed, for the organiser to copy, print or read out."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        return letters_to_copy(tx, actor.house, actor.circle_id)


def letters_to_copy(tx: Tx, house: House, circle_id: int) -> tuple[ToCopy, ...]:
    """Give the letters that cannot be mailed, within an act."""
    members = MEMBERS.by_id(tx, circle_id)
    waiting = LETTERS.all(tx, circle_id, state=TO_COPY)
    to_copy = (ToCopy(one, members[one.member_id], _going_out(house, one.body)) for one in waiting)
    return tuple(one for one in to_copy if _may_be_copied(tx, one))


def _may_be_copied(tx: Tx, one: ToCopy) -> bool:
    """Keep back sign-in links that may still be mailed, or that would open another circle too."""
    if one.letter.kind not in SECRET_KINDS:
        return True
    account_id = one.member.account_id
    leads_further = account_id is not None and len(accounts.memberships(tx, account_id)) > 1
    return one.letter.state == LetterState.BY_HAND and not leads_further


def hand_over(actor: Actor, letter_id: int, now: datetime) -> None:
    """Note that a letter was handed over, read out or copied."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        letter = LETTERS.get(tx, actor.circle_id, letter_id)
        LETTERS.change(tx, actor.circle_id, letter_id, state=LetterState.SENT, sent_at=now)
        note(tx, actor, "handed over a letter", letter.subject, now)


class NotHandedOverError(RefusedError):
    """The letter went by mail, or still waits."""


def take_hand_over_back(actor: Actor, letter_id: int, now: datetime) -> None:
    """Undo that a letter was handed over: it is to be handed over again.

    Raises
    ------
    NotHandedOverError
        When it went by mail, or was not handed over.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        letter = LETTERS.get(tx, actor.circle_id, letter_id)
        # What mail has taken was tried, and left no fault behind.
        mailed = letter.tries > 0 and not letter.fault
        if letter.state is not LetterState.SENT or mailed:
            raise NotHandedOverError("It was not handed over, so there is nothing to take back.")
        state = LetterState.FAILED if letter.fault else LetterState.BY_HAND
        LETTERS.change(tx, actor.circle_id, letter_id, state=state, sent_at=None)
        note(tx, actor, "took back that a letter was handed over", letter.subject, now)


def settle(tx: Tx, member: MemberRow, kind: str, now: datetime) -> None:
    """Close letters of one kind that need no handing over any more, as after joining."""
    for letter in LETTERS.all(
        tx,
        member.circle_id,
        member_id=member.id,
        kind=kind,
        state=TO_COPY,
    ):
        LETTERS.change(tx, member.circle_id, letter.id, state=LetterState.SENT, sent_at=now)


def letters_to(actor: Actor) -> tuple[LetterRow, ...]:
    """Give the letters written to the member, or to the member acted for; newest first.

    Left out are those with a sign-in link, or that prove that mail arrives: read where sent.
    """
    member_id = actor.acting_for or actor.member_id
    if member_id is None:
        return ()
    with actor.books.reading() as tx:
        written = LETTERS.all(tx, actor.circle_id, member_id=member_id)
    return tuple(one for one in reversed(written) if one.kind not in SECRET_KINDS)
