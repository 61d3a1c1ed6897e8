from datetime import date, timedelta

import pytest

from exchange.domain.growing.season import MOST_MOVED_DAYS, Season, season
from exchange.domain.growing.variety import Species
from exchange.domain.weather.climate import at_height, with_nights_shifted
from tests.builders.weather import a_climate


def day_number(day):
    return day.replace(year=2001).timetuple().tm_yday


def test_plants_go_out_on_the_latest_of_three_days():
    ours = season(a_climate(), 2027)

    assert ours.planting_out == max(ours.frost_rare, ours.ground_frost_unusual, ours.mild)


def test_the_tenderer_a_plant_the_later_it_goes_out():
    ours = season(a_climate(), 2027)
    kinds = (Species.DAHLIA, Species.TUBEROUS_BEGONIA, Species.COLEUS)

    days = [ours.out_from(kind) for kind in kinds]

    assert days == sorted(days)
    assert days[0] < days[-1]


def test_a_begonia_nobody_has_told_of_goes_by_the_tenderer_rule():
    ours = season(a_climate(), 2027)

    assert ours.out_from(Species.BEGONIA) == ours.out_from(Species.FOLIAGE_BEGONIA)
    assert ours.out_from(Species.BEGONIA) > ours.out_from(Species.TUBEROUS_BEGONIA)


@pytest.mark.parametrize("days", [-20, 0, 12])
def test_what_the_grower_has_seen_stands_and_moves_the_spring_with_it(days):
    ours = season(a_climate(), 2027)

    told = season(a_climate(), 2027, day_number(ours.frost_rare) + days)

    by = timedelta(days=days)
    assert told.frost_rare == ours.frost_rare + by
    assert told.planting_out == ours.planting_out + by
    assert told.nights_10 == ours.nights_10 + by
    assert (told.last_night_10, told.first_frost) == (ours.last_night_10, ours.first_frost)


@pytest.mark.parametrize("sign", [-1, 1])
def test_the_other_dates_move_by_four_weeks_at_the_most(sign):
    ours = season(a_climate(), 2027)

    told = season(a_climate(), 2027, day_number(ours.frost_rare) + sign * 40)

    assert told.frost_rare == ours.frost_rare + timedelta(days=sign * 40)
    assert told.mild == ours.mild + timedelta(days=sign * MOST_MOVED_DAYS)


def test_where_frost_never_gets_rare_the_growers_day_stands_alone():
    hill = at_height(a_climate(), 2500.0)

    assert season(hill, 2027).planting_out is None
    assert season(hill, 2027, 170).frost_rare == date(2027, 6, 19)


def test_without_warm_nights_or_with_few_of_them_coleus_keeps_under_glass():
    cold = season(with_nights_shifted(a_climate(), -4.0), 2027)
    first = date(2027, 6, 20)

    def span(days):
        return Season(nights_10=first, last_night_10=first + timedelta(days=days))

    assert cold.nights_10 is None
    assert cold.under_glass
    assert cold.out_from(Species.COLEUS) is None
    assert (span(59).under_glass, span(60).under_glass) == (True, False)


def test_height_takes_all_of_its_warmth_and_lie_half_of_the_days():
    ours = season(a_climate(), 2027)
    hollow = season(with_nights_shifted(a_climate(), -2.0), 2027)
    hill = season(at_height(a_climate(), 72 + 1 / 0.0065), 2027)

    assert hollow.nights_8 > hill.nights_8 > ours.nights_8
    assert hollow.mild == hill.mild
