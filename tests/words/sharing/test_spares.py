"""Spares and chances in words."""

from datetime import date

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.words.kernel.phrase import NBSP
from exchange.words.sharing.spares import Offer, health, reads, roots, window

TODAY = date(2027, 4, 5)
MAY = date(2027, 5, 17)


def test_what_is_ready_is_ready_now():
    assert window(Material.ROOTED, TODAY, MAY, TODAY) == f"now to Mon{NBSP}17{NBSP}May"


def test_unrooted_cuttings_are_cut_within_days():
    said = window(Material.UNROOTED, date(2027, 4, 26), MAY, TODAY)

    assert said.replace(NBSP, " ") == "can cut from Mon 26 April to Mon 17 May"


def test_a_last_day_that_has_passed_is_said():
    assert "has passed" in window(Material.ROOTED, date(2027, 3, 1), date(2027, 4, 4), TODAY)


def test_a_tuber_shows_an_eye_and_a_cutting_roots():
    assert roots(Material.POT_TUBER, roots_seen=True) == "eye seen"
    assert roots(Material.ROOTED, roots_seen=True) == "rooted"
    assert roots(Material.UNROOTED, roots_seen=True) == ""
    assert roots(Material.ROOTED, roots_seen=False) == ""


def test_the_health_line_says_by_whom_and_when_or_nothing():
    assert health("", None) == ""
    assert health("Winnie", TODAY).replace(NBSP, " ") == (
        "no symptoms seen by Winnie on Mon 5 April"
    )


def test_how_it_reads_has_a_line_for_all_that_was_said():
    offer = Offer(
        Species.DAHLIA, "Tin Kettle", Material.UNROOTED, Raised.IN_HEAT, 2, TODAY, MAY, TODAY,
        health_by="Winnie",
    )  # fmt: skip

    assert [line.replace(NBSP, " ") for line in reads(offer)] == [
        "Unrooted cuttings, raised in heat.",
        "Can cut from now to Mon 17 May.",
        "No symptoms seen by Winnie.",
    ]
