"""Re-planning: parcels follow what is given, announced days stand, and nothing posted is touched."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.circle.season_file import season_file
from exchange.actions.posting.parcels import say_posted
from exchange.actions.posting.replan import FactsKeepChangingError, replan
from exchange.actions.sharing.claims import NewClaim, claim
from exchange.domain.posting.parcel import ParcelState
from exchange.records import CLAIMS, DIARY, LETTERS, SPARES, VARIETIES, forecasts_kept
from tests.app_fixtures import NOW, a_house
from tests.builders.season import MONDAY, a_season, morning, set_terms, tell_weather

TUESDAY, WEDNESDAY, THURSDAY = (MONDAY + timedelta(days=n) for n in (1, 2, 3))


@pytest.fixture
def season(tmp_path):
    with a_house(tmp_path) as house:
        made = a_season(house)
        tell_weather(made, NOW)
        made.plan()
        yield made


def days(season):
    return {one.code: one.announced_day for one in season.parcels()}


def letters(season, kind):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, kind=kind)


def test_each_receiver_has_a_parcel_with_a_day(season):
    assert len(season.parcels()) == 2
    assert {one.state for one in season.parcels()} == {ParcelState.ANNOUNCED}
    assert set(days(season).values()) == {TUESDAY}
    assert {one.announced_at for one in season.parcels()} == {NOW}


def test_the_same_facts_give_the_same_plan_and_no_news(season):
    before, told = season.parcels(), letters(season, "moved")

    again = replan(season.organiser, NOW + timedelta(minutes=1))

    assert season.parcels() == before
    assert again.moved == ()
    assert letters(season, "moved") == told == ()


def test_an_announced_day_stands_for_a_small_gain(season):
    """The day moves only for two hundredths of a plant's chance, or a ground of its own."""
    before = days(season)
    for day in range(4):
        now = morning(MONDAY, 9) + timedelta(minutes=30 * day)
        tell_weather(season, now)
        season.plan(now)

    assert days(season) == before


def test_a_frost_moves_them_and_both_ends_are_told_why(season):
    tell_weather(season, NOW, frost=(MONDAY, TUESDAY, WEDNESDAY))
    moved = replan(season.organiser, NOW).moved

    assert len(moved) == 2
    assert set(days(season).values()) == {None}
    assert {one.posting_day for one in season.parcels()} == {MONDAY + timedelta(days=7)}
    assert {one.state for one in season.parcels()} == {ParcelState.PLANNED}
    receivers = {one.member_id for one in letters(season, "moved")}
    assert receivers == {season.ring[name].id for name in ("Effie", "Cuthbert")}
    senders = {one.member_id for one in letters(season, "wait_tonight")}
    assert senders == {season.ring["Winnie"].id}
    for one in letters(season, "moved"):
        assert "frost at the" in one.body
        assert "when it was told" in one.body
        assert "about the week of Mon\u00a012\u00a0April" in one.body


def test_what_is_posted_is_never_planned_again(season):
    first = season.parcels()[0]
    say_posted(season.ring.actor("Winnie"), first.id, MONDAY, NOW)
    tell_weather(season, NOW, frost=(MONDAY, TUESDAY, WEDNESDAY))
    season.plan()
    after = next(one for one in season.parcels() if one.id == first.id)

    assert (after.state, after.posted_on, after.announced_day) == (
        ParcelState.POSTED, MONDAY, TUESDAY,
    )  # fmt: skip


def test_a_parcel_keeps_its_code_and_its_dates_while_something_remains(season):
    before = season.parcel_to("Effie")
    with season.house.books.reading() as tx:
        keys = {one.key for one in DIARY.all(tx, season.circle_id, parcel_id=before.id)}
    tell_weather(season, NOW, frost=(MONDAY, TUESDAY, WEDNESDAY))
    season.plan()
    after = season.parcel_to("Effie")
    with season.house.books.reading() as tx:
        keys_after = {one.key for one in DIARY.all(tx, season.circle_id, parcel_id=after.id)}

    assert (after.id, after.code) == (before.id, before.code)
    assert keys <= keys_after
    assert keys


def test_no_use_after_is_a_last_day(season):
    """What the receiver has no use for later is not posted later."""
    last = THURSDAY
    with season.house.books.writing() as tx:
        CLAIMS.change(tx, season.circle_id, season.claims["Effie"], no_use_after=last)
    tell_weather(season, NOW, frost=(MONDAY, TUESDAY, WEDNESDAY))
    season.plan()

    parcel = season.parcel_to("Effie")
    assert parcel.held
    assert parcel.posting_day is None
    assert season.parcel_to("Cuthbert").posting_day == MONDAY + timedelta(days=7)


def test_a_change_while_the_plan_is_made_is_planned_again(season, monkeypatch):
    """The facts of the second try hold the change; nothing of the first is recorded."""
    from exchange.actions.posting import replan as module

    made = module.make_plan
    changes = iter([TUESDAY])

    def meddled(facts, now):
        for day in changes:
            with season.house.books.writing() as tx:
                SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=day)
        return made(facts, now)

    monkeypatch.setattr(module, "make_plan", meddled)
    season.plan()

    assert set(days(season).values()) == {TUESDAY}


def test_facts_that_never_rest_end_in_a_sentence(season, monkeypatch):
    from exchange.actions.posting import replan as module

    made = module.make_plan
    days_on = iter(range(1, 9))

    def meddled(facts, now):
        day = MONDAY + timedelta(days=next(days_on))
        with season.house.books.writing() as tx:
            SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=day)
        return made(facts, now)

    monkeypatch.setattr(module, "make_plan", meddled)
    with pytest.raises(FactsKeepChangingError, match="plan again in a minute"):
        season.plan()


def test_two_of_what_must_not_be_lost_never_travel_together(tmp_path):
    with a_house(tmp_path) as house:
        season = a_season(house, claimants=("Effie",), asked=2)
        with season.house.books.writing() as tx:
            VARIETIES.change(tx, season.circle_id, season.variety_id, must_not_be_lost=True)
        tell_weather(season, NOW)
        season.plan()

        dated = [one.posting_day for one in season.parcels() if one.posting_day]
        assert len(season.parcels()) == 2
        assert len(set(dated)) == len(dated) == 2


def test_the_circles_own_limit_holds(tmp_path):
    """A circle that will not risk anything waits."""
    with a_house(tmp_path) as house:
        season = a_season(house)
        with season.house.books.writing() as tx:
            set_terms(tx, season, loss_limit=0.0, loss_limit_kept=0.0)
        tell_weather(season, NOW)
        season.plan()

        assert all(one.held for one in season.parcels())
        assert all(one.waiting_since == MONDAY for one in season.parcels())


def test_a_stricter_limit_withdraws_nothing_that_was_announced(season):
    before = days(season)
    with season.house.books.writing() as tx:
        set_terms(tx, season, loss_limit=0.0, loss_limit_kept=0.0)
    season.plan()

    assert days(season) == before


def test_an_outage_moves_no_day_and_writes_no_letter(season):
    """Neither a forecast that is older than the one before, nor none at all, is a reason."""
    before = days(season)
    lose_forecasts(season)
    tell_weather(season, NOW - timedelta(hours=8), frost=(MONDAY, TUESDAY, WEDNESDAY))
    season.plan(NOW + timedelta(hours=1))
    held = days(season)
    lose_forecasts(season)
    season.plan(NOW + timedelta(hours=2))

    assert held == days(season) == before
    assert letters(season, "moved") == letters(season, "wait_tonight") == ()
    assert any("less is known" in " ".join(one.reasons).lower() for one in season.parcels())


def test_about_dates_that_change_are_no_letter(tmp_path):
    with a_house(tmp_path) as house:
        season = a_season(house)
        later = MONDAY + timedelta(days=7)
        with season.house.books.writing() as tx:
            SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=later)
        tell_weather(season, NOW)
        season.plan()
        meant = {one.posting_day for one in season.parcels()}
        with season.house.books.writing() as tx:
            ready = later + timedelta(days=7)
            SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=ready)
        season.plan(NOW + timedelta(hours=1))

        assert meant == {later}
        assert {one.posting_day for one in season.parcels()} == {later + timedelta(days=7)}
        assert set(days(season).values()) == {None}
        assert letters(season, "moved") == letters(season, "wait_tonight") == ()


def test_what_is_not_announced_is_one_tentative_entry_over_its_week(tmp_path):
    with a_house(tmp_path) as house:
        season = a_season(house)
        later = MONDAY + timedelta(days=8)
        with season.house.books.writing() as tx:
            SPARES.change(tx, season.circle_id, season.spares["Winnie"], ready_from=later)
        tell_weather(season, NOW)
        season.plan()
        before = entries(season)
        tell_weather(season, morning(later - timedelta(days=3)))
        season.plan(morning(later - timedelta(days=3)))
        after = entries(season)

        assert {one.tentative for one in before.values()} == {True}
        assert {(one.first_day, one.last_day) for one in before.values()} == {
            (MONDAY + timedelta(days=7), MONDAY + timedelta(days=13))
        }
        assert {one.alarm_hours for one in before.values()} == {None}
        assert set(before) <= set(after)
        assert {after[key].tentative for key in before} == {False}
        assert {after[key].sequence for key in before} == {1}


def lose_forecasts(season):
    with season.house.books.writing() as tx:
        forecasts_kept.forget(tx, season.circle_id, NOW + timedelta(days=400))


def entries(season):
    with season.house.books.reading() as tx:
        return {(one.key, one.household_id): one for one in DIARY.all(tx, season.circle_id)}


def test_without_any_weather_it_waits_and_says_why(tmp_path, monkeypatch):
    from exchange.actions.weather import outlooks

    monkeypatch.setattr(outlooks, "climate_near", lambda *_where: None)
    with a_house(tmp_path) as house:
        season = a_season(house)
        season.plan()

        for parcel in season.parcels():
            assert parcel.held
            assert parcel.weather_source == "none"
            assert any("not known" in reason for reason in parcel.reasons)


def test_a_new_claimant_after_the_share_out_moves_no_parcel(season):
    before = season.parcels()
    claim(season.ring.actor("Cuthbert"), NewClaim(season.variety_id, 1), NOW)
    season.plan()

    assert [replace(one, changed_at=NOW) for one in season.parcels()] == [
        replace(one, changed_at=NOW) for one in before
    ]
    assert len(season_file(season.organiser, NOW)["parcels"]) == 2
