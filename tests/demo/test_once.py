"""`exchange demo --once`: the same bytes each time, sound papers and calendars, other forecasts."""

import json
import subprocess
from datetime import date, timedelta

import icalendar
import ics
import pytest
import vobject

from tests.demo.once import days_by_code, later_frost, plan_in, posted, run_once
from tests.programs import program


@pytest.fixture(scope="module")
def later(tmp_path_factory):
    folder = tmp_path_factory.mktemp("later")
    run_once(folder / "season", "--forecast", str(later_frost(folder)))
    return plan_in(folder / "season")


@pytest.fixture(scope="module")
def without(tmp_path_factory):
    folder = tmp_path_factory.mktemp("without")
    told = run_once(folder, "--no-forecast")
    return plan_in(folder), told, folder


def files_in(folder):
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_the_same_command_writes_the_same_bytes_whatever_the_hash_seed(once, told, tmp_path):
    again = run_once(tmp_path / "season", hash_seed="4711")

    assert again == told
    assert files_in(tmp_path / "season") == files_in(once)


def test_every_file_is_there(once, plan):
    names = set(files_in(once))
    codes = [one["code"].lower().replace(" ", "-") for one in plan["parcels"]]

    assert {"plan.json", "working.json", "papers/labels.pdf", "calendars/dispatch.ics"} <= names
    assert {f"papers/{code}-{what}.pdf" for code in codes for what in ("slip", "care")} <= names
    assert len([name for name in names if name.endswith(".ics")]) == 19


def test_the_tables_tell_every_parcel_and_every_unmet_claim(told, plan):
    told_in_one_line = " ".join(told.split())

    for parcel in plan["parcels"]:
        assert parcel["code"] in told
        assert " ".join(parcel["reasons"][0].split()) in told_in_one_line
    assert "THE SHARE-OUT" in told
    assert "THE PLAN" in told


def test_every_pdf_is_sound(once):
    qpdf = program("qpdf")
    papers = sorted((once / "papers").glob("*.pdf"))
    assert len(papers) > 100

    unsound = [
        path.name
        for path in papers
        if subprocess.run([qpdf, "--check", str(path)], capture_output=True, check=False).returncode
    ]

    assert unsound == []


def test_three_libraries_read_every_calendar_alike(once):
    for path in sorted((once / "calendars").glob("*.ics")):
        text = path.read_bytes().decode("utf-8")
        events = list(icalendar.Calendar.from_ical(text).walk("VEVENT"))
        uids = sorted(str(event["UID"]) for event in events)

        by_vobject = vobject.readOne(text)
        by_ics = ics.Calendar(text)

        assert len(set(uids)) == len(uids), path.name
        assert sorted(one.uid.value for one in getattr(by_vobject, "vevent_list", [])) == uids
        assert sorted(one.uid for one in by_ics.events) == uids


def test_the_dispatch_calendar_holds_every_posting_day(once, plan):
    text = (once / "calendars" / "dispatch.ics").read_bytes().decode("utf-8")
    days = {
        (event["SUMMARY"].split(":")[0], event["DTSTART"].dt.isoformat())
        for event in icalendar.Calendar.from_ical(text).walk("VEVENT")
    }
    shown = {day for _title, day in days}

    assert {one["posting_day"] for one in posted(plan) if one["announced"]} <= shown


def test_a_day_that_is_not_announced_is_a_tentative_week_there(once, plan):
    text = (once / "calendars" / "dispatch.ics").read_bytes().decode("utf-8")
    events = {
        event["SUMMARY"].split(":")[0]: event
        for event in icalendar.Calendar.from_ical(text).walk("VEVENT")
    }
    meant = [one for one in posted(plan) if not one["announced"]]

    assert meant
    for one in meant:
        event = events[one["code"]]
        day = date.fromisoformat(one["posting_day"])
        assert event["STATUS"] == "TENTATIVE"
        assert event["DTSTART"].dt == day - timedelta(days=day.weekday())
        assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(days=7)
        assert list(event.walk("VALARM")) == []


def test_the_working_is_that_of_the_rules_shown(once, plan):
    working = json.loads((once / "working.json").read_text(encoding="utf-8"))
    text = json.dumps(working)

    assert working
    for rule in plan["rules"]:
        assert rule["value"] is None or str(rule["value"]) in text, rule["name"]


def test_a_frost_two_days_later_moves_posting_days(plan, later):
    before, after = days_by_code(plan), days_by_code(later)
    moved = [code for code in before if code in after and before[code] != after[code]]

    assert set(before) == set(after), "the share-out does not hang on the forecast"
    assert len(moved) >= 3
    assert plan["allocations"] == later["allocations"]


def test_without_a_forecast_every_day_is_by_climate_and_says_so(without):
    plan, told, _folder = without

    assert posted(plan)
    for parcel in posted(plan):
        assert parcel["weather_source"] == "climate"
        assert any("climate" in reason for reason in parcel["reasons"]), parcel["code"]
    assert {one["weather_source"] for one in plan["parcels"]} <= {"climate", "none"}
    assert "not from a forecast" in told


def test_without_a_forecast_the_papers_say_so(without):
    plan, _told, folder = without
    code = posted(plan)[0]["code"].lower().replace(" ", "-")
    read = subprocess.run(
        [program("pdftotext"), str(folder / "papers" / f"{code}-slip.pdf"), "-"],
        capture_output=True,
        check=True,
        text=True,
    ).stdout

    assert "not from a forecast" in " ".join(read.split())
