"""What keeps one spare from one claim, asked of the pair itself, and the room that is left."""

from datetime import timedelta

import pytest

from exchange.domain.circle.border import BorderRow, Passage
from exchange.domain.circle.household import Household
from exchange.domain.growing.batch import Material
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing.case import Allocation
from exchange.domain.sharing.pairs import PairingLookups, wanted
from exchange.domain.sharing.reason import Obstacle
from tests.builders.circles import CLOSES, a_case, a_claim, a_spare, a_variety

DAY = timedelta(days=1)


def lookups(spare=None, claim=None, **more):
    spare, claim = spare or a_spare(), claim or a_claim()
    return PairingLookups(a_case(spares=(spare,), claims=(claim,), **more)), spare, claim


def obstacle(spare=None, claim=None, **more):
    looked, spare, claim = lookups(spare, claim, **more)
    return looked.obstacle(spare, claim)


def homes(left):
    return tuple(Household(one, f"Household {one}", left=one == left) for one in (1, 2))


@pytest.mark.parametrize("left", [1, 2])
def test_whichever_end_has_left_the_pair_is_none(left):
    assert obstacle(households=homes(left)) is Obstacle.LEFT
    assert obstacle(households=homes(3)) is None


def test_a_protected_variety_goes_to_nobody():
    assert obstacle(varieties=(a_variety(protected=True),)) is Obstacle.HELD


def test_seed_goes_to_nobody_even_where_it_would_be_taken():
    spare = a_spare(material=Material.SEED)

    assert obstacle(spare, a_claim(materials=frozenset(Material))) is Obstacle.MATERIAL


@pytest.mark.parametrize(
    ("spare", "claim", "meets"),
    [
        ({"send_by": CLOSES}, {}, True),
        ({"send_by": CLOSES - DAY}, {}, False),
        ({"ready_from": CLOSES + DAY}, {"no_use_after": CLOSES + DAY}, True),
        ({"ready_from": CLOSES + 2 * DAY}, {"no_use_after": CLOSES + DAY}, False),
        ({"ready_from": CLOSES - 9 * DAY}, {"no_use_after": CLOSES - DAY}, False),
        ({"send_by": CLOSES + DAY, "ready_from": CLOSES + 2 * DAY},
         {"no_use_after": CLOSES + 9 * DAY}, False),
    ],
)  # fmt: skip
def test_one_day_that_both_allow_is_enough(spare, claim, meets):
    found = obstacle(a_spare(**spare), a_claim(**claim))

    assert found is (None if meets else Obstacle.WINDOW)


def test_a_border_between_other_places_or_with_a_note_only_stops_nothing():
    blocked = BorderRow("GB", "NI", Passage.BLOCKED, "", "")
    noted = BorderRow("GB", "NI", Passage.NOTED, "", "")

    found = [
        obstacle(passage=rows)
        for rows in ({(1, 2): blocked}, {(2, 1): blocked}, {(1, 2): noted}, {(1, 2): None})
    ]

    assert found == [Obstacle.BORDER, None, None, None]


def test_only_the_pair_the_organiser_forbids_is_kept_apart():
    assert [obstacle(forbids=(one,)) for one in ((1, 1), (1, 2), (2, 1))] == [
        Obstacle.FORBIDDEN,
        None,
        None,
    ]


def test_a_claim_from_a_place_that_is_not_listed_has_room():
    assert obstacle(claim=a_claim(place_id=77), safe_from={}) is None


@pytest.mark.parametrize(
    ("room", "stood", "left"), [(3, 2, 1), (1, 1, 0), (3, 3, 0), (3, 4, 0), (None, 4, None)]
)
def test_what_stands_takes_room_down_to_nothing_and_never_below(room, stood, left):
    shelters = (Shelter(2, ShelterKind.INDOORS, room),)
    looked, spare, claim = lookups(
        a_spare(count=5), shelters=shelters, kept=(Allocation(1, 1, stood),)
    )

    looked.take_standing()

    assert looked.room[2][looked.depth(spare, claim) :] == (left,) * (
        6 - looked.depth(spare, claim)
    )
    assert (looked.obstacle(spare, claim) is Obstacle.ROOM) == (left == 0)


def test_where_there_is_no_fit_shelter_what_stands_opens_none():
    shelters = (Shelter(2, ShelterKind.OPEN_GROUND, 3),)
    looked, spare, claim = lookups(
        a_spare(send_by=CLOSES), shelters=shelters, kept=(Allocation(1, 1, 1),)
    )

    looked.take_standing()

    assert looked.obstacle(spare, claim) is Obstacle.SHELTER


def test_a_claim_wants_its_own_variety_first_and_none_twice():
    assert wanted(a_claim(variety=4, alternatives=(2, 4, 3, 2))) == (4, 2, 3)
