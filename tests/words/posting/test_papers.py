from datetime import date, time

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.posting import papers
from exchange.words.posting.papers import Going
from tests.builders.arrivals import a_line, steps_of


def plain(text):
    return text.replace("\u00a0", " ")


def points(*kinds):
    return " ".join(point for each in papers.packing(kinds) for point in each.points)


def test_damp_is_for_cuttings_only_and_never_for_pelargoniums_or_tubers():
    assert "just-damp paper" in points((Species.DAHLIA, Material.UNROOTED))
    assert "just-damp" not in points((Species.PELARGONIUM, Material.UNROOTED))
    assert "dry paper only" in points((Species.PELARGONIUM, Material.UNROOTED))
    assert "just-damp" not in points((Species.DAHLIA, Material.POT_TUBER))
    assert "never a damp wrap" in points((Species.DAHLIA, Material.POT_TUBER))


@pytest.mark.parametrize("material", Material)
def test_every_material_has_its_packing_list(material):
    first, *_rest = papers.packing([(Species.DAHLIA, material)])

    assert first.heading
    assert first.points


def test_climate_is_said_to_be_climate():
    text = papers.weather_source(WeatherSource.CLIMATE)

    assert text == "From the usual weather of the place, not from a forecast."


@pytest.mark.parametrize(
    ("going", "text"),
    [
        (Going("First class", False, date(2027, 4, 27), time(16)), "Post on Tue 27 April by 4 pm."),
        (Going("By hand", True, date(2027, 4, 27), time(16)), "Hand over on Tue 27 April."),
        (Going("First class", False, None), "No posting day yet: wait until you hear."),
    ],
)
def test_the_slip_says_when_it_goes(going, text):
    assert plain(papers.slip_when(going)).startswith(text)


def test_without_day_and_way_the_slip_says_one_sentence():
    assert papers.slip_when(Going("", False, None)) == "No posting day yet: wait until you hear."


def test_the_slip_names_the_packing_the_plan_counts_on():
    going = Going("First class", False, date(2027, 4, 27), time(16), "a foam box")

    assert papers.slip_when(going).endswith("First class. Pack it in a foam box.")


def test_marks_differ_within_a_parcel():
    names = ["Chapel Lantern", "Copper Lane", "Calf", "Calf", "‘’"]

    marks = papers.label_marks("Bramble 27", names)

    assert marks == ("CL 27", "CL2 27", "CA 27", "CA2 27", "X 27")


def test_a_card_has_four_lines_for_whatever_comes():
    for material in Material:
        lines = papers.card("Bramble 27", ("1 Dahlia",), steps_of([a_line(material=material)]))
        assert len(lines) == 4
        assert "Bramble 27" in lines[0]
        assert all("{" not in line for line in lines)
