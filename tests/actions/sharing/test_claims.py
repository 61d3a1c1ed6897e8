"""Claims: made in one press, changed, taken back, and what is refused."""

from datetime import date

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.allocation_answers import refuse
from exchange.actions.sharing.claims import (
    NO_CLAIM,
    NewClaim,
    claim,
    claim_version,
    put_claim_back,
    withdraw_claim,
    would_like_one,
)
from exchange.actions.sharing.page_claims import claim_form, claims_page
from exchange.actions.sharing.spare_withdrawal import withdraw_spare
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.records import ALLOCATIONS, CLAIMS, PLACES, NotHereError
from tests.app_fixtures import NOW
from tests.builders.offers import a_batch, a_claim, a_ring, a_spare, a_variety, give, row, rows


def test_one_press_asks_for_one_as_first_choice(circle):
    claim_id = would_like_one(circle.actor("Effie"), a_variety(circle), NOW).claim_id

    made = row(circle, CLAIMS, claim_id)
    assert (made.asked, made.choice, made.alternatives) == (1, 1, ())


def test_pressing_twice_asks_once(circle):
    variety_id = a_variety(circle)
    first = would_like_one(circle.actor("Effie"), variety_id, NOW).claim_id

    assert would_like_one(circle.actor("Effie"), variety_id, NOW).claim_id == first
    assert len(rows(circle, CLAIMS)) == 1


def test_a_second_press_leaves_a_fuller_claim_as_it_is(circle):
    variety_id = a_variety(circle)
    claim_id = a_claim(circle, variety_id=variety_id, asked=4, choice=3)

    would_like_one(circle.actor("Effie"), variety_id, NOW)

    assert row(circle, CLAIMS, claim_id).asked == 4


@pytest.mark.parametrize("material", [Material.STOOL, Material.CLUMP, Material.UNROOTED])
def test_pressed_beside_a_spare_it_asks_for_what_that_is_sent_as_too(circle, material):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id, material=material)

    claim_id = would_like_one(circle.actor("Effie"), variety_id, NOW, spare_id).claim_id

    assert row(circle, CLAIMS, claim_id).materials == USUAL_MATERIALS | {material}


def test_pressed_beside_another_spare_an_open_claim_takes_that_material_too(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id, material=Material.STOOL)
    claim_id = a_claim(circle, variety_id=variety_id, asked=4)

    assert would_like_one(circle.actor("Effie"), variety_id, NOW, spare_id).claim_id == claim_id

    made = row(circle, CLAIMS, claim_id)
    assert made.asked == 4
    assert Material.STOOL in made.materials


def test_a_spare_of_another_variety_adds_nothing(circle):
    spare_id = a_spare(circle, variety_id=a_variety(circle), material=Material.STOOL)
    variety_id = a_variety(circle, name="Brass Pin")

    claim_id = would_like_one(circle.actor("Effie"), variety_id, NOW, spare_id).claim_id

    assert row(circle, CLAIMS, claim_id).materials == USUAL_MATERIALS


def test_claiming_anew_changes_the_claim_there_is(circle):
    variety_id = a_variety(circle)
    claim_id = a_claim(circle, variety_id=variety_id)

    again = a_claim(circle, variety_id=variety_id, asked=2, choice=2)

    assert again == claim_id
    assert row(circle, CLAIMS, claim_id).asked == 2


@pytest.mark.parametrize(
    ("wish", "field"),
    [
        ({"asked": 0}, "asked"),
        ({"asked": -1}, "asked"),
        ({"asked": 10**9}, "asked"),
        ({"choice": 4}, "choice"),
        ({"materials": frozenset()}, "materials"),
        ({"materials": frozenset({Material.SEED})}, "materials"),
        ({"no_use_after": date(2027, 4, 4)}, "no_use_after"),
    ],
)
def test_a_claim_that_cannot_be_is_refused_beside_its_field(circle, wish, field):
    with pytest.raises(RefusedError) as refused:
        a_claim(circle, **wish)

    assert refused.value.field == field
    assert rows(circle, CLAIMS) == ()


def test_the_same_day_is_still_of_use(circle):
    assert a_claim(circle, no_use_after=date(2027, 4, 5))


def test_alternatives_are_kept_once_and_never_the_variety_itself(circle):
    variety_id, other = a_variety(circle), a_variety(circle, "Brass Thimble")

    claim_id = a_claim(circle, variety_id=variety_id, alternatives=(other, variety_id, other))

    assert row(circle, CLAIMS, claim_id).alternatives == (other,)


def test_forty_alternatives_are_taken_and_forty_one_are_not(circle):
    others = tuple(a_variety(circle, f"Seedling {number}") for number in range(41))

    a_claim(circle, alternatives=others[:40])
    with pytest.raises(RefusedError) as refused:
        a_claim(circle, alternatives=others)

    assert refused.value.field == "alternatives"


def test_an_alternative_of_another_circle_is_not_there(house, circle):
    other = a_ring(house)

    with pytest.raises(NotHereError):
        a_claim(circle, alternatives=(a_variety(other),))
    with pytest.raises(NotHereError):
        claim(circle.actor("Effie"), NewClaim(a_variety(other, "Elsewhere")), NOW)


def test_a_claim_is_taken_back_and_put_back(circle):
    claim_id = a_claim(circle)

    withdraw_claim(circle.actor("Effie"), claim_id, NOW)
    gone = row(circle, CLAIMS, claim_id).withdrawn_at
    put_claim_back(circle.actor("Effie"), claim_id, NOW)

    assert gone is not None
    assert row(circle, CLAIMS, claim_id).withdrawn_at is None


def test_undo_never_makes_two_claims_on_one_variety(circle):
    variety_id = a_variety(circle)
    claim_id = a_claim(circle, variety_id=variety_id)
    withdraw_claim(circle.actor("Effie"), claim_id, NOW)
    a_claim(circle, variety_id=variety_id, asked=2)

    put_claim_back(circle.actor("Effie"), claim_id, NOW)

    assert len(rows(circle, CLAIMS, withdrawn_at=None)) == 1


def test_nobody_takes_back_the_claim_of_another(circle):
    claim_id = a_claim(circle)

    with pytest.raises(NotAllowedError):
        withdraw_claim(circle.actor("Cuthbert"), claim_id, NOW)


def test_a_claim_that_was_given_plants_is_declined_not_withdrawn(circle):
    variety_id = a_variety(circle)
    claim_id = a_claim(circle, variety_id=variety_id)
    give(circle, a_spare(circle, variety_id=variety_id), claim_id)

    with pytest.raises(RefusedError):
        withdraw_claim(circle.actor("Effie"), claim_id, NOW)

    (line,) = claims_page(circle.actor("Effie"), NOW).lines
    assert (line.given, [one.count for one in line.coming]) == (1, [1])


def test_a_variety_that_was_given_can_be_asked_for_again(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id)
    met = a_claim(circle, variety_id=variety_id)
    give(circle, spare_id, met)

    (offer,) = claim_form(circle.actor("Effie"), variety_id, NOW).offers

    assert offer.my_claim is None
    again = would_like_one(circle.actor("Effie"), variety_id, NOW).claim_id
    assert again != met


def test_wishes_nobody_meets_are_listed_without_names_what_one_grows_first(circle):
    grown, strange = a_variety(circle, "Zinc Pail"), a_variety(circle, "Apron")
    a_batch(circle, "Cuthbert", grown)
    a_claim(circle, "Effie", grown, asked=2)
    a_claim(circle, "Effie", strange, asked=5)
    a_spare(circle, "Winnie", strange, count=1)

    wishes = claims_page(circle.actor("Cuthbert"), NOW).wishes

    assert [(one.variety.id, one.asked, one.offered, one.mine) for one in wishes] == [
        (grown, 2, 0, True),
        (strange, 5, 1, False),
    ]


def test_a_border_is_shown_before_anything_is_matched(circle):
    variety_id = a_variety(circle)
    a_spare(circle, variety_id=variety_id)
    with circle.house.books.writing() as tx:
        PLACES.change(tx, circle.circle_id, circle.place("Effie").id, subdivision="NIR")

    (offer,) = claim_form(circle.actor("Effie"), variety_id, NOW).offers

    assert offer.blocked
    assert offer.border.authority == "APHA and DAERA"
    assert not claim_form(circle.actor("Winnie"), variety_id, NOW).offers[0].blocked


def test_a_hundred_can_be_asked_for_and_not_one_more(circle):
    variety_id = a_variety(circle)

    claim_id = a_claim(circle, variety_id=variety_id, asked=100)
    with pytest.raises(RefusedError) as refused:
        a_claim(circle, variety_id=variety_id, asked=101)

    assert refused.value.field == "asked"
    assert row(circle, CLAIMS, claim_id).asked == 100


def test_claiming_anew_from_another_place_of_ones_own_moves_the_claim(circle):
    variety_id = a_variety(circle)
    claim_id = a_claim(circle, variety_id=variety_id)
    first = circle.place("Effie")
    with circle.house.books.writing() as tx:
        allotment = PLACES.add(
            tx, circle.circle_id, household_id=first.household_id, name="plot", town="Ludlow",
            county="Shropshire", country="GB", subdivision="ENG", latitude=52.4, longitude=-2.7,
            zone="Europe/London",
        )  # fmt: skip

    a_claim(circle, variety_id=variety_id, place_id=allotment)
    moved = row(circle, CLAIMS, claim_id).place_id
    a_claim(circle, variety_id=variety_id)

    assert (moved, row(circle, CLAIMS, claim_id).place_id) == (allotment, allotment)


def test_plants_given_to_somebody_else_leave_a_claim_open(circle):
    variety_id = a_variety(circle)
    spare_id = a_spare(circle, variety_id=variety_id)
    give(circle, spare_id, a_claim(circle, "Winnie", variety_id=variety_id))
    claim_id = a_claim(circle, variety_id=variety_id)

    assert a_claim(circle, variety_id=variety_id, asked=2) == claim_id
    withdraw_claim(circle.actor("Effie"), claim_id, NOW)

    assert row(circle, CLAIMS, claim_id).withdrawn_at == NOW


def test_what_was_set_aside_and_taken_back_is_not_put_back_as_a_claim(circle):
    spare_id = a_spare(circle, set_aside_for=circle["Effie"].household_id)
    withdraw_spare(circle.actor("Cuthbert"), spare_id, NOW)
    (claim_row,) = rows(circle, CLAIMS)

    put_claim_back(circle.actor("Effie"), claim_row.id, NOW)

    assert row(circle, CLAIMS, claim_row.id).withdrawn_at == NOW


def test_a_form_of_a_claim_saves_over_what_it_was_opened_on_and_nothing_newer(circle):
    effie, variety_id = circle.actor("Effie"), a_variety(circle)
    claim_id = claim(effie, NewClaim(variety_id, 2), NOW, opened=NO_CLAIM)
    opened = claim_version(row(circle, CLAIMS, claim_id))
    claim(effie, NewClaim(variety_id, 3), NOW, opened=opened)

    for older in (NO_CLAIM, opened):
        with pytest.raises(EditedMeanwhileError):
            claim(effie, NewClaim(variety_id, 4), NOW, opened=older)

    assert row(circle, CLAIMS, claim_id).asked == 3


def test_a_first_claim_is_for_the_place_it_names(circle):
    first = circle.place("Effie")
    with circle.house.books.writing() as tx:
        allotment = PLACES.add(
            tx, circle.circle_id, household_id=first.household_id, name="plot", town="Ludlow",
            county="Shropshire", country="GB", subdivision="ENG", latitude=52.4, longitude=-2.7,
            zone="Europe/London",
        )  # fmt: skip

    assert row(circle, CLAIMS, a_claim(circle, place_id=allotment)).place_id == allotment


def test_what_was_set_aside_and_cannot_go_is_no_claim_that_could_be_changed(circle):
    variety_id = a_variety(circle)
    a_spare(circle, variety_id=variety_id, set_aside_for=circle["Effie"].household_id)
    (allocation,) = rows(circle, ALLOCATIONS)
    refuse(circle.actor("Cuthbert"), allocation.id, NOW)

    assert a_claim(circle, variety_id=variety_id) != allocation.claim_id
