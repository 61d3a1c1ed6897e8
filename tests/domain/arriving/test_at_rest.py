from datetime import date, timedelta

import pytest

from exchange.domain.arriving.step import (
    BeforeSafeDate,
    HollowUp,
    InWarmth,
    StandIn,
    StepKind,
)
from exchange.domain.growing.batch import RESTING, Material
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from tests.builders.arrivals import a_line, a_receiver, a_window, an_outlook, step_of, steps_of

SAFE = date(2027, 6, 1)
WINTER = a_window(date(2027, 1, 5), 2)


def kinds_of(steps):
    return [step.kind for step in steps]


@pytest.mark.parametrize(
    ("shelters", "material", "days"),
    [
        ((ShelterKind.HEATED,), Material.CLUMP, 119),
        ((ShelterKind.PROPAGATOR, ShelterKind.COLD), Material.POT_TUBER, 119),
        ((ShelterKind.HEATED,), Material.DIVISION, 84),
        ((ShelterKind.INDOORS,), Material.CLUMP, 84),
        ((), Material.DIVISION, 84),
        ((ShelterKind.FROST_FREE, ShelterKind.COLD), Material.CLUMP, 70),
        ((ShelterKind.COLD,), Material.DIVISION, 56),
    ],
)
def test_tubers_are_woken_by_what_warmth_the_place_has(shelters, material, days):
    steps = steps_of([a_line(material=material)], a_receiver(shelters), WINTER)

    start, keep = step_of(StepKind.START, steps), step_of(StepKind.KEEP_COOL, steps)
    assert start.first == SAFE - timedelta(days=days)
    assert keep.last == start.first
    assert (InWarmth() in start.reasons) == (days > 70)


def test_no_tuber_is_woken_before_the_middle_of_january():
    at = a_receiver((ShelterKind.HEATED,), safe_date=date(2027, 4, 20))

    steps = steps_of([a_line(material=Material.CLUMP)], at, WINTER)

    assert step_of(StepKind.START, steps).first == date(2027, 1, 15)


@pytest.mark.parametrize("material", [Material.POT_TUBER, Material.CLUMP])
def test_pot_tubers_and_clumps_are_cut_from_once_their_shoots_are_long_enough(material):
    at = a_receiver((ShelterKind.HEATED,))

    steps = steps_of([a_line(material=material)], at, a_window(date(2027, 3, 10), 1))

    cut = step_of(StepKind.CUTTINGS, steps)
    assert (cut.first, cut.last) == (date(2027, 4, 3), date(2027, 6, 20))


def test_stools_are_cut_from_until_the_end_of_april():
    line = a_line(species=Species.CHRYSANTHEMUM, material=Material.STOOL)

    early = steps_of([line], window=a_window(date(2027, 3, 10), 1))
    late = steps_of([line], window=a_window(date(2027, 4, 10), 1))

    assert step_of(StepKind.CUTTINGS, early).last == date(2027, 4, 30)
    assert StepKind.CUTTINGS not in kinds_of(late)


@pytest.mark.parametrize(
    ("species", "material"),
    [(Species.DAHLIA, Material.DIVISION), (Species.TUBEROUS_BEGONIA, Material.CLUMP)],
)
def test_divisions_and_begonia_tubers_are_grown_on_whole(species, material):
    steps = steps_of(
        [a_line(species=species, material=material)], window=a_window(date(2027, 3, 10))
    )

    assert StepKind.CUTTINGS not in kinds_of(steps)


@pytest.mark.parametrize("material", sorted(RESTING - {Material.STOOL}))
@pytest.mark.parametrize("days_before", [21, 7, 0, -14])
def test_a_tuber_due_near_the_safe_date_gets_one_step_for_it(material, days_before):
    window = a_window(SAFE - timedelta(days=days_before), 1)

    steps = steps_of([a_line(material=material)], window=window)

    assert kinds_of(steps) == [
        StepKind.OPEN, StepKind.CHECK, StepKind.APART, StepKind.PLANT_OUT, StepKind.TRUE_TO_NAME,
    ]  # fmt: skip
    out = step_of(StepKind.PLANT_OUT, steps)
    assert (BeforeSafeDate(SAFE) in out.reasons) == (days_before > 0)


def test_begonia_tubers_start_in_pots_however_late_they_come():
    line = a_line(species=Species.TUBEROUS_BEGONIA, material=Material.CLUMP)

    steps = steps_of([line], window=a_window(SAFE, 1))

    assert HollowUp(all_of_them=True) in step_of(StepKind.START, steps).reasons


def test_stools_stand_in_a_cold_house_from_the_first_night():
    line = a_line(species=Species.CHRYSANTHEMUM, material=Material.STOOL)
    at = a_receiver((ShelterKind.COLD, ShelterKind.HEATED), an_outlook(lows=(-2,) * 9, sd=0.8))

    steps = steps_of([line], at)

    assert step_of(StepKind.FIRST_NIGHTS, steps).reasons == (StandIn(ShelterKind.COLD),)
    assert StepKind.COLD_NIGHT not in kinds_of(steps)
    harder = a_receiver((ShelterKind.COLD,), an_outlook(lows=(-8,) * 9, sd=0.8))
    assert StepKind.COLD_NIGHT in kinds_of(steps_of([line], harder))
