from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.permissions import (
    ADDRESS_SHOWN_AFTER_ARRIVAL,
    Permission,
    Person,
    Subject,
    may,
)

CAME = date(2027, 5, 4)
PARCEL = Subject(sender=1, receiver=2, poster=5, asked=6, planned=True, arrived_on=CAME, today=CAME)
OWN = Subject(owner=1)
CLOCK = Person(None, None, clock=True)
SENDER, RECEIVER, OTHER = Person(11, 1), Person(12, 2), Person(13, 3)
ORGANISER = Person(14, 4, organiser=True)
PEOPLE = {
    "clock": CLOCK,
    "sender": SENDER,
    "receiver": RECEIVER,
    "other": OTHER,
    "organiser": ORGANISER,
    "poster": Person(15, 5),
    "asked": Person(16, 6),
}
EVERYBODY = set(PEOPLE)


@pytest.mark.parametrize(
    ("permission", "about", "who"),
    [
        (Permission.SEE_CIRCLE, Subject(), EVERYBODY),
        (Permission.KEEP_OWN, OWN, {"sender", "organiser"}),
        (Permission.ACT_FOR, Subject(), {"organiser"}),
        (Permission.RUN_CIRCLE, Subject(), {"organiser", "clock"}),
        (Permission.RUN_SHARE_OUT, Subject(), {"organiser", "clock"}),
        (Permission.SEE_PARCEL, PARCEL, EVERYBODY - {"other"}),
        (Permission.SAY_POSTED, PARCEL, {"sender", "poster", "organiser"}),
        (Permission.HAND_OVER, PARCEL, {"sender", "organiser"}),
        (Permission.TAKE_OVER, PARCEL, {"asked", "organiser"}),
        (Permission.LEAVE_TO_SENDER, PARCEL, {"sender", "poster", "asked", "organiser"}),
        (Permission.SAY_ARRIVED, PARCEL, {"receiver", "organiser"}),
        (
            Permission.SEE_RECEIVER_ADDRESS,
            PARCEL,
            {"sender", "poster", "receiver", "organiser"},
        ),
        (Permission.RUN_CLOCK, Subject(), {"organiser", "clock"}),
    ],
)
def test_each_thing_is_allowed_to_these_and_to_nobody_else(permission, about, who):
    assert {name for name, person in PEOPLE.items() if may(person, permission, about)} == who


def test_nothing_is_forgotten_and_nothing_is_free_to_all():
    nobody = Person(None, None)

    assert [one for one in Permission if may(nobody, one)] == []


@pytest.mark.parametrize(
    ("changes", "shown"),
    [
        ({}, True),
        ({"today": CAME + ADDRESS_SHOWN_AFTER_ARRIVAL}, True),
        ({"today": CAME + ADDRESS_SHOWN_AFTER_ARRIVAL + timedelta(days=1)}, False),
        ({"arrived_on": None, "today": CAME + timedelta(days=300)}, True),
        ({"planned": False}, False),
    ],
)
def test_the_sender_sees_the_address_while_it_is_needed(changes, shown):
    about = replace(PARCEL, **changes)

    assert may(SENDER, Permission.SEE_RECEIVER_ADDRESS, about) is shown
    assert may(RECEIVER, Permission.SEE_RECEIVER_ADDRESS, about)
