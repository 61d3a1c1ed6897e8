"""A small circle in the middle of its season: one sends, two are given plants, the forecast is known."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from exchange.actions.growing.varieties import name_variety
from exchange.actions.kernel.actor import Actor, House, clock_actor
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.actions.sharing.share_out import (
    NewShareOut,
    confirm_share_out,
    open_share_out,
    work_out_share_out,
)
from exchange.actions.sharing.spares import NewSpare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.optimise.programme import never_stop
from exchange.domain.weather.forecast import Forecast, Reading
from exchange.records import PARCELS, PLACES, Tx, circles, forecasts_kept
from exchange.records.rows.posting import ParcelRow
from tests.app_fixtures import NOW, Ring, ring

MILD_C, FROST_C = 11.0, -6.0
MONDAY = date(2027, 4, 5)
EVE = NOW - timedelta(hours=21)
"""Sunday at noon, the last round at which Monday is announced and told."""


def again(season: "Season", parcel: ParcelRow) -> ParcelRow:
    """Give the parcel as it is kept now."""
    with season.house.books.reading() as tx:
        return PARCELS.get(tx, season.circle_id, parcel.id)


def morning(day: date, hour: int = 8) -> datetime:
    """Give an instant of a day in April, given in the hours of Britain's summer time."""
    return datetime.combine(day, time(hour), UTC) - timedelta(hours=1)


@dataclass
class Season:
    """A circle whose plants are given.

    Attributes
    ----------
    spares, claims : ids, by household's first name
    """

    ring: Ring
    house: House
    variety_id: int
    spares: dict[str, int]
    claims: dict[str, int]
    share_out_id: int

    @property
    def circle_id(self) -> int:
        return self.ring.circle_id

    @property
    def clock(self) -> Actor:
        return clock_actor(self.house, self.circle_id)

    @property
    def organiser(self) -> Actor:
        return self.ring.actor("Winnie")

    def parcels(self) -> tuple[ParcelRow, ...]:
        with self.house.books.reading() as tx:
            return PARCELS.all(tx, self.circle_id)

    def parcel_to(self, first_name: str) -> ParcelRow:
        wanted = self.ring[first_name].household_id
        return next(one for one in self.parcels() if one.receiver_household_id == wanted)

    def plan(self, now: datetime = NOW) -> None:
        replan(self.organiser, now)


def announce(season: Season) -> None:
    """Plan at the noon before, when Monday can still be announced; the weather is mild."""
    tell_weather(season, EVE)
    season.plan(EVE)


def tell_weather(season: Season, now: datetime, frost: tuple[date, ...] = ()) -> None:
    """Keep a forecast for every place: mild nights except those that begin on the given days."""
    tell_weather_in(season.house, season.circle_id, now, frost)


def tell_weather_in(
    house: House, circle_id: int, now: datetime, frost: tuple[date, ...] = ()
) -> None:
    """Do the same for any circle."""
    with house.books.writing() as tx:
        for place in PLACES.all(tx, circle_id):
            forecasts_kept.add(tx, circle_id, a_course(place.id, now, frost))


def a_course(place_id: int, now: datetime, frost: tuple[date, ...]) -> Forecast:
    """Give sixteen days of hours: cold from six in the evening to ten in the morning of a frost."""
    first = datetime.combine(now.date() - timedelta(days=1), time(0), UTC)
    readings = []
    for hour in range(24 * 16):
        at = first + timedelta(hours=hour)
        begins = at.date() if at.hour >= 18 else at.date() - timedelta(days=1)
        cold = begins in frost and (at.hour >= 18 or at.hour < 10)
        readings.append(Reading(at, FROST_C if cold else MILD_C))
    return Forecast(
        place_id, "Open-Meteo", now, now, now + timedelta(hours=6), "", tuple(readings), 60.0
    )


def a_season(
    house: House,
    *,
    members=("Winnie", "Cuthbert", "Effie"),
    claimants=("Cuthbert", "Effie"),
    asked=1,
    count=2,
    confirmed=True,
    now=NOW,
) -> Season:
    """Let Winnie list rooted cuttings, others claim them, and the share-out be confirmed."""
    circle = ring(house, members=members, now=now - timedelta(days=30))
    organiser = circle.actor("Winnie")
    variety = name_variety(organiser, "Chapel Lantern", Species.DAHLIA, now)
    share_out_id = open_share_out(organiser, NewShareOut("Spring", now.date(), "4711"), now)
    spares = {"Winnie": list_spare(organiser, a_spare(variety.id, count, now), now)}
    claims = {
        name: claim(circle.actor(name), NewClaim(variety.id, asked), now) for name in claimants
    }
    season = Season(circle, house, variety.id, spares, claims, share_out_id)
    if confirmed:
        work_out_share_out(organiser, share_out_id, never_stop, now)
        confirm_share_out(organiser, share_out_id, now)
    return season


def a_spare(variety_id: int, count: int = 2, now: datetime = NOW, **changes) -> NewSpare:
    values = {
        "material": Material.ROOTED,
        "raised": Raised.COOL,
        "ready_from": now.date(),
        "send_by": now.date() + timedelta(days=42),
        "roots_seen": True,
        "may_go": True,
    } | changes
    return NewSpare(variety=variety_id, count=count, **values)


def set_terms(tx: Tx, season: Season, **terms) -> None:
    """Change the circle's terms of posting."""
    circle = circles.get(tx, season.circle_id)
    circles.change(tx, season.circle_id, terms={**circle.terms, "posting": terms})
