"""The growing year of ten towns in 2027, within two days, by the nearest station and 6.5 K per km.

Worked out separately from the same monthly normals 1991-2020 (Met Office, Met Eireann, KNMI); judged as a grower
would: most are right, Brecon by its city station and Norwich by its coast station are one to two weeks early.
"""

from datetime import date, datetime, timedelta

import pytest

from exchange.domain.growing.season import season
from exchange.domain.growing.variety import Species
from exchange.domain.weather.climate import LIE_SHIFT_K, at_height, with_nights_shifted
from exchange.reference.stations import climate_at_station, stations

NAMES = (
    "frost_rare",
    "ground_frost_unusual",
    "mild",
    "planting_out",
    "ground_frost_rare",
    "hollow",
    "nights_8",
    "nights_10",
    "last_night_10",
    "first_frost",
    "usual_frost",
    "hard_frost",
)
TOWNS = {
    # station, height of the town [m], then the dates in the order of NAMES
    "Penzance": "Camborne 15|20 Mar|4 Apr|3 May|3 May|26 Apr|12 May|30 Apr|26 May|21 Oct|4 Dec|-|-",
    "Norwich": "Lowestoft 20|30 Apr|10 May|5 May|10 May|24 May|23 May|12 May|2 Jun|6 Oct|23 Oct|19 Nov|8 Dec",
    "Ludlow": "Shawbury 100|25 May|31 May|13 May|31 May|16 Jun|14 Jun|1 Jun|22 Jun|5 Sep|6 Oct|26 Oct|14 Nov",
    "Brecon": "Cardiff 140|5 May|10 May|5 May|10 May|25 May|22 May|21 May|11 Jun|16 Sep|11 Oct|2 Nov|22 Nov",
    "Harrogate": "Bradford 120|11 May|20 May|11 May|20 May|3 Jun|2 Jun|24 May|13 Jun|17 Sep|15 Oct|8 Nov|3 Dec",
    "Edinburgh": "Leuchars 60|29 May|7 Jun|28 May|7 Jun|23 Jun|22 Jun|8 Jun|30 Jun|25 Aug|8 Oct|28 Oct|17 Nov",
    "Grantown": "Nairn 215|31 May|11 Jun|10 Jun|11 Jun|27 Jun|27 Jun|20 Jun|-|-|30 Sep|17 Oct|4 Nov",
    "Armagh": "Armagh 60|9 May|17 May|12 May|17 May|31 May|30 May|28 May|18 Jun|13 Sep|15 Oct|7 Nov|1 Dec",
    "Dublin": "Dublin Airport 20|14 May|23 May|17 May|23 May|7 Jun|5 Jun|1 Jun|24 Jun|7 Sep|13 Oct|6 Nov|5 Dec",
    "Groningen": "Hoogeveen 2|13 May|19 May|29 Apr|19 May|3 Jun|1 Jun|22 May|12 Jun|11 Sep|9 Oct|30 Oct|23 Nov",
}


def season_of(station_name, height_m, lie="open"):
    station = next(one for one in stations() if one.name == station_name)
    climate = at_height(climate_at_station(station), height_m)
    return season(with_nights_shifted(climate, LIE_SHIFT_K[lie]), 2027)


def a_day(text):
    if text == "-":
        return None
    return datetime.strptime(f"{text} 2027", "%d %b %Y").date()


@pytest.mark.parametrize("town", TOWNS)
def test_the_growing_year_of_a_town_is_within_two_days(town):
    first, *days = TOWNS[town].split("|")
    station, _space, height = first.rpartition(" ")
    ours = season_of(station, float(height))
    hollow = season_of(station, float(height), "hollow")

    off = {
        name: _apart(hollow.planting_out if name == "hollow" else getattr(ours, name), a_day(text))
        for name, text in zip(NAMES, days, strict=True)
    }

    assert {name: apart for name, apart in off.items() if apart > timedelta(days=2)} == {}


def _apart(ours, theirs):
    if ours is None or theirs is None:
        return timedelta(0) if ours is theirs else timedelta(days=365)
    return abs(ours - theirs)


def test_braemar_says_eleven_days_later_for_grantown_than_nairn():
    braemar = season_of("Braemar", 215)

    assert abs(braemar.planting_out - date(2027, 6, 22)) <= timedelta(days=2)
    assert abs(braemar.first_frost - date(2027, 9, 2)) <= timedelta(days=2)
    assert abs(braemar.usual_frost - date(2027, 10, 4)) <= timedelta(days=2)


def test_on_a_mild_coast_warmth_rules_and_dahlias_wait_for_may():
    ours = season_of("Camborne", 15)

    assert ours.frost_rare < date(2027, 4, 1)
    assert ours.out_from(Species.DAHLIA) == ours.mild
    assert ours.out_from(Species.DAHLIA).month == 5


def test_coleus_has_no_season_out_of_doors_in_strathspey_and_a_long_one_in_norwich():
    assert season_of("Nairn", 215).out_from(Species.COLEUS) is None
    assert season_of("Lowestoft", 20).out_from(Species.COLEUS) == date(2027, 6, 2)
    assert season_of("Leuchars", 60).under_glass
    assert not season_of("Shawbury", 100).under_glass
