"""How the forecast did, and what is learned from it."""

import random
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, date, datetime, time, timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.weather import forecast_verification
from exchange.actions.weather.forecast_verification import (
    NothingToKeepError,
    forecast_record,
    keep_shift,
    keep_spread,
    undo_skill,
)
from exchange.actions.weather.observations import forget_night, observe
from exchange.actions.weather.outlooks import known_of, outlooks
from exchange.domain.weather.blend import PUBLISHED
from exchange.domain.weather.daily import DayRead
from exchange.domain.weather.pairs import observed_nights, pairs
from exchange.records import PLACES, forecasts_kept
from tests.app_fixtures import NOW, a_house, ring
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.weather import a_forecast, hourly

DAYS = 30
FIRST = date(2027, 3, 1)


@pytest.fixture(scope="module")
def circle(tmp_path_factory):
    """A circle where thirty nights came three degrees colder than forecast, give or take one."""
    with a_house(tmp_path_factory.mktemp("record")) as house:
        made = ring(house)
        with house.books.writing() as tx:
            for offset in range(DAYS):
                forecasts_kept.add(tx, made.circle_id, issued_on(made, FIRST + timedelta(offset)))
        chance = random.Random(7)
        for offset in range(1, DAYS + 1):
            low = 2.0 - 3.0 + chance.gauss(0.0, 1.0)
            day = FIRST + timedelta(days=offset)
            observe(made.actor("Effie"), made.place("Effie").id, day, round(low, 1), NOW)
        yield made


def issued_on(circle, day):
    """Give a forecast of four nights, each with a minimum of 2."""
    at = datetime.combine(day, time(6), UTC)
    temperatures = [2.0 if hour % 24 in (4, 5) else 8.0 for hour in range(102)]
    start = datetime.combine(day, time(0), UTC)
    place = circle.place("Effie").id
    return a_forecast(
        hourly(temperatures, start=start), place_id=place, issued_at=at, grid_height_m=None
    )


def record(circle, who="Effie"):
    return forecast_record(circle.actor(who), circle.place("Effie").id)


def outlook(circle):
    with circle.house.books.reading() as tx:
        return outlooks(tx, circle.circle_id, NOW)[circle.place("Effie").id]


def test_the_first_lead_is_scored_as_the_pairs_say(circle):
    found = record(circle)
    with circle.house.books.reading() as tx:
        place = circle.place("Effie")
        known = known_of(tx, circle.circle_id, [place])[place.id]
        forecasts = forecasts_kept.kept(tx, circle.circle_id, place.id)
    reads = [DayRead(FIRST + timedelta(days=1), 0.0)]
    (pair,) = [
        one
        for one in pairs(place, forecasts, known.climate, observed_nights(reads))
        if one.compared.lead_days < 1.5
    ]

    assert [one.lead_days for one in found.leads] == [1, 2, 3]
    assert found.leads[0].nights == DAYS
    assert pair.compared.mean_c > 0.0
    assert found.leads[0].too_warm_k == pytest.approx(pair.compared.mean_c + 1.0, abs=0.5)
    assert found.compared == sum(one.nights for one in found.leads)


def test_nothing_is_kept_that_was_learned_from_nights_changed_meanwhile(circle, monkeypatch):
    effie, place = circle.actor("Effie"), circle.place("Effie").id
    compared, added = forecast_verification._compared, []

    def changed_meanwhile(read):
        with ThreadPoolExecutor(1) as somebody_else:
            night = (FIRST - timedelta(days=1), 1.0)
            added.append(somebody_else.submit(observe, effie, place, *night, NOW).result())
        return compared(read)

    with monkeypatch.context() as patch:
        patch.setattr(forecast_verification, "_compared", changed_meanwhile)
        with pytest.raises(NothingToKeepError, match="changed just now"):
            keep_shift(effie, place, NOW)
    forget_night(effie, added[0], NOW)

    assert record(circle).kept is None


def test_what_is_kept_is_undone_by_the_number_given(circle):
    skill_id = keep_shift(circle.actor("Effie"), circle.place("Effie").id, NOW)

    assert record(circle).kept.id == skill_id
    undo_skill(circle.actor("Effie"), skill_id, NOW)
    assert record(circle).kept is None


def test_what_is_learned_is_not_kept_without_its_deed(circle, monkeypatch):
    before = dump(circle.house.books)

    with monkeypatch.context() as patch:
        break_at(patch, "exchange.actions.weather.forecast_verification.note")
        with pytest.raises(BrokenError):
            keep_shift(circle.actor("Effie"), circle.place("Effie").id, NOW)

    assert dump(circle.house.books) == before


def test_the_parts_of_the_brier_measure_add_up_and_the_table_holds_every_night(circle):
    for one in record(circle).leads:
        parts = one.frost.reliability - one.frost.resolution + one.frost.uncertainty
        assert one.frost.value == pytest.approx(parts, abs=1e-9)
        assert sum(tenth.nights for tenth in one.table) == one.nights


def test_the_places_own_shift_is_learned_kept_and_undone_by_one_press(circle):
    before, offered = outlook(circle), record(circle).shift
    assert offered.before == PUBLISHED
    assert offered.after.shift_k == pytest.approx(-2.5 * DAYS / (DAYS + 10), abs=0.5)
    assert offered.crps_after_k < offered.crps_before_k
    assert offered.error_k < 0.5

    keep_shift(circle.actor("Effie"), circle.place("Effie").id, NOW)
    kept = record(circle)

    assert kept.skill.shift_k == pytest.approx(offered.after.shift_k)
    assert kept.leads[0].crps_k < record(circle).leads[0].usual_crps_k
    assert kept.leads[0].too_warm_k < 1.5

    undo_skill(circle.actor("Effie"), kept.kept.id, NOW)

    assert record(circle).skill == PUBLISHED
    assert outlook(circle) == before


def test_the_refitted_spread_is_kept_with_the_shift_in_use_and_undone(circle):
    place = circle.place("Effie").id
    keep_shift(circle.actor("Effie"), place, NOW)
    offered = record(circle).spread
    shift = record(circle).skill.shift_k
    assert offered.after != offered.before
    assert offered.after.shift_k == shift
    assert offered.crps_after_k < offered.crps_before_k

    keep_spread(circle.actor("Effie"), place, NOW)
    assert record(circle).skill == offered.after

    undo_skill(circle.actor("Effie"), record(circle).kept.id, NOW)
    assert record(circle).skill == offered.before
    undo_skill(circle.actor("Effie"), record(circle).kept.id, NOW)
    assert record(circle).kept is None


def test_only_the_latest_is_undone_first(circle):
    place = circle.place("Effie").id
    keep_shift(circle.actor("Effie"), place, NOW)
    first = record(circle).kept.id
    keep_spread(circle.actor("Effie"), place, NOW)

    with pytest.raises(NothingToKeepError):
        undo_skill(circle.actor("Effie"), first, NOW)

    for _press in range(2):
        undo_skill(circle.actor("Effie"), record(circle).kept.id, NOW)


def test_outlooks_are_said_with_what_was_learned(circle):
    with circle.house.books.writing() as tx:
        fresh = issued_on(circle, NOW.date())
        forecasts_kept.add(tx, circle.circle_id, fresh)
    before = outlook(circle).night(NOW.date())
    keep_shift(circle.actor("Winnie"), circle.place("Effie").id, NOW)
    after = outlook(circle).night(NOW.date())
    undo_skill(circle.actor("Winnie"), record(circle).kept.id, NOW)

    assert after.mean_c < before.mean_c - 1.0


def test_another_member_neither_sees_the_record_nor_changes_it(circle):
    for act in (
        lambda: record(circle, "Cuthbert"),
        lambda: keep_shift(circle.actor("Cuthbert"), circle.place("Effie").id, NOW),
        lambda: keep_spread(circle.actor("Cuthbert"), circle.place("Effie").id, NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_without_nights_or_without_climate_nothing_is_offered(circle):
    place = circle.place("Cuthbert").id
    empty = forecast_record(circle.actor("Cuthbert"), place)
    assert (empty.leads, empty.spread, empty.shift) == ((), None, None)
    for keep in (keep_shift, keep_spread):
        with pytest.raises(NothingToKeepError):
            keep(circle.actor("Cuthbert"), place, NOW)

    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, place, latitude=0.0, longitude=-30.0)
    assert not forecast_record(circle.actor("Cuthbert"), place).has_climate
