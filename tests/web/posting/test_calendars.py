"""Calendars as programs fetch them: RFC 9110 for HTTP, RFC 5545 for what is in them."""

import re
from urllib.parse import urlsplit

import ics
import pytest
import vobject
from icalendar import Calendar

from tests.app_fixtures import NOW, Visitor, site
from tests.builders.season import a_season, tell_weather


@pytest.fixture(scope="module")
def here(tmp_path_factory):
    with site(tmp_path_factory.mktemp("calendars")) as made:
        yield made


@pytest.fixture(scope="module")
def season(here):
    made = a_season(here.house)
    tell_weather(made, NOW)
    made.plan()
    return made


def address_in(answer):
    found = re.search(r"https?://[^<\s\"]+/cal/[^<\s\"]+\.ics", answer.text)
    assert found, answer.status
    return urlsplit(found.group()).path


@pytest.fixture(scope="module")
def path(here, season):
    return address_in(Visitor(here, season.ring["Effie"]).post("/calendars/member/address"))


@pytest.fixture
def program(here):
    """A calendar program: nobody signed in."""
    return here.app.test_client()


def test_it_is_served_as_a_calendar_and_read_by_three_libraries(season, path, program):
    answer = program.get(path)
    assert answer.status_code == 200
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.headers["Content-Length"] == str(len(answer.data))
    code = season.parcel_to("Effie").code
    line = f"{code} should come from Winnie"
    assert line in {str(one["SUMMARY"]) for one in Calendar.from_ical(answer.data).walk("VEVENT")}
    assert line in {one.name for one in ics.Calendar(answer.text).events}
    assert line in {one.summary.value for one in vobject.readOne(answer.text).contents["vevent"]}


def test_no_cookie_no_redirect_no_sign_in(path, program):
    answer = program.get(path, headers={"Accept": "image/png"})
    assert answer.status_code == 200
    assert "Set-Cookie" not in answer.headers
    assert "Location" not in answer.headers


@pytest.mark.parametrize(
    "said",
    ["{tag}", "W/{tag}", '"other", {tag}', '"other", W/{tag} , "third"', "*"],
)
def test_who_has_it_already_is_told_so(path, program, said):
    """RFC 9110, 13.1.2: If-None-Match compares weakly; a list or * is allowed."""
    tag = program.get(path).headers["ETag"]
    assert not tag.startswith("W/")
    answer = program.get(path, headers={"If-None-Match": said.format(tag=tag)})
    assert (answer.status_code, answer.data) == (304, b"")
    assert answer.headers["ETag"] == tag
    assert answer.headers["Cache-Control"] == "private, no-cache"


def test_another_tag_gets_it_whole(path, program):
    assert program.get(path, headers={"If-None-Match": '"other"'}).status_code == 200


@pytest.mark.parametrize(
    ("since", "status"),
    [
        ("Mon, 05 Apr 2027 09:00:00 GMT", 304),
        ("Thu, 01 Jan 1970 00:00:00 GMT", 200),
        ("not a date", 200),
    ],
)
def test_asking_by_date(path, program, since, status):
    assert program.get(path, headers={"If-Modified-Since": since}).status_code == status


def test_the_tag_wins_over_the_date(path, program):
    """RFC 9110, 13.1.3: If-Modified-Since is not looked at beside If-None-Match."""
    headers = {"If-None-Match": '"other"', "If-Modified-Since": "Mon, 05 Apr 2027 09:00:00 GMT"}
    assert program.get(path, headers=headers).status_code == 200


def test_head_is_get_without_the_body(path, program):
    whole, head = program.get(path), program.head(path)
    assert (head.status_code, head.data) == (200, b"")
    for name in ("ETag", "Last-Modified", "Content-Length", "Content-Type"):
        assert head.headers[name] == whole.headers[name]


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PROPFIND"])
def test_it_can_only_be_read(path, program, method):
    answer = program.open(path, method=method)
    assert answer.status_code == 405
    assert {"GET", "HEAD"} <= set(answer.headers["Allow"].replace(" ", "").split(","))


def test_unknown_stopped_and_misnamed_look_alike(here, season, program):
    effie = Visitor(here, season.ring["Effie"])
    old = address_in(effie.post("/calendars/member/address"))
    new = address_in(effie.post("/calendars/member/address"))
    answers = [
        program.get("/cal/never-was/member.ics"),
        program.get(old),
        program.get(new.replace("member.ics", "other.ics")),
    ]
    assert {one.status_code for one in answers} == {404}
    assert len({one.data for one in answers}) == 1
    assert program.get(new).status_code == 200
    effie.post("/calendars/member/stop")
    assert program.get(new).status_code == 404


def test_robots_may_come_to_calendars_and_nowhere_else(program):
    """A program that fetches a calendar for its user may ask robots.txt first."""
    lines = program.get("/robots.txt").text.split("\n")
    assert lines[:3] == ["User-agent: *", "Allow: /cal/", "Disallow: /"]


def test_the_page_tells_who_read_it_last(here, season, program):
    cuthbert = Visitor(here, season.ring["Cuthbert"])
    path = address_in(cuthbert.post("/calendars/member/address"))
    assert "Nothing has read it yet" in cuthbert.get("/calendars").text
    program.get(path, headers={"User-Agent": "Google-Calendar-Importer"})
    page = cuthbert.get("/calendars").text
    assert "by Google Calendar" in page
    assert path not in page, "an address is shown once"


def test_subscribing_links_carry_the_whole_address(here, season):
    page = Visitor(here, season.ring["Cuthbert"]).post("/calendars/member/address").text
    path = address_in(Visitor(here, season.ring["Cuthbert"]).post("/calendars/member/address"))
    assert 'href="webcal://' in page
    assert re.search(
        r"calendar\.google\.com/calendar/r\?cid=webcal%3A%2F%2F[^\"]+member\.ics", page
    )
    assert path.endswith("/member.ics")


def test_reminders_can_be_left_out(here, season, program):
    cuthbert = Visitor(here, season.ring["Cuthbert"])
    path = address_in(cuthbert.post("/calendars/member/address"))
    before = program.get(path)
    assert b"VALARM" in before.data
    cuthbert.post("/calendars/member/reminders", {"reminders": ""})
    after = program.get(path)
    assert b"VALARM" not in after.data
    assert after.headers["ETag"] != before.headers["ETag"]


def test_the_dispatch_calendar_is_not_offered_to_a_member(here, season):
    effie, winnie = (Visitor(here, season.ring[name]) for name in ("Effie", "Winnie"))
    assert "Dispatch calendar" not in effie.get("/calendars").text
    assert effie.post("/calendars/dispatch/address").status_code == 403
    assert "Dispatch calendar" in winnie.get("/calendars").text


def test_a_changed_day_is_a_changed_calendar(here, season, program):
    path = address_in(Visitor(here, season.ring["Effie"]).post("/calendars/member/address"))
    before = program.get(path).headers["ETag"]
    parcel = season.parcel_to("Effie")
    day = NOW.date().isoformat()
    Visitor(here, season.ring["Winnie"]).post(f"/parcels/{parcel.id}/posted", {"day": day})
    Visitor(here, season.ring["Effie"]).post(
        f"/parcels/{parcel.id}/came", {"day": day, "condition": "well"}
    )
    assert program.get(path, headers={"If-None-Match": before}).status_code == 200
