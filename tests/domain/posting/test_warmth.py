from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from exchange.domain.plan import make_plan
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.injury import tolerance
from exchange.domain.posting.options import cases
from exchange.domain.posting.reasons import PostingReason, Topic
from exchange.domain.posting.warmth import warm_from
from exchange.domain.weather.climate import usual_night
from tests.builders.posting import MONDAY, NOW, a_line, a_parcel, an_outlook, facts
from tests.builders.weather import a_climate

SHROPSHIRE = a_climate()
USUAL = {1: SHROPSHIRE, 2: SHROPSHIRE}


def holding(*kinds, material=Material.ROOTED):
    lines = [
        a_line(number, species=kind, material=material, send_by=date(2027, 8, 1))
        for number, kind in enumerate(kinds, 1)
    ]
    return a_parcel(1, lines=tuple(lines))


COLEUS = holding(Species.DAHLIA, Species.COLEUS)


def found(parcel=COLEUS, usual=None, now=NOW):
    around = facts([parcel], usual=USUAL if usual is None else usual)
    (case,) = cases([parcel], around, now)
    return warm_from(case, around)


@pytest.mark.parametrize(
    "parcel", [COLEUS, holding(Species.TUBEROUS_BEGONIA), holding(Species.OTHER)]
)
def test_it_is_the_first_week_whose_usual_nights_are_all_harmless_to_the_tenderest(parcel):
    limit = max(tolerance(one.species, one.material, one.raised).cold[0] for one in parcel.lines)
    week = found(parcel).first

    after = [usual_night(SHROPSHIRE, week + timedelta(days=n)).mean_c for n in range(7)]
    before = [usual_night(SHROPSHIRE, week - timedelta(days=n)).mean_c for n in range(1, 8)]
    assert week.weekday() == 0
    assert min(after) > limit >= min(before)


def test_coleus_in_shropshire_waits_until_about_the_last_week_of_may():
    assert found() == PostingReason(Topic.WARM_FROM, date(2027, 5, 31), label=Species.COLEUS)


def test_the_colder_end_decides():
    colder = replace(SHROPSHIRE, shift_k=-1.0)

    both_ways = {
        found(usual={1: SHROPSHIRE, 2: colder}),
        found(usual={1: colder, 2: SHROPSHIRE}),
    }
    assert both_ways == {found(usual={1: colder, 2: colder})}
    assert both_ways.pop().first > found().first


def test_where_nights_are_never_so_warm_no_week_is_named():
    cold = replace(SHROPSHIRE, shift_k=-8.0)

    assert found(usual={1: cold, 2: cold}) == PostingReason(
        Topic.WARM_FROM, None, label=Species.COLEUS
    )


def test_what_is_held_by_a_spell_of_weather_alone_does_not_wait_for_warmth():
    assert found(holding(Species.DAHLIA)) is None
    assert found(now=datetime(2027, 6, 15, 7, tzinfo=UTC)) is None


def test_in_autumn_it_is_the_week_of_next_spring():
    assert found(now=datetime(2027, 10, 20, 7, tzinfo=UTC)).first.year == 2028


def test_nothing_is_said_where_the_usual_nights_of_an_end_are_not_known():
    assert found(usual={1: SHROPSHIRE}) is None


@pytest.mark.parametrize(
    ("ready", "answer", "at"),
    [(MONDAY, PostingAnswer.WAIT, 0), (date(2027, 5, 3), PostingAnswer.NOT_READY, 1)],
)
def test_a_plan_without_a_day_tells_it_first_or_after_the_day_it_is_ready(ready, answer, at):
    parcel = replace(COLEUS, lines=tuple(replace(one, ready_from=ready) for one in COLEUS.lines))
    chill = {n: an_outlook(n, means=3.0) for n in (1, 2)}

    plan = make_plan(facts([parcel], usual=USUAL, outlooks=chill), NOW).parcels[0]

    assert plan.answer is answer
    assert plan.reasons[at] == found(parcel)


def test_a_parcel_with_a_day_says_nothing_of_it():
    mild = {n: an_outlook(n, means=14.0) for n in (1, 2)}

    plan = make_plan(facts([COLEUS], usual=USUAL, outlooks=mild), NOW).parcels[0]

    assert plan.answer is PostingAnswer.POST
    assert Topic.WARM_FROM not in {one.about for one in plan.reasons}
