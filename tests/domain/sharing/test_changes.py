"""What would have brought a claim more is tried, change by change, and the smallest that suffices is named."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.sharing import changes as module
from exchange.domain.sharing.changes import ChangeKind, Counterfactual, Tried, what_would_change
from exchange.domain.sharing.share_out import find, never_stop, work_out
from tests.builders.circles import CLOSES, a_case, a_claim, a_spare

DAY = timedelta(days=1)


def tried(*claims, spares=None, **more):
    case = a_case(spares=spares or (a_spare(),), claims=claims or (a_claim(),), **more)
    return what_would_change(case, work_out(case), 1)


def test_to_a_claim_that_is_met_nothing_is_to_be_changed():
    assert tried() == Tried((), every=True)


def test_another_material_is_named_when_it_would_have_brought_a_plant():
    assert tried(spares=(a_spare(material=Material.UNROOTED),)).found == (
        Counterfactual(ChangeKind.MATERIAL, 1, material=Material.UNROOTED),
    )


def test_seed_is_never_offered_as_a_material_to_take():
    assert tried(spares=(a_spare(material=Material.SEED),)).found == ()


def test_the_day_named_is_the_earliest_that_suffices():
    spares = (
        a_spare(ready_from=CLOSES + 9 * DAY, send_by=CLOSES + 30 * DAY),
        a_spare(2, ready_from=CLOSES + 20 * DAY, send_by=CLOSES + 30 * DAY),
    )
    claim = a_claim(no_use_after=CLOSES)
    case = a_case(spares=spares, claims=(claim,))

    (change,) = what_would_change(case, work_out(case), 1).found

    assert (change.kind, change.until) == (ChangeKind.LATER, CLOSES + 9 * DAY)
    for day, plants in ((change.until, 1), (change.until - DAY, 0)):
        later = replace(case, claims=(replace(claim, no_use_after=day),))
        assert sum(one.count for one in find(later, never_stop).allocations) == plants


def test_a_later_day_may_help_because_a_colder_shelter_does_by_then():
    """A cold greenhouse takes what was raised in heat from 20 May on."""
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=CLOSES + 60 * DAY),)
    shelters = (Shelter(2, ShelterKind.COLD),)

    found = tried(a_claim(no_use_after=CLOSES + 5 * DAY), spares=spares, shelters=shelters).found

    days = [one.until for one in found if one.kind is ChangeKind.LATER]
    assert [(one.month, one.day) for one in days] == [(5, 20)]


def test_each_shelter_is_given_a_tray_by_itself_and_named():
    shelters = (Shelter(2, ShelterKind.INDOORS, 0), Shelter(2, ShelterKind.HEATED, 0))

    found = tried(shelters=shelters).found

    assert [(one.kind, one.shelter) for one in found] == [
        (ChangeKind.TRAY, ShelterKind.INDOORS),
        (ChangeKind.TRAY, ShelterKind.HEATED),
    ]


def test_a_tray_indoors_is_tried_where_no_room_indoors_is_named():
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=CLOSES + 5 * DAY),)

    found = tried(spares=spares, shelters=(Shelter(2, ShelterKind.COLD),)).found

    assert Counterfactual(ChangeKind.TRAY, 1, shelter=ShelterKind.INDOORS) in found


def test_hardening_off_is_named_when_it_would_have_brought_a_plant():
    spares = (a_spare(raised=Raised.IN_HEAT, send_by=CLOSES + 25 * DAY),)

    found = tried(spares=spares, shelters=(Shelter(2, ShelterKind.COLD),)).found

    assert Counterfactual(ChangeKind.HARDENED, 1) in found


def test_the_choice_named_is_the_lowest_that_suffices():
    claims = (
        a_claim(choice=3),
        a_claim(2, household=3, choice=3),
        a_claim(3, household=4, choice=3),
    )

    found = tried(*claims, draw_number="1").found

    assert [one.choice for one in found if one.kind is ChangeKind.CHOICE] in ([2], [])
    first = tried(a_claim(choice=3), a_claim(2, household=3, choice=2)).found
    assert [one.choice for one in first] == [1]


def test_one_plant_more_and_every_smaller_number_beyond_what_was_given_are_tried(monkeypatch):
    asked = []

    def watched(case, watch):
        asked.append(case.claims[0].asked)
        # Four is what is asked for while something else is tried.
        return find(case, watch)

    monkeypatch.setattr(module, "find", watched)
    tried(a_claim(asked=4, choice=1), spares=(a_spare(),))

    assert [one for one in asked if one != 4] == [5, 3, 2]


def test_an_alternative_is_tried_variety_by_variety_and_only_what_could_come():
    spares = (a_spare(), a_spare(2, variety=2), a_spare(3, variety=3, material=Material.UNROOTED))
    claims = (a_claim(choice=3), a_claim(2, household=3))

    found = tried(*claims, spares=spares).found

    assert [(one.kind, one.variety_id) for one in found] == [(ChangeKind.ALTERNATIVE, 2)]


@pytest.mark.parametrize(("most", "every"), [(1, False), (50, True)])
def test_where_not_everything_is_tried_it_is_not_said_to_be(monkeypatch, most, every):
    monkeypatch.setattr(module, "TRIED", most)
    monkeypatch.setattr(module, "COLUMNS_TRIED", 0)

    assert tried(a_claim(choice=2), a_claim(2, household=3)).every is every
