"""One undo takes a whole box back, or nothing of it."""

from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.box_undo import take_box_back
from exchange.actions.sharing.spare_lines import LineDecision, Window, list_box
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import What
from exchange.records import CLAIMS, SPARES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import TODAY, a_claim, a_spare, give, rows

LATER = NOW + timedelta(minutes=1)


def a_box(circle):
    said = (3, Material.ROOTED, Raised.COOL, None, Species.DAHLIA)
    decided = [
        LineDecision(*said, "Tin Kettle"),
        LineDecision(*said, "Harl"),
        LineDecision(*said, "Oxbow", what=What.WISH),
    ]
    text = "3 rooted Tin Kettle\n3 rooted Harl\nAny Oxbow?"
    return list_box(circle.actor("Cuthbert"), text, decided, Window(TODAY, TODAY), NOW)


def standing(circle):
    spares = [one.id for one in rows(circle, SPARES) if one.withdrawn_at is None]
    return spares, [one.id for one in rows(circle, CLAIMS) if one.withdrawn_at is None]


def test_spares_and_wishes_of_the_box_go_and_nothing_else(circle):
    other = a_spare(circle)
    kept = a_box(circle)

    take_box_back(circle.actor("Cuthbert"), kept.spares, kept.claims, LATER)

    assert standing(circle) == ([other], [])


def test_where_one_is_promised_nothing_is_taken_back(circle):
    kept = a_box(circle)
    spare = next(one for one in rows(circle, SPARES) if one.id == kept.spares[1])
    give(circle, spare.id, a_claim(circle, variety_id=spare.variety_id))
    before = dump(circle.house.books)

    with pytest.raises(RefusedError, match="promised already"):
        take_box_back(circle.actor("Cuthbert"), kept.spares, kept.claims, LATER)

    assert dump(circle.house.books) == before


def test_nobody_else_takes_it_back(circle):
    kept = a_box(circle)

    with pytest.raises(NotAllowedError):
        take_box_back(circle.actor("Effie"), kept.spares, kept.claims, LATER)


@pytest.mark.parametrize("step", ["note", "withdraw_within"])
def test_an_undo_broken_in_the_middle_leaves_the_box_whole(circle, monkeypatch, step):
    kept = a_box(circle)
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.sharing.box_undo.{step}")

    with pytest.raises(BrokenError):
        take_box_back(circle.actor("Cuthbert"), kept.spares, kept.claims, LATER)

    assert dump(circle.house.books) == before
