"""The season report's sentences: each rate says of how many it was heard."""

from datetime import date

from exchange.domain.arriving.season_tally import Tally
from exchange.domain.circle.circle_season import CircleSeason
from exchange.words.circle import season_report as words


def plain(text):
    return text.replace("\u00a0", " ")


def test_the_lead_says_what_went_what_lives_and_who_told():
    said = plain(words.lead(Tally(parcels=63, heard=52, plants=154, alive=145)))

    assert said == "63 parcels went, and of 154 plants 145 came alive; heard from 52 of 63."


def test_nothing_is_said_of_what_nobody_told():
    assert plain(words.lead(Tally(parcels=1))) == (
        "1 parcel went. Nothing has been heard of how any came."
    )
    assert words.lead(Tally()) == "No parcel has gone yet in this season."
    assert words.share(Tally(parcels=4)) == "heard from 0 of 4"


def test_a_share_of_a_hundred_needs_enough_parcels():
    few = words.share(Tally(parcels=5, heard=4, plants=10, alive=9))
    enough = plain(words.share(Tally(parcels=6, heard=5, plants=10, alive=9)))

    assert few == "9 of 10; heard from 4 of 5"
    assert enough == "9 of 10, 90 in 100; heard from 5 of 6"


def test_all_alive_is_no_promise_for_the_next_time():
    assert words.share(Tally(parcels=15, heard=14, plants=22, alive=22)) == (
        "22 of 22; heard from 14 of 15"
    )


def test_parcels_by_hand_are_told_apart():
    total = Tally(parcels=63, heard=52)

    assert words.parcels(total, 6) == "57 posted, 6 by hand; heard from 52 of 63"
    assert words.parcels(total, 0) == "63 posted; heard from 52 of 63"


def test_the_drawing_is_told_with_its_largest_week():
    weeks = [
        (date(2027, 4, 5), Tally(2, 2, 5, 5)),
        (date(2027, 4, 12), Tally(9, 8, 41, 38)),
    ]

    said = words.of_weeks(weeks)

    assert "43 in all" in said
    assert "The most, 38 alive and 3 lost, went in the week of 12 April." in said


def test_a_season_has_the_name_of_both_its_years():
    assert words.title(CircleSeason(2026)) == "The season 2026 to 2027"


def test_the_text_leaves_out_what_is_empty():
    text = words.as_text("The season", [("In figures", ["Parcels: 3"]), ("To come", [])])

    assert text == "The season\n\nIn figures\n- Parcels: 3"
