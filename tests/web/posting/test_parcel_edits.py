"""Two at once at the pages of a parcel: nothing is overwritten unseen, and nobody is thanked for what was not kept."""

import re
from datetime import date, timedelta

import pytest

from exchange.words.kernel.dates import day as day_words
from tests.app_fixtures import NOW, Visitor
from tests.builders.season import MONDAY, again

TUESDAY = MONDAY + timedelta(days=1)


@pytest.fixture
def here(both):
    return both[0]


@pytest.fixture
def parcel(season):
    return season.parcel_to("Effie")


@pytest.fixture
def sender(here, season):
    return Visitor(here, season.ring["Winnie"])


@pytest.fixture
def receiver(here, season):
    return Visitor(here, season.ring["Effie"])


def words(answer):
    """Give the page as it is read, spaces as one."""
    return " ".join(re.sub(r"<[^>]+>", " ", answer.text).replace("\u00a0", " ").split())


def version_in(answer, action=""):
    form = answer.text[answer.text.index(f'action="{action}"') :] if action else answer.text
    return re.search(r'name="version"[^>]*value="(\w+)"', form).group(1)


def test_a_day_moved_meanwhile_is_shown_beside_the_one_chosen(season, parcel, sender):
    plan = again(season, parcel).plan
    good = [one["day"] for one in plan["strip"] if one["word"] == "good"]
    path = f"/parcels/{parcel.id}/move"
    page = sender.get(f"{path}?day={good[0]}").text
    opened = re.search(r'name="version"[^>]*value="(\w+)"', page).group(1)
    assert sender.post(path, {"day": good[1], "version": opened}).status_code == 303

    second = sender.post(path, {"day": good[0], "version": opened})

    moved_to = day_words(date.fromisoformat(good[1])).replace("\u00a0", " ")
    assert second.status_code == 422
    assert f"This was changed meanwhile and is now: {moved_to}." in words(second)
    assert f'value="{good[0]}"' in second.text
    assert again(season, parcel).posting_day.isoformat() == good[1]
    latest = re.search(r'name="version"[^>]*value="(\w+)"', second.text).group(1)
    assert sender.post(path, {"day": good[0], "version": latest}).status_code == 303
    assert again(season, parcel).posting_day.isoformat() == good[0]


def test_a_day_of_posting_told_meanwhile_is_shown_beside_the_one_written(here, season, parcel):
    here.clock.at = NOW + timedelta(days=2)
    sender, partner = (Visitor(here, season.ring["Winnie"]) for _each in range(2))
    path = f"/parcels/{parcel.id}/posted"
    opened = version_in(sender.get(path))
    partner.post(path, {"day": MONDAY.isoformat(), "version": opened})

    second = sender.post(path, {"day": TUESDAY.isoformat(), "version": opened})

    assert second.status_code == 422
    assert "This was changed meanwhile and is now: Mon 5 April." in words(second)
    assert again(season, parcel).posted_on == MONDAY
    third = sender.post(path, {"day": TUESDAY.isoformat(), "version": version_in(second)})
    assert third.status_code == 303
    assert again(season, parcel).posted_on == TUESDAY


def test_a_way_chosen_meanwhile_is_shown_beside_the_one_chosen(here, season, parcel, sender):
    page = sender.get(f"/parcels/{parcel.id}")
    path = f"/parcels/{parcel.id}/way"
    opened = version_in(page, path)
    first, other = re.findall(r'<option value="(\d+)">([^<]+)</option>', page.text)[:2]
    partner = Visitor(here, season.ring["Winnie"])
    assert partner.post(path, {"way_id": first[0], "version": opened}).status_code == 303

    second = sender.post(path, {"way_id": other[0], "version": opened})

    assert second.status_code == 422
    assert f"This was changed meanwhile and is now: {first[1]}." in words(second)
    assert f'<option selected value="{other[0]}">' in second.text
    assert again(season, parcel).chosen_way_id == int(first[0])
    latest = version_in(second, path)
    assert sender.post(path, {"way_id": other[0], "version": latest}).status_code == 303
    assert again(season, parcel).chosen_way_id == int(other[0])
    assert sender.post(path, {"way_id": ""}).status_code == 303
    assert again(season, parcel).chosen_way_id is None


def test_the_way_of_a_parcel_on_its_way_is_told_to_be_fixed(parcel, sender):
    sender.post(f"/parcels/{parcel.id}/posted", {"day": MONDAY.isoformat()})

    led_back = sender.post(f"/parcels/{parcel.id}/way", {"way_id": ""})

    assert led_back.headers["Location"] == f"/parcels/{parcel.id}"
    assert "It is on its way already." in words(sender.get(f"/parcels/{parcel.id}"))


@pytest.mark.parametrize(
    ("path", "data"),
    [("came", {"day": TUESDAY.isoformat(), "condition": "limp"}), ("lost", {})],
)
def test_what_was_told_of_its_coming_stands_and_the_page_says_so(
    here, season, parcel, receiver, path, data
):
    here.clock.at = NOW + timedelta(days=2)
    came = {"day": MONDAY.isoformat(), "condition": "well"}
    receiver.post(f"/parcels/{parcel.id}/came", came)
    receiver.get("/todo")

    receiver.post(f"/parcels/{parcel.id}/{path}", data)

    page = words(receiver.get(f"/parcels/{parcel.id}"))
    assert "How it came was told before, and stands" in page
    assert "It came on Mon 5 April: all well." in page
    assert again(season, parcel).condition == "well"
