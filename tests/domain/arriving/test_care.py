from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exchange.domain.arriving.course import HARDEN_DAYS, SETTLE_NIGHTS
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    ColdNights,
    InsertWithin,
    NoCover,
    OnlyFor,
    PlantsSafeFrom,
    RaisedInHeat,
    SafeDateUnknown,
    StandIn,
    StepKind,
    ThenIn,
    UsuallyCold,
)
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from tests.builders.arrivals import (
    WEDNESDAY,
    a_line,
    a_receiver,
    a_window,
    an_outlook,
    step_of,
    steps_of,
)

SAFE = date(2027, 6, 1)


def reasons_of(step, kind):
    return [reason for reason in step.reasons if isinstance(reason, kind)]


def test_everything_is_opened_and_counted_first():
    steps = steps_of([a_line()])

    assert [step.kind for step in steps[:2]] == [StepKind.OPEN, StepKind.CHECK]
    assert (steps[0].first, steps[0].last) == (WEDNESDAY, WEDNESDAY + timedelta(days=2))


def test_stock_raised_in_heat_spends_its_first_nights_in_warmth():
    at = a_receiver((ShelterKind.FROST_FREE, ShelterKind.COLD))

    step = step_of(StepKind.FIRST_NIGHTS, steps_of([a_line(raised=Raised.IN_HEAT)], at))

    assert reasons_of(step, RaisedInHeat)
    assert reasons_of(step, StandIn) == [StandIn(ShelterKind.INDOORS, told=False)]
    nights = (step.last - a_window().last).days + 1
    assert nights == SETTLE_NIGHTS[Raised.IN_HEAT]


def test_plants_raised_cool_go_straight_to_the_frost_free_house():
    step = step_of(StepKind.FIRST_NIGHTS, steps_of([a_line(raised=Raised.COOL)]))

    assert step.reasons == (StandIn(ShelterKind.FROST_FREE),)


@pytest.mark.parametrize(
    ("low", "source", "shelter"),
    [
        (9.0, WeatherSource.CLIMATE, ShelterKind.COLD),
        (1.0, WeatherSource.CLIMATE, ShelterKind.INDOORS),
        (1.0, WeatherSource.FORECAST, ShelterKind.COLD),
    ],
)
def test_usually_cold_nights_keep_newcomers_out_of_an_unheated_house(low, source, shelter):
    at = a_receiver((ShelterKind.COLD,), an_outlook(lows=(low,) * 12, source=source))

    step = step_of(StepKind.FIRST_NIGHTS, steps_of([a_line(raised=Raised.COOL)], at))

    assert reasons_of(step, StandIn)[0].shelter is shelter


@pytest.mark.parametrize(
    ("first", "shelter"),
    [(WEDNESDAY, ShelterKind.INDOORS), (date(2027, 6, 9), ShelterKind.COLD)],
)
def test_where_nothing_is_known_of_the_nights_the_season_decides(first, shelter):
    at = a_receiver((ShelterKind.COLD,))

    steps = steps_of([a_line(raised=Raised.COOL)], at, a_window(first))

    assert reasons_of(step_of(StepKind.FIRST_NIGHTS, steps), StandIn)[0].shelter is shelter


def test_hardening_off_ends_where_planting_out_begins():
    steps = steps_of([a_line()])
    harden, out = step_of(StepKind.HARDEN, steps), step_of(StepKind.PLANT_OUT, steps)

    assert out.first == SAFE
    assert harden.last + timedelta(days=1) == out.first
    assert (out.first - harden.first).days == HARDEN_DAYS[Raised.IN_HEAT]


def test_what_comes_after_the_safe_date_is_hardened_off_all_the_same():
    steps = steps_of([a_line()], window=a_window(date(2027, 6, 9), 1))

    out = step_of(StepKind.PLANT_OUT, steps).first

    assert out == date(2027, 6, 9) + timedelta(days=7 + 14)


def test_what_comes_in_late_summer_stays_in_until_next_year():
    steps = steps_of([a_line(raised=Raised.COOL)], window=a_window(date(2027, 9, 8), 1))

    assert step_of(StepKind.PLANT_OUT, steps).first == date(2028, 6, 1)
    assert step_of(StepKind.TRUE_TO_NAME, steps).first == date(2028, 8, 1)


def test_without_a_safe_date_no_day_is_made_up():
    steps = steps_of([a_line()], a_receiver(safe_date=None))

    out = step_of(StepKind.PLANT_OUT, steps)
    assert out.reasons == (SafeDateUnknown(),)
    assert out.last is None
    assert not [step for step in steps if step.kind is StepKind.HARDEN]


@pytest.mark.parametrize(
    ("species", "hours"), [(Species.DAHLIA, 4), (Species.PELARGONIUM, 4), (Species.FUCHSIA, 24)]
)
def test_unrooted_cuttings_are_inserted_the_same_day(species, hours):
    steps = steps_of([a_line(species=species, material=Material.UNROOTED)], window=a_window(days=1))

    insert = step_of(StepKind.INSERT, steps)
    assert (insert.first, insert.last) == (WEDNESDAY, WEDNESDAY)
    assert reasons_of(insert, InsertWithin) == [InsertWithin(hours)]


def test_only_pelargoniums_root_without_a_cover():
    def uncovered(*species):
        lines = [a_line(n, kind, Material.UNROOTED) for n, kind in enumerate(species)]
        return reasons_of(step_of(StepKind.SHADE, steps_of(lines)), NoCover)

    assert uncovered(Species.DAHLIA) == []
    assert uncovered(Species.PELARGONIUM) == [NoCover(all_of_them=True)]
    assert uncovered(Species.DAHLIA, Species.PELARGONIUM) == [NoCover(all_of_them=False)]


def test_cuttings_that_are_to_root_never_stand_cool_by_night():
    at = a_receiver((ShelterKind.FROST_FREE, ShelterKind.HEATED))

    step = step_of(StepKind.FIRST_NIGHTS, steps_of([a_line(material=Material.UNROOTED)], at))

    assert reasons_of(step, StandIn) == [StandIn(ShelterKind.INDOORS, told=False)]


def test_tubers_wait_in_a_cool_room_until_it_is_time_to_start_them():
    early = a_window(date(2027, 2, 16), 3)

    steps = steps_of([a_line(material=Material.POT_TUBER)], window=early)

    keep, start = step_of(StepKind.KEEP_COOL, steps), step_of(StepKind.START, steps)
    assert keep.first == early.first
    assert keep.last == start.first == SAFE - timedelta(days=70)
    assert not [step for step in steps if step.kind in {StepKind.POT_UP, StepKind.SHADE}]


def test_tubers_that_come_in_may_go_straight_into_the_ground():
    steps = steps_of([a_line(material=Material.DIVISION)], window=a_window(date(2027, 5, 18), 2))

    out = step_of(StepKind.PLANT_OUT, steps)
    assert out.first == date(2027, 5, 18)
    assert out.reasons == (BeforeSafeDate(SAFE),)
    assert not [step for step in steps if step.kind in {StepKind.START, StepKind.HARDEN}]


def test_cold_nights_are_named_with_the_shelter_to_carry_them_to():
    outlook = an_outlook(lows=(9, 9, 9, 0, -1, 9, 9), sd=0.7)
    at = a_receiver((ShelterKind.COLD,), outlook)

    step = step_of(StepKind.COLD_NIGHT, steps_of([a_line(raised=Raised.COOL)], at))

    saturday = date(2027, 5, 1)
    assert (step.first, step.last) == (saturday, saturday + timedelta(days=1))
    (cold,) = reasons_of(step, ColdNights)
    assert cold.nights == (saturday, saturday + timedelta(days=1))
    assert cold.lowest_c == -1
    assert reasons_of(step, StandIn)[0].shelter is ShelterKind.INDOORS


def test_usual_weather_names_no_single_night_but_says_how_many_are_cold():
    lows = (0.0,) * 10 + (9.0,) * 10
    at = a_receiver((ShelterKind.COLD,), an_outlook(lows=lows, source=WeatherSource.CLIMATE))

    steps = steps_of([a_line(raised=Raised.COOL)], at)

    assert not [step for step in steps if step.kind is StepKind.COLD_NIGHT]
    (usual,) = reasons_of(step_of(StepKind.FIRST_NIGHTS, steps), UsuallyCold)
    assert usual.shelter is ShelterKind.COLD
    assert usual.share == pytest.approx(5 / 15)


def test_a_mixed_parcel_opens_once_and_treats_each_kind_its_own_way():
    lines = [
        a_line(1),
        a_line(2, raised=Raised.HARDENED),
        a_line(3, material=Material.UNROOTED),
        a_line(4, material=Material.CLUMP),
        a_line(5, Species.CHRYSANTHEMUM, Material.STOOL),
        a_line(6, material=Material.SEED),
    ]

    steps = steps_of(lines)

    assert step_of(StepKind.OPEN, steps).allocation_ids == (1, 2, 3, 4, 5, 6)
    assert step_of(StepKind.APART, steps).allocation_ids == (1, 2, 3, 4, 5)
    assert {s.allocation_ids for s in steps if s.kind is StepKind.POT_UP} == {(1,), (2,), (5,)}
    assert step_of(StepKind.KEEP_COOL, steps).allocation_ids == (6,)


def test_nothing_in_the_parcel_asks_for_nothing():
    assert steps_of([]) == ()


DAYS = st.dates(date(2026, 1, 1), date(2029, 12, 31))
LINES = st.lists(
    st.builds(
        a_line,
        allocation_id=st.integers(1, 9),
        species=st.sampled_from(Species),
        material=st.sampled_from(Material),
        raised=st.sampled_from(Raised),
    ),
    min_size=1,
    max_size=5,
    unique_by=lambda line: line.allocation_id,
)


@settings(max_examples=120, deadline=None)
@given(
    lines=LINES,
    first=DAYS,
    days=st.integers(1, 6),
    safe=st.none() | DAYS,
    kinds=st.sets(st.sampled_from(ShelterKind)),
    lows=st.lists(st.floats(-15, 20), max_size=16),
)
def test_steps_hold_together_whatever_comes(lines, first, days, safe, kinds, lows):
    window = a_window(first, days)
    at = a_receiver(tuple(sorted(kinds)), an_outlook(first, lows), safe)

    steps = steps_of(lines, at, window)

    assert steps == steps_of(list(reversed(lines)), at, window)
    keys = [step.key for step in steps]
    assert len(keys) == len(set(keys))
    assert all(key.isascii() and key == key.lower() and " " not in key for key in keys)
    assert all(step.first >= window.first for step in steps)
    assert all(step.last is None or step.last >= step.first for step in steps)
    named = {line.allocation_id for line in lines}
    assert all(step.allocation_ids and set(step.allocation_ids) <= named for step in steps)
    outdoors = {step.key for step in steps if step.kind is StepKind.PLANT_OUT}
    for step in steps:
        if step.kind is StepKind.HARDEN:
            assert f"plant-out{step.key.removeprefix('harden')}" in outdoors


def test_coleus_waits_for_warm_nights_and_the_dahlias_beside_it_do_not():
    warm = SAFE + timedelta(days=22)
    lines = [a_line(1, raised=Raised.COOL), a_line(2, Species.COLEUS, raised=Raised.COOL)]

    steps = steps_of(lines, a_receiver(nights_10=warm))

    out = {step.key: step for step in steps if step.kind is StepKind.PLANT_OUT}
    dahlias, coleus = out["plant-out-green-cool"], out["plant-out-warm-green-cool"]
    assert (dahlias.first, coleus.first) == (SAFE, warm)
    assert reasons_of(dahlias, OnlyFor) == [OnlyFor(frozenset({Species.DAHLIA}))]
    assert reasons_of(coleus, OnlyFor) == [OnlyFor(frozenset({Species.COLEUS}))]


def test_coleus_alone_has_one_planting_out_and_it_is_the_warm_one():
    warm = SAFE + timedelta(days=22)

    steps = steps_of([a_line(species=Species.COLEUS)], a_receiver(nights_10=warm))

    assert step_of(StepKind.PLANT_OUT, steps).first == warm
    assert reasons_of(step_of(StepKind.PLANT_OUT, steps), OnlyFor) == []


@pytest.mark.parametrize("changes", [{"nights_10": None}, {"last_night_10": date(2027, 7, 1)}])
def test_where_warm_nights_are_too_few_coleus_keeps_under_glass(changes):
    steps = steps_of([a_line(species=Species.COLEUS)], a_receiver(**changes))

    assert step_of(StepKind.UNDER_GLASS, steps).last is None
    assert not [step for step in steps if step.kind in {StepKind.HARDEN, StepKind.PLANT_OUT}]


def test_coleus_settles_where_ten_degrees_are_held_and_not_in_a_frost_free_house():
    kinds = (ShelterKind.FROST_FREE, ShelterKind.INDOORS)

    steps = steps_of([a_line(species=Species.COLEUS, raised=Raised.COOL)], a_receiver(kinds))

    first = step_of(StepKind.FIRST_NIGHTS, steps)
    assert {one.shelter for one in reasons_of(first, ThenIn)} <= {ShelterKind.INDOORS}
    assert not reasons_of(first, UsuallyCold)


def test_a_cover_is_kept_at_hand_until_ground_frost_is_rare():
    steps = steps_of([a_line()], a_receiver(ground_frost_rare=date(2027, 6, 16)))

    assert step_of(StepKind.PLANT_OUT, steps).reasons == (PlantsSafeFrom(SAFE, date(2027, 6, 16)),)
