from dataclasses import replace
from datetime import date, timedelta

import pytest

from exchange.domain.arriving.tonight import RECENT_DAYS, cold_tonight, is_watched
from exchange.domain.growing.batch import Batch, Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from tests.builders.arrivals import an_outlook

TODAY = date(2027, 5, 3)
ALL = frozenset(ShelterKind)
POTS = Batch(1, 1, 1, 1, Material.YOUNG_PLANT, Raised.COOL, 3, ShelterKind.COLD)
CLUMP = replace(POTS, material=Material.CLUMP)


def cold(low, *batches, kinds=ALL, species=Species.FUCHSIA):
    night = replace(an_outlook(lows=(low,), sd=1.0).nights[0], day=TODAY)
    return cold_tonight([(each, species) for each in batches], [night], kinds)


@pytest.mark.parametrize(
    ("batch", "days_ago", "watched"),
    [
        (POTS, None, True),
        (replace(POTS, raised=Raised.HARDENED), None, False),
        (replace(POTS, raised=Raised.HARDENED), RECENT_DAYS, True),
        (replace(POTS, raised=Raised.HARDENED), RECENT_DAYS + 1, False),
        (CLUMP, None, False),
        (CLUMP, RECENT_DAYS, True),
        (replace(POTS, plants=1), 1, True),
        (replace(POTS, plants=0), 1, False),
    ],
)
def test_newcomers_and_green_plants_not_hardened_off_are_watched(batch, days_ago, watched):
    since = None if days_ago is None else TODAY - timedelta(days=days_ago)

    assert is_watched(replace(batch, since=since), TODAY) is watched


def test_pots_are_told_of_in_a_cold_night_and_not_in_a_mild_one():
    (found,) = cold(-3.0, POTS)

    assert (found.batch, found.stands.shelter) == (POTS, ShelterKind.COLD)
    assert found.chance > 0.99
    assert cold(12.0, POTS) == ()


@pytest.mark.parametrize(
    "shelter", [ShelterKind.PROPAGATOR, ShelterKind.INDOORS, ShelterKind.HEATED]
)
def test_pots_in_a_shelter_that_holds_its_warmth_are_never_told_of(shelter):
    tender = replace(POTS, raised=Raised.IN_HEAT, shelter=shelter)

    assert cold(-25.0, tender, species=Species.COLEUS) == ()


def test_pots_are_to_be_carried_where_it_is_warm_enough():
    (found,) = cold(-3.0, POTS, kinds=frozenset({ShelterKind.COLD, ShelterKind.HEATED}))
    (without,) = cold(-3.0, POTS, kinds=frozenset({ShelterKind.COLD}))

    assert (found.carry_to.shelter, without.carry_to.shelter) == (
        ShelterKind.HEATED,
        ShelterKind.INDOORS,
    )


def test_pots_raised_in_heat_are_told_of_in_nights_that_cool_ones_stand():
    in_heat = replace(POTS, id=2, raised=Raised.IN_HEAT)

    assert [each.batch.id for each in cold(4.0, POTS, in_heat)] == [2]


def test_a_batch_whose_stand_is_not_told_is_taken_to_stand_where_it_should():
    untold = replace(POTS, shelter=None)

    assert cold(-25.0, untold, kinds=frozenset({ShelterKind.HEATED})) == ()
    assert cold(-25.0, untold, kinds=frozenset({ShelterKind.COLD})) != ()


def test_of_two_answers_the_worse_is_used_for_each_pot_whichever_comes_first():
    mild, frosty = (
        replace(an_outlook(lows=(low,), sd=1.0).nights[0], day=TODAY) for low in (12.0, -3.0)
    )
    pots = [(POTS, Species.FUCHSIA)]

    (alone,) = cold_tonight(pots, [frosty], ALL)

    assert cold_tonight(pots, [mild], ALL) == ()
    assert cold_tonight(pots, [mild, frosty], ALL) == (alone,)
    assert cold_tonight(pots, [frosty, mild], ALL) == (alone,)


def test_without_a_night_nothing_is_told():
    with pytest.raises(ValueError, match="where one is known"):
        cold_tonight([(POTS, Species.FUCHSIA)], [], ALL)
