"""Every way and day on which a parcel could go, with its odds, its loss and what stops it."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from exchange.domain.circle.away import Away
from exchange.domain.circle.place import Place
from exchange.domain.growing.shelter import Shelter
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.injury import ToleranceCurves, curves, tolerance
from exchange.domain.posting.packing import Packing
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.reasons import Stop
from exchange.domain.posting.transit import ArrivalChance, arrivals
from exchange.domain.posting.way import Carriage, Way


@dataclass(frozen=True, slots=True)
class Option:
    """One way on one day for one parcel.

    Attributes
    ----------
    offset : days after the first day planned [d]
    loss : chance of loss of the line most in danger; not a number where the weather is unknown
    lost : expected plants lost, over all lines [plants]
    box_middle, box_tenth : lowest temperature in the box if it comes on the likeliest day: median, and
        the value it falls below in 1 future of 10 [degrees C]
    """

    parcel_id: int
    day: date
    offset: int
    way: Way
    coming: tuple[ArrivalChance, ...]
    packing: Packing
    loss: float
    lost: float
    box_middle: float
    box_tenth: float
    stop: Stop | None = None

    @property
    def allowed(self) -> bool:
        """Whether it may be chosen: nothing stops it."""
        return self.stop is None


@dataclass(frozen=True, slots=True)
class ParcelCase:
    """A parcel with what its planning needs at hand.

    Attributes
    ----------
    today, local_now : the sender's day and time
    away : days away of the two households
    shelters, room : of the receiver's place; None is no limit [pots]
    """

    parcel: Parcel
    sender: Place
    receiver: Place
    today: date
    local_now: datetime
    ways: tuple[Way, ...]
    away: tuple[Away, ...] = ()
    shelters: tuple[Shelter, ...] = ()
    room: int | None = None


@dataclass(slots=True)
class Odds:
    """Arrival days, worked out once for each way, day and area."""

    around: Circumstances
    known: dict[tuple[int, date, str, str, bool], tuple[ArrivalChance, ...]] = field(
        default_factory=dict
    )

    def coming(self, way: Way, posted: date, receiver: Place) -> tuple[ArrivalChance, ...]:
        """Give the days on which a parcel posted on the day may come to a place."""
        key = (way.id, posted, receiver.country, receiver.subdivision, receiver.rural_extra_day)
        if key not in self.known:
            self.known[key] = arrivals(
                way,
                posted,
                self.around.closures_at(receiver),
                answers=self.around.answers.get(way.id, ()),
                extra_day=receiver.rural_extra_day,
            )
        return self.known[key]


def ways_for(parcel: Parcel, sender: Place, ways: Iterable[Way]) -> tuple[Way, ...]:
    """List the ways a parcel may take: the one fixed for it, or the postal ones of its country."""
    if parcel.chosen_way_id is not None:
        return tuple(way for way in ways if way.id == parcel.chosen_way_id)
    return tuple(
        way for way in ways if way.carriage is Carriage.POST and way.country == sender.country
    )


def cases(
    parcels: Sequence[Parcel], around: Circumstances, now: datetime
) -> tuple[ParcelCase, ...]:
    """Lay out the parcels to plan; a sender's day is the day in the sender's zone."""
    laid: list[ParcelCase] = []
    ways = [around.ways[key] for key in sorted(around.ways)]
    shelters: defaultdict[int, list[Shelter]] = defaultdict(list)
    for shelter in around.shelters:
        shelters[shelter.place_id].append(shelter)
    for parcel in parcels:
        sender = around.places[parcel.sender_place_id]
        local = now.astimezone(ZoneInfo(sender.zone))
        laid.append(
            ParcelCase(
                parcel,
                sender,
                around.places[parcel.receiver_place_id],
                local.date(),
                local,
                ways_for(parcel, sender, ways),
                tuple(one for one in around.away if one.household_id in _ends(parcel)),
                tuple(shelters[parcel.receiver_place_id]),
                room_in(shelters[parcel.receiver_place_id]),
            )
        )
    return tuple(laid)


def _ends(parcel: Parcel) -> tuple[int, int]:
    return parcel.posted_by, parcel.receiver_household_id


def room_in(shelters: Iterable[Shelter]) -> int | None:
    """Add up the room for pots, or give None where one was not given or no shelter is."""
    rooms = [one.room_pots for one in shelters]
    if not rooms or None in rooms:
        return None
    return sum(room for room in rooms if room is not None)


def days_from(first: date, count: int) -> tuple[date, ...]:
    """List consecutive days."""
    return tuple(first + timedelta(days=n) for n in range(count))


def stock_kinds(case: ParcelCase) -> dict[ToleranceCurves, int]:
    """Count the plants of a parcel by their curves of loss."""
    kinds: dict[ToleranceCurves, int] = {}
    for line in case.parcel.lines:
        kind = curves(tolerance(line.species, line.material, line.raised))
        kinds[kind] = kinds.get(kind, 0) + line.count
    return kinds
