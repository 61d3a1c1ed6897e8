"""Plants by week: what lives stands on the ground line, what was lost hangs under it, on one scale."""

import pytest

from exchange.web.circle.chart_season import SeasonWeek, draw_season
from exchange.web.frame.chart_figure import NARROW, WIDE, Words

WORDS = Words("Plants by week", "", "Plants by week", ("Week", "Alive"), ())
WEEKS = (SeasonWeek("12 Apr", 38, 3), SeasonWeek("19 Apr", 0, 0), SeasonWeek("26 Apr", 19, 1))


def ground(drawing):
    return float(drawing.ground.removeprefix("M0 ").partition("H")[0])


def test_what_lives_stands_on_the_line_and_what_was_lost_hangs_under_it():
    wide = draw_season(WEEKS, WORDS).wide

    for bar in wide.alive:
        assert bar.y + bar.height == pytest.approx(ground(wide), abs=0.2)
    for bar in wide.lost:
        assert bar.y == pytest.approx(ground(wide), abs=0.2)


def test_a_plant_is_as_high_above_the_line_as_it_is_deep_below():
    wide = draw_season(WEEKS, WORDS).wide

    assert wide.lost[0].height / 3 == pytest.approx(wide.alive[0].height / 38, rel=0.05)


def test_a_week_without_parcels_keeps_its_place_and_has_no_bar():
    view = draw_season(WEEKS, WORDS)

    for drawing in (view.wide, view.narrow):
        assert len(drawing.alive) == 2
        assert "19 Apr" in {text.words for text in drawing.texts}


@pytest.mark.parametrize("weeks", [WEEKS, WEEKS * 9, (SeasonWeek("12 Apr", 0, 40),), ()])
def test_everything_stays_inside_both_drawings(weeks):
    view = draw_season(weeks, WORDS)

    for drawing, width in ((view.wide, WIDE), (view.narrow, NARROW)):
        for bar in (*drawing.alive, *drawing.lost):
            assert 0 <= bar.x <= bar.x + bar.width <= width
            assert 0 <= bar.y <= bar.y + bar.height <= drawing.height
        assert all(0 <= text.y <= drawing.height for text in drawing.texts)


def test_with_many_weeks_every_second_label_is_left_out():
    many = draw_season(WEEKS * 9, WORDS).wide

    assert sum(text.look == "soft" for text in many.texts) == 14
