from dataclasses import replace
from datetime import date, datetime

from exchange.domain.growing.season import Season
from exchange.domain.weather.blend import PUBLISHED, Skill
from exchange.domain.weather.compare import VerifiedNight, results_by_lead
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.domain.weather.frost import AIR_FROST, Frost, SafeDate, Thermometer
from exchange.domain.weather.refit import Refitted
from exchange.domain.weather.sunset import Tonight
from exchange.words.weather import frost
from tests.builders.weather import a_climate


def spoken(text):
    return text.replace("\u00a0", " ")


def test_a_frost_names_its_thermometer_and_its_inequality():
    american = Frost(at_threshold=True)
    grass = Frost(Thermometer.GRASS)

    assert spoken(frost.frost(AIR_FROST)) == "air frost (below 0 °C in the screen)"
    assert spoken(frost.frost(american)) == "air frost (0 °C or less in the screen)"
    assert spoken(frost.frost(grass)) == "ground frost (below 0 °C over short grass)"


def test_a_safe_date_names_its_years_and_its_share():
    safe = SafeDate(date(2027, 5, 18), 0.1, 0.99, AIR_FROST, "1991-2020")

    said = spoken(frost.safe_date(safe))

    assert said.startswith("From about 18 May on, air frost")
    assert "1991 to 2020" in said
    assert "comes in 10 in 100 springs or fewer" in said


def test_where_frost_never_ends_it_is_said():
    assert "over 10 in 100 springs" in spoken(frost.safe_date(None))


def test_usual_nights_name_their_station_and_distance():
    near = a_climate(distance_km=47.3)

    assert spoken(frost.climate(near)) == (
        "Usual nights of the weather station Shawbury, 47 km away, 1991 to 2020."
    )
    assert spoken(frost.climate(a_climate(name="our own file"))) == (
        "Usual nights by our own file, 1991 to 2020."
    )


def test_tonight_names_sunset_and_says_when_the_rule_does_not_hold():
    sunset = datetime(2027, 4, 5, 19, 42)

    still = frost.tonight(Tonight(-1.2, 0.7, 0.95, holds=True), sunset)
    windy = frost.tonight(Tonight(-1.2, 0.7, 0.95, holds=False), sunset)

    assert "−1 °C" in spoken(still)
    assert "95 in 100" in spoken(still)
    assert "7.42 pm" in spoken(still)
    assert "says little" in windy


def test_of_two_answers_on_tonight_the_worse_is_named_and_disagreement_said():
    night = Night(date(2027, 4, 5), 3.0, 1.6, 12.0, WeatherSource.FORECAST)
    far, near = (Tonight(-1.2, 0.7, chance, holds=True) for chance in (0.96, 0.2))

    assert spoken(frost.tonight_otherwise(night)) == "By the forecast about 3 °C, frost 3 in 100."
    assert spoken(frost.tonight_otherwise(replace(night, source=WeatherSource.CLIMATE))).startswith(
        "By the usual night about 3 °C"
    )
    assert spoken(frost.go_by(far, night)) == "The two disagree. Go by the worse: frost 96 in 100."
    assert spoken(frost.go_by(near, night)) == "Go by the worse: frost 20 in 100."
    assert spoken(frost.go_by(replace(near, frost_chance=0.01), night)).endswith("frost 3 in 100.")
    assert frost.go_by(far, None) == frost.go_by(replace(far, holds=False), night) == ""


def test_how_a_lead_did_is_said_against_the_usual_night():
    def results(mean):
        night = VerifiedNight(date(2027, 4, 5), 2.0, mean, 1.0, 6.0, 3.0, 1.0)
        return spoken(frost.lead_result(results_by_lead([night])[0]))

    assert results(1.0).startswith("2 days ahead: ")
    assert "closer than the usual night" in results(1.0)
    assert "no closer" in results(30.0)


def test_refitting_shows_old_beside_new():
    changed = Refitted(PUBLISHED, Skill(6.0, 0.9), 1.31, 1.204, 80)
    same = Refitted(PUBLISHED, PUBLISHED, 1.31, 1.31, 80)

    assert "1.31 K" in spoken(frost.refitted(changed))
    assert "1.20 K" in spoken(frost.refitted(changed))
    assert "nothing changes" in spoken(frost.refitted(same))


def test_planting_out_is_about_and_in_the_order_of_tenderness():
    ludlow = Season(
        frost_rare=date(2027, 5, 25),
        ground_frost_unusual=date(2027, 5, 31),
        ground_frost_rare=date(2027, 6, 16),
        mild=date(2027, 5, 13),
        nights_8=date(2027, 6, 1),
        nights_10=date(2027, 6, 22),
        last_night_10=date(2027, 9, 5),
        first_frost=date(2027, 10, 6),
        usual_frost=date(2027, 10, 26),
    )

    assert [spoken(one) for one in frost.planting_out(ludlow)] == [
        "Dahlias, pelargoniums, fuchsias and tender salvias go out from about 31 May, with fleece at hand until about 16 June.",
        "Tuberous begonias go out from about 1 June.",
        "Coleus and foliage begonias go out from about 22 June, or keep under glass.",
    ]
    assert spoken(frost.autumn(ludlow)) == (
        "By about 6 October an air frost has come in 10 in 100 autumns, by about 26 October in 50 in 100."
    )


def test_where_warm_nights_or_frosts_are_few_it_is_said():
    day = date(2027, 6, 11)
    grantown = Season(frost_rare=day, ground_frost_unusual=day, mild=day, nights_8=day)

    said = frost.planting_out(grantown)

    assert (
        said[-1]
        == "Coleus and foliage begonias keep better under glass here: warm nights are too few."
    )
    assert frost.autumn(Season()) == "An air frost before New Year is rare here."
    assert spoken(frost.autumn(Season(first_frost=date(2027, 12, 4)))).endswith(
        "10 in 100 autumns."
    )
    assert "under glass" in frost.planting_out(Season())[0]


def test_two_stations_and_what_the_grower_has_seen_are_named():
    differ = frost.stations_differ("Nairn", date(2027, 6, 11), "Braemar", date(2027, 6, 22))

    assert spoken(differ).startswith("Nairn says about 11 June, Braemar about 22 June")
    assert "from 8 May on" in spoken(frost.frost_seen(128))
