"""The papers of a parcel: packing slip, care sheet, labels, and four lines for a card."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.diary import arrival_window, first_names, receiving
from exchange.actions.posting.parcel_facts import facts_around, name_on_parcel, subject_of
from exchange.actions.posting.plan_facts import facts_of
from exchange.actions.posting.post_anyway import said_of
from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.facts import Facts
from exchange.domain.permissions import Permission, Subject
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.reasons import Topic
from exchange.domain.posting.way import Carriage
from exchange.papers.fill import (
    InBox,
    ParcelFacts,
    ReceivingPlace,
    card_of,
    care_sheet_of,
    labels_of,
    slip_of,
)
from exchange.papers.fill import without_addresses as slip_without
from exchange.papers.grids import GRIDS
from exchange.papers.labels import MOST_LABELS, Start, TooManyLabelsError, labels_pdf
from exchange.papers.paper import CareSheet, PageSize, Slip
from exchange.papers.printing import bundle_pdf
from exchange.records import HOUSEHOLDS, PARCELS, Tx
from exchange.records.columns import from_plain
from exchange.records.rows.people import HouseholdRow
from exchange.records.rows.posting import ParcelRow
from exchange.words.posting.anyway import chosen_by
from exchange.words.posting.papers import Going
from exchange.words.posting.posting_days import packing

PAGE_SIZES = tuple(size.value for size in PageSize)
LABEL_SHEETS = {key: f"{grid.page.value.upper()}: {grid.name}" for key, grid in GRIDS.items()}
"""The sheets of labels known, by key, with the paper and the size as the packet gives it."""

USUAL_SHEET = {"a4": "a4-21", "letter": "letter-30"}
TO_POST = frozenset({ParcelState.PLANNED, ParcelState.ANNOUNCED})


class NothingToPrintError(RefusedError):
    """The parcel is empty or not the reader's to print."""


@dataclass(frozen=True, slots=True)
class LabelsWanted:
    """Which sheet of labels, and where printing begins on it.

    Attributes
    ----------
    sheet : a key of `LABEL_SHEETS`
    used : labels already taken from the first sheet
    right_mm, down_mm : correction of the printer [mm]
    outline : whether the edges are drawn, to try it on plain paper
    """

    sheet: str
    used: int = 0
    right_mm: float = 0.0
    down_mm: float = 0.0
    outline: bool = False


@dataclass(frozen=True, slots=True)
class Papers:
    """What is printed for one parcel; the slip is the sender's, the care sheet goes in the box.

    Attributes
    ----------
    slip : without any address where the reader may not see it
    """

    slip: Slip
    care_sheet: CareSheet
    card: tuple[str, ...]
    facts: ParcelFacts


def papers_of(actor: Actor, parcel_id: int, now: datetime) -> Papers:
    """Give the papers of a parcel the actor may see."""
    with actor.books.reading() as tx:
        entry = PARCELS.get(tx, actor.circle_id, parcel_id)
        actor.must(Permission.SEE_PARCEL, subject_of(tx, actor, entry, now))
        facts = facts_around(tx, actor.circle_id, entry, now)
        return _papers(tx, actor, entry, facts, now)


def household_papers(
    actor: Actor, now: datetime, household_id: int | None = None
) -> tuple[tuple[ParcelRow, Papers], ...]:
    """Give the papers of all that a household has still to post, by posting day.

    Parameters
    ----------
    household_id : one's own, or for the organiser anybody's
    """
    own_id = actor.own_household()
    household_id = own_id if household_id is None else household_id
    if household_id != own_id:
        actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        going = PARCELS.all(tx, actor.circle_id, state=TO_POST)
        entries = [
            one for one in going if one.posted_by == household_id and one.posting_day is not None
        ]
        return tuple(
            (entry, _papers(tx, actor, entry, around, now))
            for entry in sorted(entries, key=lambda one: (one.posting_day or date.max, one.code))
            if (around := facts_around(tx, actor.circle_id, entry, now)).parcels[0].lines
        )


def all_papers(actor: Actor, now: datetime) -> tuple[tuple[ParcelRow, Papers], ...]:
    """Give the papers of every parcel the actor may see that has plants in it, by code."""
    with actor.books.reading() as tx:
        facts = facts_of(tx, actor.circle_id, now)
        filled = {parcel.id for parcel in facts.parcels if parcel.lines}
        entries = [one for one in PARCELS.all(tx, actor.circle_id) if one.id in filled]
        return tuple(
            (entry, _papers(tx, actor, entry, facts, now))
            for entry in sorted(entries, key=lambda one: one.code)
        )


def printed(papers: Sequence[Papers], page: str) -> bytes:
    """Give slips and care sheets as one PDF, on "a4" or "letter"."""
    sheets: list[Slip | CareSheet] = []
    for one in papers:
        sheets += [one.slip, one.care_sheet]
    if not sheets:
        raise NothingToPrintError("There is nothing to print yet.")
    return bundle_pdf(sheets, PageSize(page))


def printed_one(paper: Slip | CareSheet, page: str) -> bytes:
    """Give one paper as PDF, on "a4" or "letter"."""
    return bundle_pdf((paper,), PageSize(page))


def printed_labels(papers: Sequence[Papers], wanted: LabelsWanted) -> bytes:
    """Give pot labels, one for each plant."""
    labels = [label for one in papers for label in labels_of(one.facts)]
    if not labels or wanted.sheet not in GRIDS:
        raise NothingToPrintError("There is nothing to print yet.")
    start = Start(wanted.used, wanted.right_mm, wanted.down_mm, wanted.outline)
    try:
        return labels_pdf(labels, GRIDS[wanted.sheet], papers[0].facts.circle, start)
    except TooManyLabelsError as error:
        raise NothingToPrintError(
            f"At most {MOST_LABELS} labels at a time; these are {len(labels)}."
        ) from error


def without_addresses(papers: Papers) -> Papers:
    """Give the papers for somebody who has not lately proved who they are."""
    return replace(papers, slip=slip_without(papers.slip))


def _papers(tx: Tx, actor: Actor, entry: ParcelRow, facts: Facts, now: datetime) -> Papers:
    subject = subject_of(tx, actor, entry, now)
    actor.must(Permission.SEE_PARCEL, subject)
    place = facts.places[entry.receiver_place_id]
    there = now.astimezone(ZoneInfo(place.zone))
    parcel = _parcel_facts(tx, actor, entry, facts, (subject, there.date()))
    at = receiving(facts, entry, parcel.expected)
    issued = at.outlook.issued_at
    where = ReceivingPlace(
        at, place.town, place.country, place.subdivision,
        issued.astimezone(there.tzinfo) if issued else None, there.date(),
    )  # fmt: skip
    return Papers(slip_of(parcel), care_sheet_of(parcel, where), card_of(parcel, where), parcel)


def _parcel_facts(
    tx: Tx, actor: Actor, entry: ParcelRow, facts: Facts, seen: tuple[Subject, date]
) -> ParcelFacts:
    """Give what papers need of a parcel, as a reader may see it on a day."""
    subject, today = seen
    circle = circle_of(actor, tx)
    names = first_names(tx, actor.circle_id)
    lines = next(one.lines for one in facts.parcels if one.id == entry.id)
    if not lines:
        raise NothingToPrintError("There is nothing in this parcel.")
    way = facts.ways.get(entry.way_id or 0)
    by_hand = way is not None and way.carriage is Carriage.BY_HAND
    plan = from_plain(ParcelPlan, entry.plan) if entry.plan else None
    sender = HOUSEHOLDS.get(tx, actor.circle_id, entry.sender_household_id)
    receiver = HOUSEHOLDS.get(tx, actor.circle_id, entry.receiver_household_id)
    day = entry.posted_on or (entry.posting_day if entry.is_announced else None)
    outlook = facts.outlooks.get(entry.sender_place_id)
    zone = ZoneInfo(facts.places[entry.sender_place_id].zone)
    issued = outlook.issued_at if outlook else None
    return ParcelFacts(
        circle=circle.name,
        code=entry.code,
        sender_first_name=names.get(sender.id, ""),
        receiver_first_name=names.get(receiver.id, ""),
        contents=tuple(InBox(line, facts.varieties[line.variety_id].name) for line in lines),
        going=Going(
            way.name if way else "",
            by_hand,
            day,
            way.cut_off if way else None,
            packing(plan.packing) if plan and not by_hand else "",
        ),
        expected=_expected(entry, plan, max(line.ready_from for line in lines), today),
        weather_source=entry.weather_source,
        wait_limit_c=plan.warn_at_c if plan else None,
        issued_at=issued.astimezone(zone) if issued else None,
        against_advice=_against_advice(tx, actor, entry),
        address=_address(tx, actor, receiver, subject),
        return_address=_return_address(tx, actor.circle_id, sender),
    )


def _against_advice(tx: Tx, actor: Actor, entry: ParcelRow) -> str:
    said = said_of(tx, actor, entry)
    return "" if said is None else chosen_by(said.who, said.at, said.loss)


def _expected(entry: ParcelRow, plan: ParcelPlan | None, ready: date, today: date) -> ArrivalWindow:
    """Give the days on which it comes or came; what is still to come does so from today on.

    Without a day it is reckoned to come once it is ready and nights are warm enough.
    """
    window = arrival_window(entry)
    if window is None:
        warm = [one.first for one in plan.reasons if one.about is Topic.WARM_FROM] if plan else []
        soonest = max([ready, *(day for day in warm if day is not None)])
        day = entry.posting_day or soonest
        window = ArrivalWindow(day, day)
    if entry.arrived_on is not None:
        return window
    return ArrivalWindow(max(window.first, today), max(window.last, today))


def _address(tx: Tx, actor: Actor, receiver: HouseholdRow, subject: Subject) -> tuple[str, ...]:
    """Give the receiver's address where the reader may see it."""
    try:
        actor.must(Permission.SEE_RECEIVER_ADDRESS, subject)
    except PermissionError:
        return ()
    lines = tuple(line for line in receiver.address.splitlines() if line.strip())
    return (name_on_parcel(tx, actor.circle_id, receiver.id), *lines) if lines else ()


def _return_address(tx: Tx, circle_id: int, sender: HouseholdRow) -> tuple[str, ...]:
    """Give the sender's address where they let it stand on the outside."""
    lines = tuple(line for line in sender.address.splitlines() if line.strip())
    if not (sender.return_address_allowed and lines):
        return ()
    return (name_on_parcel(tx, circle_id, sender.id), *lines)
