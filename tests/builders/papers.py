"""Builders for the facts that papers are filled from."""

from datetime import UTC, date, datetime, time

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from exchange.papers.fill import InBox, ParcelFacts, ReceivingPlace
from exchange.words.posting.papers import Going
from tests.builders.arrivals import a_line, a_receiver, a_window, an_outlook

TUESDAY = date(2027, 4, 27)
LOWS = (5.0, 4.5, 4.0, 2.5, 1.5, 3.5, 4.5, 5.5, 6.0)
ISSUED = datetime(2027, 4, 26, 18, tzinfo=UTC)


def some_contents():
    return (
        InBox(a_line(1, count=3), "Chapel Lantern"),
        InBox(a_line(2, count=2), "Tin Kettle"),
    )


def mixed_contents():
    return (
        *some_contents(),
        InBox(a_line(3, Species.PELARGONIUM, Material.UNROOTED, Raised.COOL, 4), "Ferry Bell"),
        InBox(a_line(4, Species.DAHLIA, Material.DIVISION, Raised.COOL, 1), "Old Sluice"),
    )


def parcel_facts(contents=None, by_hand=False, **more):
    values = {
        "circle": "The Wending Circle",
        "code": "Bramble 27",
        "sender_first_name": "Maud",
        "receiver_first_name": "Colin",
        "contents": some_contents() if contents is None else contents,
        "going": Going("First class, small parcel", by_hand, TUESDAY, time(16)),
        "expected": a_window(),
        "weather_source": WeatherSource.FORECAST,
        "wait_limit_c": 1.5,
        "issued_at": ISSUED,
        "address": ("Colin Strake", "3 Gill Row", "Arrow Foot", "XX9 9XX"),
    }
    return ParcelFacts(**(values | more))


def a_place(outlook=None, **more):
    known = an_outlook(lows=LOWS, attribution="Weather data: a saved forecast")
    receiving = a_receiver(outlook=known if outlook is None else outlook, **more)
    return ReceivingPlace(receiving, "Arrow Foot", "GB", "ENG", ISSUED)
