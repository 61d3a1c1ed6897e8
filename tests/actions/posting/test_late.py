"""Late parcels: the receiver says so, the sender is told once."""

from datetime import timedelta

import pytest

from exchange.actions.home.answer_by_link import NotYet, PressedLink, answer_by_link
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.links import Purpose, make_link
from exchange.actions.posting.late import NotLateError, say_late
from exchange.actions.posting.parcels import Arrival, say_arrived
from exchange.records import LETTERS
from tests.app_fixtures import token_of
from tests.builders.season import MONDAY, again, morning

OVER = morning(MONDAY + timedelta(days=9), 9)


def letters(season):
    with season.house.books.reading() as tx:
        return LETTERS.all(tx, season.circle_id, kind="late")


def test_the_sender_is_told_once_that_it_has_not_come(season, parcel):
    for hours in (0, 5):
        say_late(season.ring.actor("Effie"), parcel.id, OVER + timedelta(hours=hours))

    (letter,) = letters(season)
    assert letter.member_id == season.ring["Winnie"].id
    assert "tracking number" in letter.body
    assert again(season, parcel).missed_on == OVER.date()


def test_while_its_days_are_not_over_it_is_not_late(season, parcel):
    with pytest.raises(NotLateError):
        say_late(season.ring.actor("Effie"), parcel.id, morning(parcel.arrival_to))
    assert not letters(season)


def test_what_has_come_is_not_late(season, parcel):
    effie = season.ring.actor("Effie")
    say_arrived(effie, parcel.id, Arrival(parcel.arrival_to), OVER)
    with pytest.raises(NotLateError):
        say_late(effie, parcel.id, OVER)


def test_only_the_receiver_or_the_organiser_says_so(season, parcel):
    with pytest.raises(NotAllowedError):
        say_late(season.ring.actor("Cuthbert"), parcel.id, OVER)


def test_not_yet_leaves_the_link_of_the_letter_working(season, parcel):
    with season.house.books.writing() as tx:
        link = make_link(
            tx, season.house, season.ring["Effie"], Purpose.DID_IT_COME, OVER, parcel.id
        )
    pressed = PressedLink(token_of(link), Purpose.DID_IT_COME)

    answer_by_link(season.house, pressed, NotYet(), OVER)
    assert again(season, parcel).missed_on == OVER.date()
    answer_by_link(season.house, pressed, Arrival(OVER.date()), OVER)
    assert again(season, parcel).arrived_on == OVER.date()
