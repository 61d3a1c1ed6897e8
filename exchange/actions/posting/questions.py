"""Questions by letter: did it go, did it come, is it still ready; a link each, used once."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.links import Purpose, make_link
from exchange.actions.people.household_members import members_of
from exchange.actions.posting.parcel_letters import Addressed, both_ends, parcel_words
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.permissions import Permission
from exchange.domain.posting.parcel import OPEN, ParcelState
from exchange.records import ALLOCATIONS, PARCEL_LINES, PARCELS, PLACES, Tx, circles, letters
from exchange.records.rows.posting import ParcelRow
from exchange.words.kernel import letters as words
from exchange.words.kernel.letters import LetterReader, LetterText, ParcelWords
from exchange.words.posting import questions
from exchange.words.posting.posting_days import goes_on

ASKED_FOR = timedelta(days=14)
"""What happened longer ago than this is no longer asked about."""
READY_BEFORE = timedelta(days=7)
"""How long before the posting day the sender is asked whether all is ready."""
READY_LATEST = timedelta(days=2)
"""Nearer than this it is too late to ask; the letter to pack follows."""
NOT_AGAIN_WITHIN = timedelta(days=3)
"""Anybody asked for a yes more recently than this is not asked again."""


Wording = Callable[[LetterReader, ParcelWords, str], LetterText]


@dataclass(frozen=True, slots=True)
class Asked:
    """How many parcels were asked about [parcels]."""

    did_it_go: int = 0
    did_it_come: int = 0
    still_ready: int = 0


@dataclass(frozen=True, slots=True)
class _Question:
    purpose: Purpose
    key: str
    wording: Wording


def ask_questions(actor: Actor, now: datetime) -> Asked:
    """Ask what is due: a week before posting, the day after it, the day after the last expected day."""
    actor.must(Permission.RUN_CLOCK)
    gone = come = ready = 0
    with actor.books.writing() as tx:
        places = PLACES.by_id(tx, actor.circle_id)
        for parcel in PARCELS.all(tx, actor.circle_id):
            here = now.astimezone(ZoneInfo(places[parcel.sender_place_id].zone))
            there = now.astimezone(ZoneInfo(places[parcel.receiver_place_id].zone))
            gone += _ask_went(tx, actor, parcel, here)
            come += _ask_came(tx, actor, parcel, there)
            ready += _ask_ready(tx, actor, parcel, here)
    return Asked(gone, come, ready)


def _ask_went(tx: Tx, actor: Actor, parcel: ParcelRow, now: datetime) -> bool:
    day = parcel.announced_day
    if parcel.state is not ParcelState.ANNOUNCED or day is None:
        return False
    if not timedelta(0) < now.date() - day <= ASKED_FOR:
        return False
    sender, _receiver = both_ends(parcel)
    question = _Question(
        Purpose.DID_IT_GO,
        f"did_it_go:{parcel.id}:{day}",
        lambda reader, about, link: words.did_it_go(reader, about, day, link),
    )
    return _ask(tx, actor, sender, question, now)


def _ask_came(tx: Tx, actor: Actor, parcel: ParcelRow, now: datetime) -> bool:
    first, last, day = parcel.arrival_from, parcel.arrival_to, parcel.posting_day
    on_its_way = parcel.state in {ParcelState.ANNOUNCED, ParcelState.POSTED}
    if not on_its_way or first is None or last is None or day is None or day >= now.date():
        return False
    if not timedelta(0) < now.date() - last <= ASKED_FOR:
        return False
    expected = ArrivalWindow(first, last)
    _sender, receiver = both_ends(parcel)
    question = _Question(
        Purpose.DID_IT_COME,
        f"did_it_come:{parcel.id}:{last}",
        lambda reader, about, link: words.did_it_come(reader, about, expected, link),
    )
    return _ask(tx, actor, receiver, question, now)


def _ask_ready(tx: Tx, actor: Actor, parcel: ParcelRow, now: datetime) -> bool:
    day = parcel.posting_day
    if parcel.state not in OPEN or day is None:
        return False
    if not READY_LATEST <= day - now.date() <= READY_BEFORE:
        return False
    if _answered_lately(tx, actor, parcel, now):
        return False
    # What can go is the sender's to say, whoever posts it.
    sender = Addressed(parcel, parcel.sender_household_id, parcel.receiver_household_id)
    question = _Question(
        Purpose.SENDER_ANSWER,
        f"still_ready:{parcel.id}",
        lambda reader, about, link: questions.still_ready(
            reader, about, goes_on(day, announced=parcel.is_announced), link
        ),
    )
    return _ask(tx, actor, sender, question, now)


def _answered_lately(tx: Tx, actor: Actor, parcel: ParcelRow, now: datetime) -> bool:
    rows = PARCEL_LINES.all(tx, actor.circle_id, parcel_id=parcel.id)
    inside = ALLOCATIONS.all(tx, actor.circle_id, id={row.allocation_id for row in rows})
    moments = [one.answered_at or one.made_at for one in inside]
    return any(now - moment < NOT_AGAIN_WITHIN for moment in moments)


def _ask(tx: Tx, actor: Actor, to: Addressed, question: _Question, now: datetime) -> bool:
    """Write the question to each member of a household, each with a link of their own."""
    circle = circles.get(tx, actor.circle_id)
    about = parcel_words(tx, actor.circle_id, to.parcel, to.other_id)
    asked = False
    for member in members_of(tx, actor.circle_id, to.household_id):
        key = f"{question.key}:{member.id}"
        if letters.with_key(tx, key) is not None:
            continue
        link = make_link(tx, actor.house, member, question.purpose, now, to.parcel.id)
        letter = question.wording(LetterReader(member.first_name, circle.name), about, link)
        write(tx, actor.house, member, letter, key, now)
        asked = True
    return asked
