"""What was heard of a parcel's journey, and where it therefore stands."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from exchange.domain.posting.answer import PostingAnswer


@dataclass(frozen=True, slots=True)
class ArrivalWindow:
    """The days on which a parcel is expected, both counted; one day once it has come.

    Raises
    ------
    ValueError
        When the last day is before the first.
    """

    first: date
    last: date

    def __post_init__(self) -> None:
        if self.last < self.first:
            raise ValueError("the last day a parcel is expected lies before the first")


class Condition(StrEnum):
    """How plants came, as the receiver sees them on opening."""

    WELL = "well"
    LIMP = "limp"
    HURT = "hurt"
    DEAD = "dead"


@dataclass(frozen=True, slots=True)
class JourneyReport:
    """What is known of one parcel's journey.

    Attributes
    ----------
    posting_day : the day it was to go, or None when it has none
    expected : the days on which it should come, or None
    posted_on, arrived_on : days as members told them, or None in silence
    answer : what the plan says of it; tells why it has no day
    announced : whether the posting day was told to anybody
    returned : it came back to its sender
    """

    posting_day: date | None
    expected: ArrivalWindow | None = None
    posted_on: date | None = None
    arrived_on: date | None = None
    lost: bool = False
    answer: PostingAnswer | None = None
    announced: bool = True
    returned: bool = False


class JourneyState(StrEnum):
    """Where a parcel stands on its way."""

    NO_DAY = "no_day"
    NOT_READY = "not_ready"
    WAITS = "waits"
    NO_WAY = "no_way"
    TO_COME = "to_come"
    TODAY = "today"
    PROBABLY_POSTED = "probably_posted"
    POSTED = "posted"
    OVERDUE = "overdue"
    ARRIVED = "arrived"
    LOST = "lost"
    RETURNED = "returned"


_WITHOUT_DAY = {
    PostingAnswer.NOT_READY: JourneyState.NOT_READY,
    PostingAnswer.WAIT: JourneyState.WAITS,
    PostingAnswer.NO_WAY: JourneyState.NO_WAY,
}


def journey(heard: JourneyReport, today: date) -> JourneyState:
    """
    Say where a parcel stands.

    An arrival implies that it was posted. Silence after the posting day is "probably posted" and
    teaches nothing; a parcel told as posted that has not come after its last expected day is overdue.
    """
    if heard.lost:
        return JourneyState.LOST
    if heard.returned:
        return JourneyState.RETURNED
    if heard.arrived_on is not None:
        return JourneyState.ARRIVED
    if heard.posted_on is not None:
        late = heard.expected is not None and today > heard.expected.last
        return JourneyState.OVERDUE if late else JourneyState.POSTED
    if heard.posting_day is None:
        return _WITHOUT_DAY.get(heard.answer or PostingAnswer.POST, JourneyState.NO_DAY)
    if today < heard.posting_day or not heard.announced:
        return JourneyState.TO_COME
    return JourneyState.TODAY if today == heard.posting_day else JourneyState.PROBABLY_POSTED
