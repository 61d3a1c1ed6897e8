"""Days away are told, corrected and taken back by their household and the organiser."""

from datetime import date

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.people.away import (
    DaysRefusedError,
    NewAway,
    away_there,
    change_away,
    go_away,
    stay,
)
from exchange.records import AWAY
from tests.app_fixtures import NOW
from tests.builders.offers import row, rows

MAY = NewAway(date(2027, 5, 1), date(2027, 5, 4))
LATER = NewAway(date(2027, 5, 2), date(2027, 5, 9), cannot_post=False)


@pytest.fixture
def away(circle):
    return go_away(circle.actor("Effie"), MAY, NOW)


@pytest.mark.parametrize("who", ["Effie", "Winnie"])
def test_whoever_told_of_them_and_the_organiser_correct_them(circle, away, who):
    change_away(circle.actor(who), away, LATER, NOW)

    now = row(circle, AWAY, away)
    assert (now.first, now.last, now.cannot_post) == (LATER.first, LATER.last, False)


def test_nobody_else_looks_at_or_changes_them(circle, away):
    for act in (
        lambda: away_there(circle.actor("Cuthbert"), away),
        lambda: change_away(circle.actor("Cuthbert"), away, LATER, NOW),
        lambda: stay(circle.actor("Cuthbert"), away, NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


@pytest.mark.parametrize(
    ("new", "field"),
    [
        (NewAway(date(2027, 5, 9), date(2027, 5, 2)), "last"),
        (NewAway(date(2027, 3, 1), date(2027, 3, 2)), "last"),
        (NewAway(date(2027, 5, 1), date(2028, 6, 1)), "last"),
        (NewAway(date(2027, 5, 1), date(2027, 5, 2), False, False), "cannot_receive"),
    ],
)
def test_days_that_make_no_sense_are_refused_and_the_old_ones_stand(circle, away, new, field):
    with pytest.raises(DaysRefusedError) as refused:
        change_away(circle.actor("Effie"), away, new, NOW)

    assert refused.value.field == field
    assert row(circle, AWAY, away).first == MAY.first


def test_days_that_have_begun_can_still_end_sooner(circle, away):
    sooner = NewAway(MAY.first, date(2027, 5, 3))

    change_away(circle.actor("Effie"), away, sooner, NOW.replace(month=5, day=2))

    assert row(circle, AWAY, away).last == sooner.last


def test_the_second_of_two_corrections_is_refused(circle, away):
    opened = away_there(circle.actor("Effie"), away).version
    change_away(circle.actor("Effie"), away, LATER, NOW, opened=opened)

    with pytest.raises(EditedMeanwhileError):
        change_away(circle.actor("Effie"), away, MAY, NOW, opened=opened)


def test_taken_back_they_are_gone(circle, away):
    stay(circle.actor("Effie"), away, NOW)

    assert rows(circle, AWAY) == ()
