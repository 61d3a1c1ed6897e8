from datetime import date, timedelta

import pytest

from exchange.domain.arriving.arrival import (
    ArrivalWindow,
    JourneyReport,
    JourneyState,
    journey,
)
from exchange.domain.posting.answer import PostingAnswer
from tests.builders.arrivals import WEDNESDAY, a_window

MONDAY = date(2027, 4, 26)


@pytest.mark.parametrize(
    ("heard", "today", "where"),
    [
        (JourneyReport(None), MONDAY, JourneyState.NO_DAY),
        (JourneyReport(WEDNESDAY), MONDAY, JourneyState.TO_COME),
        (JourneyReport(MONDAY), MONDAY, JourneyState.TODAY),
        (JourneyReport(MONDAY), WEDNESDAY, JourneyState.PROBABLY_POSTED),
        (
            JourneyReport(MONDAY, a_window(), posted_on=MONDAY),
            date(2027, 4, 30),
            JourneyState.POSTED,
        ),
        (
            JourneyReport(MONDAY, a_window(), posted_on=MONDAY),
            date(2027, 5, 1),
            JourneyState.OVERDUE,
        ),
        (JourneyReport(MONDAY, lost=True), WEDNESDAY, JourneyState.LOST),
    ],
)
def test_a_parcel_stands_where_its_members_left_it(heard, today, where):
    assert journey(heard, today) is where


def test_an_arrival_implies_that_it_was_posted():
    assert journey(JourneyReport(MONDAY, arrived_on=WEDNESDAY), WEDNESDAY) is JourneyState.ARRIVED


def test_a_window_that_ends_before_it_begins_is_refused():
    with pytest.raises(ValueError, match="before the first"):
        ArrivalWindow(WEDNESDAY, WEDNESDAY - timedelta(days=1))


@pytest.mark.parametrize(
    ("answer", "state"),
    [
        (None, JourneyState.NO_DAY),
        (PostingAnswer.NOT_READY, JourneyState.NOT_READY),
        (PostingAnswer.WAIT, JourneyState.WAITS),
        (PostingAnswer.NO_WAY, JourneyState.NO_WAY),
    ],
)
def test_a_parcel_without_a_day_tells_which_kind_it_is(answer, state):
    assert journey(JourneyReport(None, answer=answer), MONDAY) is state
