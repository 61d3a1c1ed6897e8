"""Posting on a day the plan advises against: a person's choice, kept with who and when."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.posting.change_day import move_day
from exchange.actions.posting.other_day import OverLimitError, anyway_of, change_of
from exchange.actions.posting.papers import papers_of
from exchange.actions.posting.parcels import (
    AlreadyOnItsWayError,
    DayRefusedError,
    plan_of,
    say_posted,
)
from exchange.actions.posting.post_anyway import post_anyway
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.reasons import WEATHER_WORDS, DayNote, DayWord
from exchange.records import DEEDS, LETTERS
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.season import MONDAY, again, tell_weather

TUESDAY, SUNDAY = MONDAY + timedelta(days=1), MONDAY + timedelta(days=6)
LATER = NOW + timedelta(minutes=5)


@pytest.fixture
def frosty(season, parcel):
    """A parcel, and a day of its strip that frost speaks against."""
    tell_weather(season, NOW, frost=(TUESDAY, TUESDAY + timedelta(days=1)))
    season.plan(LATER)
    known = again(season, parcel)
    day = next(
        one.day
        for one in plan_of(known).strip
        if one.word in WEATHER_WORDS and one.loss > 0.05 and one.day != known.posting_day
    )
    return known, day


def test_it_goes_that_day_with_who_and_when_kept_and_both_ends_told(season, frosty):
    parcel, day = frosty
    sender = season.ring.actor("Winnie")
    post_anyway(sender, parcel.id, day, LATER)

    kept = again(season, parcel)
    assert (kept.posting_day, kept.announced_day, kept.against_advice) == (day, day, True)
    assert (kept.day_chosen_by, kept.announced_at) == (season.ring["Winnie"].id, LATER)
    with season.house.books.reading() as tx:
        letters = LETTERS.all(tx, season.circle_id, kind="moved")
        deeds = DEEDS.all(tx, season.circle_id)
    told = [one for one in letters if "chosen knowing that" in one.body]
    assert {one.member_id for one in told} == {season.ring[n].id for n in ("Winnie", "Effie")}
    assert any(
        one.act == "posts a parcel against advice" and parcel.code in one.what for one in deeds
    )


def test_it_is_a_persons_choice_that_the_plan_does_not_move(season, frosty):
    parcel, day = frosty
    post_anyway(season.organiser, parcel.id, day, LATER)
    for minutes in (10, 60):
        season.plan(LATER + timedelta(minutes=minutes))
        kept = again(season, parcel)
        assert (kept.posting_day, kept.against_advice) == (day, True)
    chosen = next(one for one in plan_of(kept).strip if one.chosen)
    assert (chosen.word, chosen.note) == (DayWord.POST, DayNote.BY_PERSON)


def test_the_slip_prints_the_warning_with_name_and_hour(season, frosty):
    parcel, day = frosty
    post_anyway(season.organiser, parcel.id, day, LATER)

    slip = papers_of(season.organiser, parcel.id, LATER).slip
    warning = slip.weather[0].replace("\u00a0", " ")
    assert warning.startswith("Posted against the plan’s advice: ")
    assert "in 100 come to harm" in warning
    assert "Chosen by Winnie" in warning
    assert " on Mon 5 April at " in warning
    assert not any("wait" in one for one in slip.weather)


def test_moved_to_a_good_day_afterwards_nothing_is_left_of_it(season, frosty):
    parcel, day = frosty
    post_anyway(season.organiser, parcel.id, day, LATER)
    good = next(one.day for one in plan_of(parcel).strip if one.word is DayWord.GOOD)
    move_day(season.organiser, parcel.id, good, LATER + timedelta(minutes=1))

    assert not again(season, parcel).against_advice
    slip = papers_of(season.organiser, parcel.id, LATER).slip
    assert not any("against" in one for one in slip.weather)


def test_what_more_than_the_weather_stops_is_refused(season, frosty):
    parcel, _day = frosty
    with pytest.raises(DayRefusedError, match="takes nothing in"):
        post_anyway(season.organiser, parcel.id, SUNDAY, LATER)
    with pytest.raises(DayRefusedError, match="Nothing can be said of that day"):
        post_anyway(season.organiser, parcel.id, MONDAY + timedelta(days=200), LATER)


def test_what_moving_refuses_for_its_loss_alone_posting_anyway_takes_and_the_other_way_round(
    season, frosty
):
    """Every day of the strip: something else stops it for both, or just one of the two takes it."""
    parcel, _day = frosty
    taken = {}
    with season.house.books.reading() as tx:
        for one in plan_of(parcel).strip:
            moved = refusal(lambda day=one.day: change_of(tx, season.organiser, parcel, day))
            anyway = refusal(lambda day=one.day: anyway_of(tx, season.organiser, parcel, day))
            taken.setdefault((moved is None, anyway is None), []).append((one, moved))
    assert set(taken) == {(False, False), (True, False), (False, True)}
    assert all(one.loss <= PostingTerms().loss_limit for one, _ in taken[True, False])
    for one, moved in taken[False, True]:
        assert one.word in WEATHER_WORDS
        assert one.loss > PostingTerms().loss_limit
        assert isinstance(moved, OverLimitError)
        assert str(moved).endswith("“Post anyway, I know” has it go all the same.")
    assert not any(isinstance(moved, OverLimitError) for _, moved in taken[False, False])


def refusal(look):
    try:
        look()
    except DayRefusedError as refused:
        return refused
    return None


def test_a_day_that_nothing_speaks_against_is_simply_moved_to(season, frosty):
    parcel, _day = frosty
    good = next(one.day for one in plan_of(parcel).strip if one.word is DayWord.GOOD)
    with pytest.raises(DayRefusedError, match="simply be moved"):
        post_anyway(season.organiser, parcel.id, good, LATER)


def test_only_the_sender_and_the_organiser_may(season, frosty):
    parcel, day = frosty
    with pytest.raises(NotAllowedError):
        post_anyway(season.ring.actor("Effie"), parcel.id, day, LATER)
    say_posted(season.organiser, parcel.id, MONDAY, LATER)
    with pytest.raises(AlreadyOnItsWayError):
        post_anyway(season.organiser, parcel.id, day, LATER)


@pytest.mark.parametrize("step", ["note", "rewrite", "_tell"])
def test_broken_in_the_middle_it_leaves_everything_as_it_was(season, frosty, monkeypatch, step):
    parcel, day = frosty
    before = dump(season.house.books)
    break_at(monkeypatch, f"exchange.actions.posting.change_day.{step}")
    with pytest.raises(BrokenError):
        post_anyway(season.organiser, parcel.id, day, LATER)
    assert dump(season.house.books) == before
