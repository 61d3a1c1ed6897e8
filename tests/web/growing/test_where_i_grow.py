"""My garden: places, shelters, posting days, address, days away; nothing typed is lost."""

from dataclasses import replace

import pytest

from exchange.actions.people.members import NewMember, add_member
from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.weather.forecast import Forecast
from exchange.records import AWAY, HOUSEHOLDS, MEMBERS, PLACES, SHELTERS, forecasts_kept
from tests.app_fixtures import NOW, Visitor

PLACE = {"name": "allotment", "town": "SY8", "lie": "hollow", "home_by": "17"}


def places(here, circle):
    with here.house.books.reading() as tx:
        return PLACES.all(tx, circle.circle_id, household_id=circle["Cuthbert"].household_id)


def household(here, circle):
    with here.house.books.reading() as tx:
        return HOUSEHOLDS.get(tx, circle.circle_id, circle["Cuthbert"].household_id)


def test_a_place_is_added_by_its_postal_district(here, circle, cuthbert):
    answer = cuthbert.post("/garden/places/new", PLACE)
    allotment = next(one for one in places(here, circle) if one.name == "allotment")

    assert answer.status_code == 303
    assert (allotment.town, allotment.lie, allotment.home_by) == ("Ludlow", Lie.HOLLOW, 17)
    assert (allotment.subdivision, allotment.height_m) == ("ENG", None)


def test_the_pin_can_be_corrected_and_the_town_stays(here, circle, cuthbert):
    (home,) = places(here, circle)
    form = {"name": "home", "town": home.town, "lie": "open", "home_by": "18"}

    answer = cuthbert.post(
        f"/garden/places/{home.id}",
        {**form, "latitude": "50.1234", "longitude": "-5.5", "height_m": "41"},
    )
    (changed,) = places(here, circle)

    assert answer.status_code == 303
    assert (changed.latitude, changed.longitude, changed.height_m) == (50.123, -5.5, 41.0)
    assert changed.town == home.town


def test_the_week_after_which_frost_is_rare_is_kept_shown_and_left_open_again(
    here, circle, cuthbert
):
    (home,) = places(here, circle)
    form = {"name": "home", "town": home.town, "lie": "open", "home_by": "18"}

    cuthbert.post(f"/garden/places/{home.id}", {**form, "frost_rare_day": "137"})
    (told,) = places(here, circle)
    page = cuthbert.get(f"/garden/places/{home.id}").text
    cuthbert.post(f"/garden/places/{home.id}", {**form, "frost_rare_day": ""})
    (open_again,) = places(here, circle)

    assert (home.frost_rare_day, told.frost_rare_day) == (None, 137)
    assert '<option selected value="137">10 to 16 May</option>' in page
    assert open_again.frost_rare_day is None


def test_a_week_that_is_no_week_of_spring_is_refused(here, circle, cuthbert):
    answer = cuthbert.post("/garden/places/new", {**PLACE, "frost_rare_day": "300"})

    assert answer.status_code == 422
    assert all(one.name != "allotment" for one in places(here, circle))


def test_moving_to_another_town_moves_the_pin(here, circle, cuthbert):
    (home,) = places(here, circle)
    form = {"name": "home", "lie": "open", "home_by": "18"}
    pin = {"latitude": str(home.latitude), "longitude": str(home.longitude)}

    cuthbert.post(f"/garden/places/{home.id}", {**form, **pin, "town": "Inverness, Highland"})
    (moved,) = places(here, circle)

    assert (moved.town, moved.subdivision) == ("Inverness", "SCT")
    assert moved.latitude > 57


def test_what_cannot_be_is_told_beside_the_field_and_nothing_is_lost(cuthbert):
    answer = cuthbert.post(
        "/garden/places/new", {**PLACE, "name": "top field", "height_m": "very high"}
    )

    assert answer.status_code == 422
    assert 'id="height_m-error"' in answer.text
    assert 'value="top field"' in answer.text
    assert 'value="very high"' in answer.text


def test_a_place_in_use_stays(here, circle, cuthbert):
    from exchange.actions.growing.batches import NewBatch, grow_too
    from exchange.actions.growing.varieties import name_variety
    from exchange.domain.growing.variety import Species

    actor = circle.actor("Cuthbert")
    variety = name_variety(actor, "Ferry Light", Species.DAHLIA, NOW)
    grow_too(actor, NewBatch(variety.id, 2), NOW)
    (home,) = places(here, circle)

    cuthbert.post(f"/garden/places/{home.id}/remove")
    told = cuthbert.get("/garden").text

    assert places(here, circle) == (home,)
    assert "still belong to home" in told


def test_room_is_asked_in_seed_trays_and_kept_in_pots(here, circle, cuthbert):
    (home,) = places(here, circle)

    cuthbert.post(f"/garden/places/{home.id}/shelter", {"kind": "cold", "trays": "2.5"})
    cuthbert.post(f"/garden/places/{home.id}/shelter", {"kind": "indoors", "trays": ""})
    with here.house.books.reading() as tx:
        shelters = SHELTERS.all(tx, circle.circle_id, place_id=home.id)
    page = cuthbert.get("/garden").text

    assert {one.kind: one.room_pots for one in shelters} == {
        ShelterKind.COLD: 20,
        ShelterKind.INDOORS: None,
    }
    assert "no limit given" in page
    assert "2.5\u00a0seed trays, that is 20\u00a0pots" in page


def test_the_same_shelter_told_of_twice_is_one(here, circle, cuthbert):
    (home,) = places(here, circle)

    for trays in ("1", "3"):
        cuthbert.post(f"/garden/places/{home.id}/shelter", {"kind": "cold", "trays": trays})
    with here.house.books.reading() as tx:
        (one,) = SHELTERS.all(tx, circle.circle_id, place_id=home.id)

    assert one.room_pots == 24


def test_height_is_taken_from_the_forecast_while_nobody_has_said(here, circle, cuthbert):
    (home,) = places(here, circle)
    unknown = cuthbert.get("/garden").text
    forecast = Forecast(home.id, "open-meteo", NOW, NOW, NOW, "", (), 61.0)
    with here.house.books.writing() as tx:
        forecasts_kept.add(tx, circle.circle_id, forecast)

    assert "nights are not corrected for height" in unknown
    assert "61\u00a0m, by the forecast" in cuthbert.get("/garden").text


def test_posting_days_and_parcels_a_day_are_the_households_own(here, circle, cuthbert):
    answer = cuthbert.post(
        "/garden/posting", {"posting_weekdays": ["0", "3"], "parcels_a_day": "5"}
    )
    none = cuthbert.post("/garden/posting", {"parcels_a_day": "5"})
    kept = household(here, circle)

    assert (answer.status_code, none.status_code) == (303, 422)
    assert (kept.posting_weekdays, kept.parcels_a_day) == (frozenset({0, 3}), 5)
    assert "Tick one day at least." in none.text


def test_address_safe_place_and_return_address(here, circle, cuthbert):
    cuthbert.post(
        "/garden/address",
        {
            "address": " 4 Quay Row \n\n Penzance ",
            "safe_place": "shed",
            "return_address_allowed": "y",
        },
    )
    kept = household(here, circle)

    assert kept.address == "4 Quay Row\nPenzance"
    assert (kept.safe_place, kept.return_address_allowed) == ("shed", True)


def test_whoever_is_away_can_neither_receive_nor_post_unless_they_say_so(cuthbert):
    page = cuthbert.get("/garden/away").text

    for name in ("cannot_receive", "cannot_post"):
        assert f'<input checked id="{name}"' in page


def test_days_away_are_kept_shown_to_oneself_only_and_taken_back(here, circle, cuthbert):
    cuthbert.post("/garden/away", {"first": "2027-07-08", "last": "2027-07-19", "cannot_post": "y"})
    with here.house.books.reading() as tx:
        (away,) = AWAY.all(tx, circle.circle_id)
    own = cuthbert.get("/garden").text
    cuthbert.post(f"/garden/away/{away.id}/take-back")

    assert (away.cannot_receive, away.cannot_post) == (False, True)
    assert "Thu\u00a08\u00a0July" in own
    assert "Thu\u00a08\u00a0July" not in cuthbert.get("/garden").text


@pytest.mark.parametrize(
    "days",
    [
        {"first": "2027-07-19", "last": "2027-07-08"},
        {"first": "2026-07-08", "last": "2026-07-19"},
        {"first": "2027-07-08", "last": "2029-07-19"},
        {"first": "", "last": "2027-07-19"},
    ],
)
def test_days_that_make_no_sense_are_refused(cuthbert, days):
    answer = cuthbert.post("/garden/away", {**days, "cannot_post": "y"})

    assert answer.status_code == 422
    assert "-error" in answer.text


def test_a_couple_shares_a_household_and_its_garden(here, circle, cuthbert):
    winnie = Visitor(here, circle["Winnie"])
    own = circle["Cuthbert"]
    actor = circle.actor("Winnie")
    member_id = add_member(actor, NewMember("Tamsin", household_id=own.household_id), NOW)
    with here.house.books.reading() as tx:
        tamsin = MEMBERS.get(tx, circle.circle_id, member_id)

    shown = cuthbert.get("/garden").text
    winnie.post(f"/act-for/{member_id}")
    acted = winnie.get("/garden").text

    assert tamsin.household_id == own.household_id
    assert "Tamsin" in shown
    assert "Penzance" in acted


def test_the_organiser_lets_two_members_share_a_household(here, circle):
    winnie = Visitor(here, circle["Winnie"])
    joined = circle["Winnie"].household_id

    answer = winnie.post(
        f"/people/{circle['Cuthbert'].id}/household", {"household_id": str(joined)}
    )
    with here.house.books.reading() as tx:
        moved = MEMBERS.get(tx, circle.circle_id, circle["Cuthbert"].id)
        towns = {one.town for one in PLACES.all(tx, circle.circle_id, household_id=joined)}
        old = HOUSEHOLDS.get(tx, circle.circle_id, circle["Cuthbert"].household_id)

    assert answer.status_code == 303
    assert moved == replace(circle["Cuthbert"], household_id=joined)
    assert towns == {"Ludlow", "Penzance"}
    assert old.left_on is not None
