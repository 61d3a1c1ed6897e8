"""The plan's days against the circle's own files: windows, days away, post days, closures, limits."""

from collections import Counter, defaultdict
from datetime import date, timedelta

import pytest

from tests.demo.once import (
    LIMIT,
    LIMIT_KEPT,
    TODAY,
    away,
    blocked_between,
    day,
    households,
    kept,
    posted,
    rows,
)

BANK_HOLIDAYS = {
    date(2027, 3, 26), date(2027, 3, 29), date(2027, 5, 3), date(2027, 5, 31), date(2027, 8, 30),
}  # fmt: skip
"""England and Wales, https://www.gov.uk/bank-holidays, the spring and summer of 2027."""

QUICK = {"unrooted": {0, 1}, "rooted": {0, 1, 2}, "young_plant": {0, 1, 2}}
"""Weekdays on which green stock is posted first class; the rest Monday to Wednesday."""


def limit_of(parcel):
    names = {line["variety"] for line in parcel["lines"]}
    return LIMIT_KEPT if names & kept() else LIMIT


def test_a_parcel_with_a_day_has_all_that_goes_with_it(plan):
    for parcel in plan["parcels"]:
        dated = ("posting_day", "arrival_from", "arrival_to", "loss_chance")
        assert {parcel[name] is None for name in dated} == {parcel["held"]}, parcel["code"]
        assert parcel["held"] or parcel["way"]
        assert parcel["weather_source"] in {"forecast", "climate", "both", "none"}
        assert parcel["reasons"]
        assert all(reason.endswith((".", "!", "?")) for reason in parcel["reasons"])
        assert parcel["lines"]


def test_codes_are_told_apart(plan):
    codes = [one["code"] for one in plan["parcels"]]

    assert len(set(codes)) == len(codes)


def test_a_parcel_goes_before_it_comes(plan):
    for parcel in posted(plan):
        went, first, last = (
            day(parcel[name]) for name in ("posting_day", "arrival_from", "arrival_to")
        )
        assert TODAY <= went <= first <= last
        assert last - went <= timedelta(days=10), parcel["code"]


def test_no_parcel_goes_on_a_day_that_its_own_weather_makes_worse_than_the_limit(plan):
    assert len(posted(plan)) > 10
    for parcel in posted(plan):
        assert 0 <= parcel["loss_chance"] <= limit_of(parcel), parcel


def test_no_parcel_has_two_pieces_of_what_must_not_be_lost(plan):
    for parcel in plan["parcels"]:
        pieces = Counter()
        for line in parcel["lines"]:
            pieces[line["variety"]] += line["count"]
        assert [name for name in kept() if pieces[name] > 1] == [], parcel["code"]


def test_no_days_post_has_two_pieces_of_what_must_not_be_lost(plan):
    by_day = defaultdict(Counter)
    for parcel in posted(plan):
        for line in parcel["lines"]:
            if line["variety"] in kept():
                by_day[parcel["posting_day"]][line["variety"]] += line["count"]

    assert by_day
    assert [pieces for pieces in by_day.values() if max(pieces.values()) > 1] == []


def test_no_parcel_is_within_a_household_or_over_a_border_that_blocks(plan):
    for parcel in plan["parcels"]:
        assert parcel["sender"] != parcel["receiver"]
        assert not blocked_between(parcel["sender"], parcel["receiver"])


def test_senders_post_on_their_own_days_only(plan):
    for parcel in posted(plan):
        own = households()[parcel["sender"]].get("posting_weekdays", range(7))
        assert day(parcel["posting_day"]).weekday() in own, parcel


def test_nobody_posts_more_parcels_on_a_day_than_they_can_pack(plan):
    packed = Counter((one["sender"], one["posting_day"]) for one in posted(plan))

    for (sender, _day), count in packed.items():
        assert count <= households()[sender]["parcels_a_day"]


def test_nobody_is_asked_to_post_or_to_take_in_while_away(plan):
    for parcel in posted(plan):
        went, first, last = (
            day(parcel[name]) for name in ("posting_day", "arrival_from", "arrival_to")
        )
        assert not away(parcel["sender"], "cannot_post", went, went), parcel
        assert not away(parcel["receiver"], "cannot_receive", first, last), parcel


def test_the_post_is_open_and_green_stock_does_not_lie_over_sunday(plan):
    for parcel in posted(plan):
        if parcel["way"] == "By hand":
            continue
        went = day(parcel["posting_day"])
        assert went not in BANK_HOLIDAYS
        assert not (went.month, went.day) >= (11, 20)
        assert not (went.month, went.day) <= (3, 10)
        assert day(parcel["arrival_from"]) not in BANK_HOLIDAYS
        for line in parcel["lines"]:
            allowed = QUICK.get(line["material"], {0, 1, 2})
            assert went.weekday() in allowed, parcel
            assert line["material"] != "unrooted" or parcel["way"] != "Second class"


def test_every_line_goes_within_the_window_of_a_spare_it_came_from(plan):
    spares = defaultdict(list)
    for one in plan["spares"]:
        spares[one["household"], one["variety"], one["material"], one["raised"]].append(one)
    wanted = {(one["household"], one["variety"]): one["no_use_after"] for one in rows("claims")}

    for parcel in posted(plan):
        went = parcel["posting_day"]
        for line in parcel["lines"]:
            key = (parcel["sender"], line["variety"], line["material"], line["raised"])
            assert any(one["ready_from"] <= went <= one["send_by"] for one in spares[key]), parcel
            no_use_after = wanted.get((parcel["receiver"], line["variety"]), "")
            assert not no_use_after or went <= no_use_after, parcel


def test_a_held_parcel_says_what_would_free_it_or_when_it_may_go(plan):
    held = [one for one in plan["parcels"] if one["held"]]
    assert held
    for parcel in held:
        told = " ".join(parcel["reasons"])
        assert "April" in told or "would free it" in told or "It is ready on" in told, parcel


@pytest.mark.parametrize("household", ["Osterby"])
def test_the_days_of_somebody_away_are_told_to_nobody(plan, household):
    """That a day does not suit is said; that a house is empty is not."""
    for parcel in plan["parcels"]:
        if parcel["receiver"] == household:
            assert "away" not in " ".join(parcel["reasons"]).lower()
