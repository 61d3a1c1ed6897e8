"""Each thing that cannot be shared out has its sentence, on the page, on the terminal and to the member."""

from dataclasses import replace
from datetime import date

import pytest

from exchange.actions.circle.leaving import Farewell, leave
from exchange.actions.growing.shelters import NewShelter, set_shelter
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.claims import ClaimCountRefusedError
from exchange.actions.sharing.page_share_outs import share_out_page
from exchange.actions.sharing.share_out import CannotBeWorkedOutError, remarks_on, work_out_case
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.optimise.programme import never_stop
from tests.app_fixtures import NOW


def remark(sharing):
    sharing.open()
    sharing.work_out()
    told = remarks_on(sharing.row())
    page = share_out_page(sharing.organiser, sharing.share_out_id, NOW)
    assert page.remarks == told
    sharing.confirm()
    return told


def sentence(sharing, claim_id):
    sharing.open()
    sharing.work_out()
    page = share_out_page(sharing.organiser, sharing.share_out_id, NOW)
    return next(line.sentence for line in page.answers if line.claim.id == claim_id)


def test_no_spares(sharing):
    sharing.ask("Effie", sharing.name())
    assert remark(sharing) == ("Nobody has listed a spare, so there is nothing to share out.",)


def test_no_claims(sharing):
    spare = sharing.offer("Winnie", sharing.name())
    (told,) = remark(sharing)
    assert told.startswith("Nobody has claimed anything")
    assert sharing.spare_row(spare).allocated == 0


def test_nothing_at_all(sharing):
    assert len(remark(sharing)) == 1


def test_only_ones_own(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety)
    claim = sharing.ask("Winnie", variety)
    assert sentence(sharing, claim) == "The only plants offered are Winnie’s own household’s."
    assert "one household" in remarks_on(sharing.row())[0]


def test_nothing_that_is_claimed_is_listed(sharing):
    sharing.offer("Winnie", sharing.name())
    claim = sharing.ask("Effie", sharing.name("Tin Whistle"))
    assert sentence(sharing, claim) == "Nobody offers it."


def test_windows_that_never_meet(sharing):
    variety = sharing.name()
    sharing.offer("Winnie", variety, ready_from=date(2027, 5, 20), send_by=date(2027, 6, 20))
    claim = sharing.ask("Effie", variety, no_use_after=date(2027, 4, 20))
    assert "on no day on which it could be posted" in sentence(sharing, claim)


def test_no_room(sharing):
    variety = sharing.name()
    place = sharing.ring.place("Effie").id
    set_shelter(sharing.actor("Effie"), NewShelter(place, ShelterKind.FROST_FREE, 0), NOW)
    sharing.offer("Winnie", variety)
    claim = sharing.ask("Effie", variety)
    assert "no room left" in sentence(sharing, claim)


def test_a_member_who_left_gets_nothing_and_gives_nothing(sharing):
    variety = sharing.name()
    sharing.offer("Cuthbert", variety)
    claim = sharing.ask("Effie", variety)
    leave(sharing.organiser, sharing.ring["Cuthbert"].id, NOW, Farewell(known=True))
    assert sentence(sharing, claim) in (
        "Nobody offers it.",
        "Whoever offered or claimed it has left the circle.",
    )
    sharing.confirm()
    assert sharing.standing() == {}


@pytest.mark.parametrize("count", [0, -1, 10**9])
def test_numbers_of_plants_that_cannot_be(sharing, count):
    variety = sharing.name()
    with pytest.raises(ClaimCountRefusedError, match=r"from 1 to"):
        sharing.ask("Effie", variety, asked=count)
    with pytest.raises(RefusedError, match=r"\w.*\."):
        sharing.offer("Winnie", variety, count=count)


@pytest.mark.parametrize("count", [0, -1, 10**9])
def test_a_number_that_slipped_through_is_named_and_nothing_is_worked_out(sharing, count):
    sharing.ask("Effie", sharing.name())
    sharing.open()
    with sharing.house.books.reading() as tx:
        case = share_out_case(tx, sharing.circle_id, sharing.row(), NOW)
    spoilt = replace(case, claims=(replace(case.claims[0], asked=count),))
    with pytest.raises(CannotBeWorkedOutError, match=r"number of plants of claim \d+ is"):
        work_out_case(spoilt, never_stop)
