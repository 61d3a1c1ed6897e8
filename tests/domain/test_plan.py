from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from exchange.domain.circle.away import Away
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.plan import make_plan
from exchange.domain.posting.answer import PostingAnswer
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.reasons import DayWord, Topic
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting.posting_days import answer, day_word, reasons
from tests.builders.posting import (
    EVE,
    MONDAY,
    NOW,
    a_household,
    a_line,
    a_parcel,
    a_place,
    an_outlook,
    both,
    by_hand,
    facts,
    first_class,
    plan_one,
    second_class,
    words,
)


def test_a_mild_week_lets_a_ready_parcel_go_at_once():
    plan = plan_one(now=EVE)
    assert (plan.answer, plan.day, plan.held) == (PostingAnswer.POST, MONDAY, False)
    assert plan.announced
    assert plan.arrival_from == date(2027, 4, 6)
    assert 0 < plan.loss_chance < 0.01
    assert plan.weather_source is WeatherSource.FORECAST
    assert len(plan.strip) == 21


@pytest.mark.parametrize(("cold", "word"), [(1, DayWord.FROST_HERE), (2, DayWord.FROST_THERE)])
def test_a_frost_at_either_end_moves_the_day_and_says_where(cold, word):
    frost = an_outlook(cold, means=[8, -4, -4, -4, -4, -4, -1, 7, 8])
    plan = plan_one(outlooks=both() | {cold: frost})
    assert plan.day > MONDAY + timedelta(days=5)
    assert word in {one.about for one in plan.reasons}


def test_the_frost_two_days_later_moves_the_day():
    def planned(shift):
        frost = [8] * (2 + shift) + [-3] * 2 + [8]
        return plan_one(now=EVE, outlooks=both(means=frost)).day

    assert planned(0) != planned(2)


def test_without_any_weather_it_waits_and_says_why():
    plan = plan_one(outlooks={})
    assert (plan.answer, plan.held) == (PostingAnswer.WAIT, True)
    assert (plan.day, plan.loss_chance) == (None, None)
    assert plan.weather_source is WeatherSource.NONE
    assert DayWord.UNKNOWN in {one.about for one in plan.reasons}
    assert any("not known" in sentence for sentence in reasons(plan))


def test_with_the_weather_of_one_end_only_nothing_is_claimed():
    plan = plan_one(outlooks={1: an_outlook(1)})
    assert (plan.answer, plan.weather_source) == (PostingAnswer.WAIT, WeatherSource.NONE)


def test_by_climate_alone_the_plan_says_so():
    plan = plan_one(outlooks=both(means=9, sd=3, source=WeatherSource.CLIMATE))
    assert plan.weather_source is WeatherSource.CLIMATE
    assert Topic.CLIMATE_ONLY in {one.about for one in plan.reasons}


def test_a_long_cold_spell_waits_and_the_reasons_give_the_chance():
    plan = plan_one(outlooks=both(means=-6))
    assert (plan.answer, plan.day) == (PostingAnswer.WAIT, None)
    assert answer(plan) == "Wait."
    assert Topic.LEAST_RISKY in {one.about for one in plan.reasons}
    assert any(f"in{NBSP}100" in sentence for sentence in reasons(plan))


def test_the_sender_s_own_days_are_kept():
    plan = plan_one(households={1: a_household(1, posting_weekdays={2}), 2: a_household(2)})
    assert plan.day.weekday() == 2
    assert words(plan)[MONDAY] is DayWord.OWN_DAYS


def test_a_receiver_away_moves_the_day_without_being_named():
    away = Away(2, MONDAY, date(2027, 4, 15))
    plan = plan_one(away=(away,))
    assert plan.day >= date(2027, 4, 19)
    assert words(plan)[MONDAY] is DayWord.AWAY
    assert not any("Household" in sentence for sentence in reasons(plan))


def test_a_sender_away_cannot_post():
    plan = plan_one(away=(Away(1, MONDAY, date(2027, 4, 6), cannot_receive=False),))
    assert plan.day == date(2027, 4, 7)


def test_room_that_comes_free_lets_it_go_that_day():
    plan = plan_one(
        shelters=(Shelter(2, ShelterKind.HEATED, room_pots=3),),
        room_taken={2: {date(2027, 1, 1): 3, date(2027, 4, 14): 1}},
    )
    assert plan.arrival_from >= date(2027, 4, 14)


def test_two_parcels_share_the_room_that_one_would_fill():
    parcels = [a_parcel(n, lines=(a_line(n, count=2),)) for n in (1, 2)]
    plans = make_plan(
        facts(parcels, shelters=(Shelter(2, ShelterKind.HEATED, room_pots=3),)), NOW
    ).parcels
    assert sorted(one.held for one in plans) == [False, True]
    assert Topic.CROWDED in {reason.about for one in plans for reason in one.reasons if one.held}


def test_no_household_packs_more_parcels_than_it_can():
    parcels = [a_parcel(n) for n in range(1, 6)]
    plans = make_plan(facts(parcels), NOW).parcels
    days = [one.day for one in plans]
    assert max(days.count(day) for day in days) == 3
    assert None not in days


def test_never_two_pieces_of_an_irreplaceable_variety_in_one_day_s_post():
    parcels = [
        a_parcel(
            n,
            lines=(a_line(n, must_not_be_lost=True),),
            sender_household_id=n,
            sender_place_id=n,
            receiver_household_id=4,
            receiver_place_id=4,
        )
        for n in (1, 2, 3)
    ]
    days = [one.day for one in make_plan(facts(parcels), NOW).parcels]
    assert len(set(days)) == 3


def test_what_was_posted_today_counts_for_the_day():
    posted = a_parcel(
        9,
        lines=(a_line(9, must_not_be_lost=True),),
        state=ParcelState.POSTED,
        posted_on=MONDAY,
    )
    plan = plan_one([a_parcel(1, lines=(a_line(1, must_not_be_lost=True),)), posted])
    assert plan.day == date(2027, 4, 6)


def test_a_holiday_is_named_in_the_strip():
    closures = {("GB", "ENG"): {date(2027, 5, 3): "Early May"}}
    plan = plan_one(
        [a_parcel(1, lines=(a_line(1, ready_from=date(2027, 4, 20)),))],
        now=datetime(2027, 4, 20, 7, tzinfo=UTC),
        closures=closures,
        outlooks={n: an_outlook(n, first=date(2027, 4, 19)) for n in (1, 2)},
    )
    cell = next(day for day in plan.strip if day.day == date(2027, 5, 3))
    assert (cell.word, day_word(cell)) == (DayWord.HOLIDAY, "Early May")


def test_unrooted_cuttings_go_on_monday_or_tuesday_by_a_quick_way_only():
    damp = a_parcel(1, lines=(a_line(1, material=Material.UNROOTED),))
    plan = plan_one(
        [damp],
        ways={1: first_class(), 2: second_class()},
        now=datetime(2027, 4, 7, 7, tzinfo=UTC),
    )
    assert plan.day.weekday() in {0, 1}
    assert plan.way_id == 1


def test_tubers_take_the_cheaper_way_when_the_risk_is_the_same():
    tuber = a_parcel(1, lines=(a_line(1, material=Material.DIVISION),))
    same = {"odds": (77.5, 14.8, 4.3, 3.4)}
    plan = plan_one(
        [tuber], ways={1: first_class(postage=400), 2: second_class(postage=300, **same)}
    )
    assert plan.way_id == 2


def test_the_closed_season_stops_the_post_but_not_a_parcel_by_hand():
    ready = a_line(1, ready_from=date(2027, 2, 1))
    cold = {n: an_outlook(n, first=date(2027, 1, 31), nights=60) for n in (1, 2)}
    now = datetime(2027, 1, 31, 9, tzinfo=UTC)
    assert plan_one([a_parcel(1, lines=(ready,))], now=now, outlooks=cold).day is None
    carried = a_parcel(1, lines=(ready,), chosen_way_id=3)
    plan = plan_one([carried], now=now, outlooks=cold, ways={1: first_class(), 3: by_hand()})
    assert (plan.day, plan.arrival_to) == (date(2027, 2, 1), date(2027, 2, 1))


def test_after_the_cut_off_today_is_gone():
    plan = plan_one(now=datetime(2027, 4, 5, 16, 0, tzinfo=UTC))
    assert words(plan)[MONDAY] is DayWord.PAST
    assert plan.day == date(2027, 4, 6)


def test_the_day_is_the_sender_s_own_in_its_zone():
    far = {1: a_place(1, zone="America/Los_Angeles"), 2: a_place(2)}
    plan = plan_one(now=datetime(2027, 4, 6, 5, tzinfo=UTC), places=far)
    assert plan.strip[0].day == MONDAY
    assert len(plan.strip) == 21


def test_posted_and_arrived_parcels_are_never_planned_again():
    posted = a_parcel(1, state=ParcelState.POSTED, posted_on=MONDAY)
    arrived = a_parcel(2, state=ParcelState.ARRIVED, posted_on=MONDAY)
    assert make_plan(facts([posted, arrived]), NOW).parcels == ()


def test_a_warmer_packing_is_named_where_the_usual_one_would_have_to_wait():
    plan = plan_one(outlooks=both(means=-0.5, sd=0.4))
    assert plan.packing != "shoe_box"
    assert Topic.WARMER_PACKING in {one.about for one in plan.reasons}


def test_a_few_cuttings_go_through_the_letter_box_in_an_envelope():
    damp = a_parcel(1, lines=(a_line(1, material=Material.UNROOTED, raised=Raised.COOL),))
    homes = {1: a_place(1), 2: a_place(2, letter_box=True)}
    assert plan_one([damp], places=homes).packing == "envelope"
    assert plan_one([damp]).packing == "shoe_box"
    assert plan_one([damp], places=homes, outlooks=both(means=1.0, sd=0.3)).packing != "envelope"


def test_heat_raised_stock_is_warned_earlier_than_hardened_stock():
    def warned(raised):
        return plan_one([a_parcel(1, lines=(a_line(1, raised=raised),))]).warn_at_c

    assert warned(Raised.IN_HEAT) > warned(Raised.HARDENED)


def test_what_is_carried_by_hand_stands_more_cold_on_its_way_than_what_lies_in_a_depot():
    def warned(way):
        parcel = a_parcel(1, chosen_way_id=way.id)
        return plan_one([parcel], ways={way.id: way}).warn_at_c

    assert warned(by_hand()) < warned(first_class())


@pytest.mark.parametrize("raised", Raised)
def test_no_day_is_chosen_on_which_the_slip_says_to_wait_at_both_ends(raised):
    parcel = a_parcel(1, lines=(a_line(1, raised=raised),))
    limit = plan_one([parcel]).warn_at_c

    at_limit = plan_one([parcel], outlooks=both(means=limit, sd=0.01))
    assert at_limit.answer is PostingAnswer.WAIT or at_limit.packing != "shoe_box"
    above = plan_one([parcel], outlooks=both(means=limit + 1.0, sd=0.01))
    assert above.answer is PostingAnswer.POST


def test_a_cold_shelter_after_arrival_counts():
    def loss(kind):
        chill = both(means=3, sd=0.5)
        return plan_one(shelters=(Shelter(2, kind),), outlooks=chill).strip[0].loss

    assert loss(ShelterKind.OPEN_GROUND) > loss(ShelterKind.INDOORS) + 0.01


def test_a_cold_point_on_the_route_counts_after_the_first_night():
    hub = {4: an_outlook(4, means=-4, sd=0.5)}
    plain = plan_one(outlooks=both() | hub).strip[0].loss
    routed = plan_one(outlooks=both() | hub, ways={1: first_class(via_place_id=4)}).strip[0].loss
    assert routed > plain + 0.005


def test_the_same_facts_give_the_same_plan():
    parcels = [a_parcel(n) for n in range(1, 8)]
    assert make_plan(facts(parcels), NOW) == make_plan(facts(parcels), NOW)


def test_every_reason_of_every_answer_is_a_sentence():
    for plan in (
        plan_one(),
        plan_one(outlooks={}),
        plan_one(outlooks=both(means=-6)),
        plan_one(away=(Away(2, MONDAY, date(2027, 9, 9)),)),
        plan_one([a_parcel(1, waiting_since=date(2027, 3, 1))], outlooks=both(means=-6)),
    ):
        for sentence in reasons(plan):
            assert sentence
            assert sentence[0].isupper()
            assert sentence[-1] == "."
            assert "{" not in sentence


def test_replacing_terms_changes_the_answer():
    careful = replace(facts().terms, loss_limit=0.0001)
    assert plan_one(terms=careful).answer is PostingAnswer.WAIT
