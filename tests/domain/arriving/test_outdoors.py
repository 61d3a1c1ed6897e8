from datetime import date, timedelta

import pytest

from exchange.domain.arriving.care import care_steps, from_day
from exchange.domain.arriving.step import NextYear, OnlyFor, PlantsSafeFrom, StepKind
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from tests.builders.arrivals import a_line, a_receiver, a_window, step_of, steps_of

SAFE = date(2027, 6, 1)
SEPTEMBER = a_window(date(2027, 9, 8), 1)


def reason_of(step, kind):
    return next((one for one in step.reasons if isinstance(one, kind)), None)


@pytest.mark.parametrize("material", [Material.UNROOTED, Material.ROOTED, Material.YOUNG_PLANT])
def test_late_summer_pelargoniums_are_wintered_from_before_the_first_early_frost(material):
    at = a_receiver(first_frost=date(2027, 10, 20))
    line = a_line(species=Species.PELARGONIUM, material=material, raised=Raised.COOL)

    steps = steps_of([line], at, SEPTEMBER)

    winter, harden = step_of(StepKind.WINTER, steps), step_of(StepKind.HARDEN, steps)
    assert winter.first == date(2027, 10, 13)
    assert winter.last == harden.first == date(2028, 6, 1) - timedelta(days=10)
    assert NextYear() in harden.reasons


def test_cuttings_root_before_they_are_kept_cool_for_the_winter():
    at = a_receiver(first_frost=date(2027, 9, 20))
    line = a_line(species=Species.PELARGONIUM, material=Material.UNROOTED)

    steps = steps_of([line], at, SEPTEMBER)

    assert step_of(StepKind.WINTER, steps).first == SEPTEMBER.last + timedelta(days=28)


def test_each_kind_that_comes_late_is_wintered_its_own_way():
    lines = [a_line(n, kind) for n, kind in enumerate((Species.DAHLIA, Species.FUCHSIA), 1)]

    steps = steps_of(lines, window=SEPTEMBER)

    named = [reason_of(one, OnlyFor).kinds for one in steps if one.kind is StepKind.WINTER]
    assert named == [{Species.DAHLIA}, {Species.FUCHSIA}]


def test_what_goes_out_this_year_is_not_wintered():
    steps = steps_of([a_line(species=Species.PELARGONIUM)], window=a_window(date(2027, 7, 14), 1))

    assert not [one for one in steps if one.kind is StepKind.WINTER or NextYear() in one.reasons]


def test_chrysanthemums_go_out_a_fortnight_before_frost_is_rare_and_dahlias_beside_them_do_not():
    lines = [a_line(1, raised=Raised.COOL), a_line(2, Species.CHRYSANTHEMUM, raised=Raised.COOL)]

    steps = steps_of(lines, window=a_window(date(2027, 4, 6), 1))

    out = {one.key: one for one in steps if one.kind is StepKind.PLANT_OUT}
    early = out["plant-out-early-green-cool"]
    assert early.first == SAFE - timedelta(days=14)
    assert reason_of(early, PlantsSafeFrom).stands_frost
    assert out["plant-out-green-cool"].first == SAFE


@pytest.mark.parametrize(("days_left", "kind"), [(60, "PLANT_OUT"), (59, "UNDER_GLASS")])
def test_coleus_that_would_have_too_short_a_summer_stays_under_glass(days_left, kind):
    out = date(2027, 7, 7) + timedelta(days=2 + 4)
    at = a_receiver(last_night_10=out + timedelta(days=days_left))
    line = a_line(species=Species.COLEUS, raised=Raised.HARDENED)

    steps = steps_of([line], at, a_window(date(2027, 7, 7), 1))

    found = {StepKind.PLANT_OUT, StepKind.UNDER_GLASS} & {one.kind for one in steps}
    assert found == {StepKind[kind]}


def test_nothing_that_is_over_is_told_and_nothing_is_dated_before_today():
    steps = steps_of([a_line()])
    today = date(2027, 5, 10)

    left = from_day(steps, today)

    assert {one.kind for one in left} == {
        StepKind.APART, StepKind.HARDEN, StepKind.PLANT_OUT, StepKind.TRUE_TO_NAME,
    }  # fmt: skip
    assert min(one.first for one in left) == today
    assert from_day(steps, date.min) == steps


def test_care_without_a_season_goes_by_no_year():
    steps = care_steps([a_line()], SEPTEMBER, a_receiver(safe_date=None))

    assert StepKind.WINTER not in {one.kind for one in steps}
