"""Builders for parcels that arrive: lines, windows, nights and the place that receives."""

from datetime import date, timedelta

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.care import Receiving, care_steps, nights_ahead
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.season import Season
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import Line
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource

WEDNESDAY = date(2027, 4, 28)


def a_line(
    allocation_id=1,
    species=Species.DAHLIA,
    material=Material.ROOTED,
    raised=Raised.IN_HEAT,
    count=3,
):
    return Line(
        allocation_id=allocation_id,
        spare_id=allocation_id,
        variety_id=allocation_id,
        species=species,
        material=material,
        raised=raised,
        count=count,
        ready_from=date(2027, 4, 1),
        send_by=date(2027, 6, 1),
    )


def a_window(first=WEDNESDAY, days=3):
    return ArrivalWindow(first, first + timedelta(days=days - 1))


def an_outlook(first=WEDNESDAY, lows=(), sd=1.5, source=WeatherSource.FORECAST, **more):
    nights = tuple(
        Night(first + timedelta(days=n), low, sd, low + 9, source) for n, low in enumerate(lows)
    )
    return Outlook(1, nights, source if nights else WeatherSource.NONE, **more)


def a_season(safe=date(2027, 6, 1), **changes):
    """The dates of a place where everything may go out on one day; None: nothing is known."""
    if safe is None:
        return None
    names = ("frost_rare", "ground_frost_unusual", "mild", "nights_8", "nights_10")
    values = dict.fromkeys(names, safe) | {"last_night_10": safe + timedelta(days=90)}
    return Season(**(values | changes))


def a_receiver(
    kinds=(ShelterKind.FROST_FREE,), outlook=None, safe_date=date(2027, 6, 1), **changes
):
    return Receiving(
        shelters=tuple(Shelter(1, kind) for kind in kinds),
        outlook=an_outlook() if outlook is None else outlook,
        season=a_season(safe_date, **changes),
    )


def nights_of(lines, at, window=None):
    return nights_ahead(lines, a_window() if window is None else window, at)


def steps_of(lines, at=None, window=None):
    return care_steps(
        lines, a_window() if window is None else window, a_receiver() if at is None else at
    )


def step_of(kind, steps):
    found = [step for step in steps if step.kind is kind]
    assert len(found) == 1, found
    return found[0]
