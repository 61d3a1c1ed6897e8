"""The demo's households: what a season needs to show, and nothing that could be somebody real."""

import re
from collections import Counter
from datetime import date
from zoneinfo import ZoneInfo

import pytest

from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.paths import DEMO_DATA, REFERENCE_DATA
from tests.demo_data.reading import (
    TODAY,
    april_station,
    circle,
    households,
    km_between,
    members,
    places,
    position,
    table,
)


def room(household: str) -> list[tuple[int, int | None]]:
    """Plants standing and room, shelter by shelter."""
    standing: Counter[tuple[str, str]] = Counter()
    for batch in table("batches.csv"):
        if batch["household"] == household:
            standing[batch["place"], batch["shelter"]] += int(batch["plants"])
    return [
        (standing[place["name"], shelter["kind"]], shelter.get("room_pots"))
        for place in households()[household]["place"]
        for shelter in place["shelter"]
    ]


def test_the_share_out_closes_on_the_day_the_demo_stands_on():
    assert circle()["today"] == circle()["share_out"]["closes"] == TODAY
    assert TODAY.weekday() == 0
    assert circle()["share_out"]["opens"] < TODAY


def test_there_are_enough_households_and_towns():
    towns = {(place["town"], place["county"]) for place in places()}

    assert len(households()) >= 14
    assert len(towns) >= 7


def test_the_places_reach_from_the_south_coast_to_the_highlands():
    latitudes = [position(place)[0] for place in places()]

    assert min(latitudes) < 50.9
    assert max(latitudes) > 57
    assert "Highland" in {place["county"] for place in places()}


def test_one_or_two_households_lie_across_a_border():
    across = [p for p in places() if p["country"] != "GB" or p["subdivision"] == "NIR"]

    assert 1 <= len(across) <= 2


@pytest.mark.parametrize("place", places(), ids=lambda place: place["town"])
def test_every_place_is_within_reach_of_a_station(place):
    away, _ = april_station(place)

    assert away <= 100


def test_postal_districts_lie_near_their_town():
    centres = {
        row["outcode"]: (float(row["lat"]), float(row["lon"]))
        for row in table("uk_outcode_centroids.csv", REFERENCE_DATA)
    }
    given = [place for place in places() if "outcode" in place]

    assert given
    for place in given:
        assert km_between(position(place), centres[place["outcode"]]) < 10


def test_places_use_the_words_of_the_craft():
    for place in places():
        ZoneInfo(place["zone"])
        assert place["lie"] in set(Lie)
        assert place["shelter"]
        kinds = [shelter["kind"] for shelter in place["shelter"]]
        assert set(kinds) <= set(ShelterKind)
        assert len(kinds) == len(set(kinds))
        assert 0 <= place.get("home_by", 18) <= 24
        assert 0 <= place.get("height_m", 0) <= 400


def test_one_place_has_not_said_how_high_it_lies():
    assert sum("height_m" not in place for place in places()) == 1


def test_one_member_leads_the_circle():
    assert [m["first_name"] for m in members() if m.get("organiser")] == ["Winifred"]


def test_a_couple_shares_a_household():
    assert any(
        len(h["member"]) == 2 and all(m["account"] for m in h["member"])
        for h in households().values()
    )


def test_a_household_has_no_mail_and_another_member_no_account():
    without_mail = [
        h for h in households().values() if not any(m.get("email") for m in h["member"])
    ]

    assert without_mail
    assert not any(m["account"] for h in without_mail for m in h["member"])
    assert any(m.get("email") and not m["account"] for m in members())


def test_somebody_is_away_from_10_to_20_april():
    days = [a for h in households().values() for a in h.get("away", [])]

    assert any((a["first"], a["last"]) == (date(2027, 4, 10), date(2027, 4, 20)) for a in days)
    assert all(a["first"] <= a["last"] for a in days)


def test_somebody_can_receive_but_not_post():
    days = [a for h in households().values() for a in h.get("away", [])]

    assert any(a["cannot_post"] and not a["cannot_receive"] for a in days)


def test_some_post_only_on_weekdays_of_their_own():
    own = [h["posting_weekdays"] for h in households().values() if "posting_weekdays" in h]

    assert len(own) >= 3
    assert all(0 <= day <= 6 for days in own for day in days)
    assert {h["parcels_a_day"] for h in households().values()} == {3, 10}


def test_exactly_one_household_has_no_room_left():
    full = [
        name
        for name in households()
        if all(limit is not None and standing >= limit for standing, limit in room(name))
    ]

    assert full == ["Thirlow"]


@pytest.mark.parametrize("name", households())
def test_no_shelter_holds_more_than_its_room(name):
    assert all(limit is None or standing <= limit for standing, limit in room(name))


def test_some_gave_no_limit_of_room():
    assert any(limit is None for name in households() for _, limit in room(name))


def test_no_telephone_number_can_ring_anywhere():
    # Ofcom, telephone numbers for use in drama: 01632 960000 to 960999 (from memory).
    numbers = [m["telephone"] for m in members() if "telephone" in m]

    assert numbers
    assert len(set(numbers)) == len(numbers)
    assert all(re.fullmatch(r"01632 960\d{3}", number) for number in numbers)


def test_no_mail_address_can_reach_anybody():
    # RFC 2606 section 3 reserves example.org.
    mails = [m["email"] for m in members() if "email" in m]

    assert len(set(mails)) == len(mails)
    assert all(mail.endswith("@example.org") for mail in mails)


def test_no_postcode_names_an_area_that_exists():
    areas = {
        re.match("[A-Z]+", row["outcode"]).group()
        for row in table("uk_outcode_centroids.csv", REFERENCE_DATA)
    }
    codes = re.findall(r'"([A-Z]{1,2}\d{1,2} \d[A-Z]{2})"', _households_text())

    assert len(codes) == sum(h["place"][0]["country"] == "GB" for h in households().values())
    assert "XX" not in areas
    assert all(code.startswith("XX") for code in codes)


def _households_text() -> str:
    return (DEMO_DATA / "households.toml").read_text(encoding="utf-8")
