"""What the page of one parcel shows, as far as the reader may see it."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from zoneinfo import ZoneInfo

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.labels import household_labels
from exchange.actions.posting.boxes import with_the_same_ends
from exchange.actions.posting.change_day import chosen_version
from exchange.actions.posting.diary import arrival_window, care_for, first_names, receiving
from exchange.actions.posting.in_parcel import InParcel, by_kind
from exchange.actions.posting.missing import gone_again, missing_of
from exchange.actions.posting.page_parcels import journey_of
from exchange.actions.posting.parcel_facts import facts_around, name_on_parcel, subject_of
from exchange.actions.posting.parcels import plan_of, posted_version
from exchange.actions.posting.post_anyway import AgainstAdvice, said_of
from exchange.actions.posting.warmth_ahead import WaitForWarmth, wait_for_warmth
from exchange.actions.posting.who_posts import WhoPosts, who_posts
from exchange.domain.arriving.arrival import ArrivalWindow, JourneyState
from exchange.domain.arriving.care import from_day, nights_ahead
from exchange.domain.arriving.nights import NightPlacement
from exchange.domain.circle.place import Place
from exchange.domain.facts import Facts
from exchange.domain.permissions import Permission, Subject, may
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.injury import tolerance
from exchange.domain.posting.parcel import OPEN, Line
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.way import Carriage
from exchange.domain.sharing.states import AllocationState
from exchange.domain.weather.forecast import Outlook, WeatherSource
from exchange.papers.fill import sheet_steps
from exchange.papers.paper import SheetStep
from exchange.records import ALLOCATIONS, HOUSEHOLDS, MEMBERS, PARCELS, WAYS, Tx
from exchange.records.rows.posting import ParcelRow, WayRow

NIGHTS_SHOWN = 10


class Side(StrEnum):
    """At which end of the parcel the reader stands."""

    SENDER = "sender"
    RECEIVER = "receiver"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True)
class ParcelEnd:
    """One end of the journey.

    Attributes
    ----------
    names : first names
    label : first names and county
    outlook : its coming nights, from yesterday on
    """

    names: str
    label: str
    place: Place
    outlook: Outlook


@dataclass(frozen=True, slots=True)
class Address:
    """Where the parcel goes; only the sender and the organiser see it.

    Attributes
    ----------
    lines : as on a label, the name first; empty when it was not given yet
    telephone : of members who gave leave, as "Effie 01632 960999"
    """

    lines: tuple[str, ...]
    safe_place: str
    telephone: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ParcelPage:
    """One parcel.

    Attributes
    ----------
    missing, made_good : plants in it that did not live, and whether a share-out gave any of them [plants]
    again : the parcel in which what came back goes again
    others_there : whether another open parcel goes between the same two places
    announced_days : at most so long before posting its day is announced [d]
    loss_limit : chance of losing the line most in danger above which it waits
    posted_version, chosen_version : of the day it was posted, and of the way chosen for it
    may_post, may_receive, may_plan : what the reader may say of it or ask for
    way, ways : the way it goes or went, and those it could go
    address : None where the reader may not see it, or has not lately proved who they are
    address_hidden : whether proving who they are would show it
    care_rows, nights : of the receiving place, as on the care sheet; empty while no day is known
    against : who chose its day against the plan's advice, and when
    warmth : for one that waits for warmth, how the usual nights come up to it
    heat_limit_c : warmth above which the tenderest of it is hurt [degrees C]
    """

    entry: ParcelRow
    plan: ParcelPlan | None
    side: Side
    sender: ParcelEnd
    receiver: ParcelEnd
    contents: tuple[InParcel, ...]
    way: WayRow | None
    ways: tuple[WayRow, ...]
    address: Address | None
    address_hidden: bool
    return_address_allowed: bool
    care_rows: tuple[SheetStep, ...]
    nights: tuple[NightPlacement, ...]
    expected: ArrivalWindow | None
    heat_limit_c: float | None
    warmth: WaitForWarmth | None
    against: AgainstAdvice | None
    journey: JourneyState
    missing: int
    made_good: bool
    again: ParcelRow | None
    announced_days: int
    loss_limit: float
    posted_version: str
    chosen_version: str
    who_posts: WhoPosts
    others_there: bool
    may_post: bool
    may_receive: bool
    may_plan: bool
    today: date
    zone: ZoneInfo

    def nights_that_matter(self) -> tuple[frozenset[date], frozenset[date]]:
        """Give the nights still to come by which it is judged, at the sender's end and at the receiver's.

        Those of its journey and those shown of the receiving place; while it has no day, those of every day weighed.
        """
        day = self.entry.posted_on or self.entry.posting_day
        if day is None or self.expected is None:
            weighed = {one.day for one in self.plan.strip} if self.plan and self.is_open else set()
            return frozenset(weighed), frozenset(weighed)
        posted = set() if self.entry.arrived_on else _from_to(day - timedelta(days=1), day)
        journey = set() if self.entry.arrived_on else _from_to(day, self.expected.last)
        nights = self.nights[:NIGHTS_SHOWN]
        shown = _from_to(nights[0].day, nights[-1].day) if nights else set()
        return (
            frozenset(one for one in posted if one >= self.today),
            frozenset(one for one in journey | shown if one >= self.today),
        )

    @property
    def is_open(self) -> bool:
        """Whether it can still be moved."""
        return self.entry.state in OPEN

    @property
    def may_split(self) -> bool:
        """Whether the reader may put it into two, or in with another."""
        return self.may_post and self.is_open and (self.plants > 1 or self.others_there)

    @property
    def is_late(self) -> bool:
        """Whether it has gone, or probably has, its days are over and its end is not told."""
        gone = {JourneyState.OVERDUE, JourneyState.PROBABLY_POSTED}
        return (
            self.journey in gone and self.expected is not None and self.today > self.expected.last
        )

    @property
    def by_hand(self) -> bool:
        return self.way is not None and self.way.carriage == Carriage.BY_HAND.value

    @property
    def plants(self) -> int:
        return sum(one.line.count for one in self.contents)

    @property
    def is_asked(self) -> bool:
        """Whether whoever chose its day is asked to leave it, and has not answered."""
        return self.is_open and self.entry.question is not None and not self.entry.day_kept

    @property
    def in_box(self) -> tuple[InParcel, ...]:
        """Give what is in it, one line for each kind of plant."""
        return by_kind(self.contents)

    @property
    def to_agree(self) -> tuple[InParcel, ...]:
        """Give what the sender has still to say yes to, one line for each kind of plant."""
        return by_kind(one for one in self.contents if not one.agreed) if self.is_open else ()


def _from_to(first: date, last: date) -> set[date]:
    return {first + timedelta(days=number) for number in range((last - first).days + 1)}


def parcel_page(actor: Actor, parcel_id: int, now: datetime, *, fresh: bool) -> ParcelPage:
    """Show one parcel.

    Parameters
    ----------
    fresh : whether the reader has lately proved who they are, as addresses need
    """
    with actor.books.reading() as tx:
        return page_of(tx, actor, parcel_id, now, fresh=fresh)


def page_of(tx: Tx, actor: Actor, parcel_id: int, now: datetime, *, fresh: bool) -> ParcelPage:
    """Show one parcel within a transaction; see `parcel_page`."""
    entry = PARCELS.get(tx, actor.circle_id, parcel_id)
    subject = subject_of(tx, actor, entry, now)
    actor.must(Permission.SEE_PARCEL, subject)
    facts = facts_around(tx, actor.circle_id, entry, now)
    circle = circle_of(actor, tx)
    lines = facts.parcels[0].lines
    ways = WAYS.all(tx, actor.circle_id)
    window = arrival_window(entry)
    at = receiving(facts, entry, window) if window else None
    today = today_in(circle, now)
    side = _side(actor, entry)
    may_see = _may_see_address(actor, side, subject)
    sender = HOUSEHOLDS.get(tx, actor.circle_id, entry.sender_household_id)
    missing = missing_of(tx, actor.circle_id, parcel_id)
    return ParcelPage(
        entry=entry,
        plan=plan_of(entry),
        side=side,
        sender=_end(tx, actor.circle_id, facts, entry.sender_place_id),
        receiver=_end(tx, actor.circle_id, facts, entry.receiver_place_id),
        contents=_contents(tx, actor.circle_id, facts, lines),
        way=next((one for one in ways if one.id == entry.way_id), None),
        ways=tuple(one for one in ways if _could_go(one, entry, facts)),
        address=_address(tx, actor, entry) if may_see and fresh else None,
        address_hidden=may_see and not fresh,
        return_address_allowed=sender.return_address_allowed,
        care_rows=sheet_steps(from_day(care_for(facts, entry, window), today)),
        nights=nights_ahead(lines, window, at) if window and at else (),
        expected=window,
        heat_limit_c=_heat_limit(lines),
        against=said_of(tx, actor, entry),
        warmth=wait_for_warmth(tx, actor.circle_id, entry, lines, today),
        journey=journey_of(entry, today),
        missing=sum(one.count for one in missing),
        made_good=any(one.share_out_id is not None for one in missing),
        again=next(iter(gone_again(tx, actor.circle_id, entry)), None),
        announced_days=facts.terms.announced_days,
        loss_limit=loss_limit(facts.parcels[0], facts),
        posted_version=posted_version(entry),
        chosen_version=chosen_version(entry),
        others_there=bool(with_the_same_ends(tx, actor.circle_id, entry)),
        who_posts=who_posts(tx, actor, entry, subject),
        may_post=may(actor.person, Permission.SAY_POSTED, subject),
        may_receive=may(actor.person, Permission.SAY_ARRIVED, subject),
        may_plan=may(actor.person, Permission.RUN_CIRCLE),
        today=today,
        zone=ZoneInfo(circle.zone),
    )


def _may_see_address(actor: Actor, side: Side, subject: Subject) -> bool:
    """Say whether the page shows where it goes; a receiver knows."""
    return side is not Side.RECEIVER and may(actor.person, Permission.SEE_RECEIVER_ADDRESS, subject)


def _side(actor: Actor, entry: ParcelRow) -> Side:
    if actor.household_id == entry.sender_household_id:
        return Side.SENDER
    return Side.RECEIVER if actor.household_id == entry.receiver_household_id else Side.NEITHER


def _end(tx: Tx, circle_id: int, facts: Facts, place_id: int) -> ParcelEnd:
    place = facts.places[place_id]
    nothing = Outlook(place.id, (), WeatherSource.NONE)
    return ParcelEnd(
        first_names(tx, circle_id).get(place.household_id, ""),
        household_labels(tx, circle_id).get(place.household_id, ""),
        place,
        facts.outlooks.get(place.id, nothing),
    )


def _contents(
    tx: Tx, circle_id: int, facts: Facts, lines: tuple[Line, ...]
) -> tuple[InParcel, ...]:
    ids = {line.allocation_id for line in lines}
    asked = {
        one.id for one in ALLOCATIONS.all(tx, circle_id, id=ids, state=AllocationState.CONFIRMED)
    }
    return tuple(
        InParcel(line, facts.varieties[line.variety_id], line.allocation_id not in asked)
        for line in lines
    )


def _could_go(way: WayRow, entry: ParcelRow, facts: Facts) -> bool:
    """Say whether a way could be chosen: one of the sender's country, or by hand."""
    country = facts.places[entry.sender_place_id].country
    return way.used and (way.country in (country, "") or way.carriage == Carriage.BY_HAND.value)


def _heat_limit(lines: tuple[Line, ...]) -> float | None:
    limits = [tolerance(one.species, one.material, one.raised).heat[0] for one in lines]
    return min(limits, default=None)


def _address(tx: Tx, actor: Actor, entry: ParcelRow) -> Address:
    receiver = HOUSEHOLDS.get(tx, actor.circle_id, entry.receiver_household_id)
    members = MEMBERS.all(tx, actor.circle_id, household_id=receiver.id, left_at=None)
    lines = tuple(line for line in receiver.address.splitlines() if line.strip())
    name = name_on_parcel(tx, actor.circle_id, receiver.id)
    return Address(
        (name, *lines) if lines else (),
        receiver.safe_place,
        tuple(
            f"{one.first_name} {one.telephone}"
            for one in members
            if one.telephone and one.telephone_allowed
        ),
    )
