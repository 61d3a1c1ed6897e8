from datetime import date

import pytest

from exchange.domain.arriving.arrival import Condition, JourneyState
from exchange.domain.arriving.cautions import Authority, Caution, CautionKind
from exchange.domain.arriving.step import StepKind
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.kernel import cautions
from exchange.words.posting import arrivals, care
from tests.builders.arrivals import a_line, a_receiver, a_window, an_outlook, step_of, steps_of


def plain(text):
    return text.replace("\u00a0", " ")


def cold_step():
    at = a_receiver((ShelterKind.COLD,), an_outlook(lows=(9, 9, 9, 0, -1, 9), sd=0.7))
    return step_of(StepKind.COLD_NIGHT, steps_of([a_line(raised=Raised.COOL)], at))


def test_cold_nights_are_called_by_their_days():
    step = cold_step()

    assert plain(care.when(step)) == "Sat 1 and Sun 2 May"
    assert care.title(step) == "Stand them indoors."
    assert "−1" in care.text(step)


def test_the_usual_weather_is_never_passed_off_as_a_forecast():
    outlook = an_outlook(lows=(0.0,) * 12, source=WeatherSource.CLIMATE)
    steps = steps_of([a_line(raised=Raised.COOL)], a_receiver((ShelterKind.COLD,), outlook))

    text = care.text(step_of(StepKind.FIRST_NIGHTS, steps))

    assert "usual weather of the place, not a forecast" in text


def test_what_is_done_on_the_day_waits_for_the_parcel():
    opened = step_of(StepKind.OPEN, steps_of([a_line()]))
    on_one_day = step_of(StepKind.OPEN, steps_of([a_line()], window=a_window(days=1)))

    assert care.when(opened) == "the day they come"
    assert plain(care.when(on_one_day)) == "Wed 28 April"


def test_no_day_is_given_where_the_last_frost_is_not_known():
    steps = steps_of([a_line()], a_receiver(safe_date=None))

    assert care.when(step_of(StepKind.PLANT_OUT, steps)) == "after the last frost"


@pytest.mark.parametrize("material", Material)
@pytest.mark.parametrize("raised", Raised)
@pytest.mark.parametrize("month", [2, 5, 9])
def test_every_step_reads_whole(material, raised, month):
    lines = [a_line(n, species, material, raised) for n, species in enumerate(Species, start=1)]
    for safe in (None, date(2027, 6, 1)):
        steps = steps_of(lines, a_receiver(safe_date=safe), a_window(date(2027, month, 16)))
        for step in steps:
            words = (care.when(step), care.title(step), care.text(step))
            assert words[0]
            assert words[1].endswith((".", "?"))
            assert not any("{" in word or "}" in word for word in words)
            assert not words[2] or words[2].endswith(".")


def test_cautions_name_whom_to_ask():
    for kind in CautionKind:
        assert "{" not in cautions.caution(Caution(kind, Authority.VET))
    apart = cautions.caution(Caution(CautionKind.APART, Authority.DAERA))
    assert cautions.authority(Authority.DAERA) in apart


def test_every_standing_has_its_word():
    assert len({arrivals.journey(value) for value in JourneyState}) == len(JourneyState)
    assert len({arrivals.condition(value) for value in Condition}) == len(Condition)


def test_a_date_by_the_season_is_about_and_names_how_long_a_cover_is_kept():
    steps = steps_of([a_line()], a_receiver(ground_frost_rare=date(2027, 6, 16)))
    out = step_of(StepKind.PLANT_OUT, steps)

    assert plain(care.when(out)) == "from about Tue 1 June"
    assert plain(care.text(out)) == (
        "By the station, a fortnight either way; keep fleece at hand until about Wed 16 June."
    )


def test_what_waits_for_warm_nights_is_named_where_not_all_of_it_does():
    lines = [a_line(1), a_line(2, Species.COLEUS), a_line(3, Species.FOLIAGE_BEGONIA)]
    steps = steps_of(lines, a_receiver(nights_10=date(2027, 6, 22)))
    titles = [care.title(step) for step in steps if step.kind is StepKind.PLANT_OUT]

    assert titles == ["Plant out the dahlias.", "Plant out the coleus and foliage begonias."]


def test_what_keeps_under_glass_says_so_and_why():
    steps = steps_of([a_line(species=Species.COLEUS)], a_receiver(nights_10=None))
    step = step_of(StepKind.UNDER_GLASS, steps)

    assert care.title(step) == "Keep under glass."
    assert "they keep better under glass" in care.text(step)
