"""A working compared with the records: a case made up, another draw, or other gifts are WRONG, fingerprint or not."""

import json

import pytest

from exchange.actions.growing.merge_varieties import merge
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.people.members import NewMember, add_member
from exchange.actions.people.merge_members import merge_into_member
from exchange.actions.sharing.allocation_answers import refuse
from exchange.actions.sharing.check_records import check_with_records
from exchange.actions.sharing.share_out_changes import cancel_share_out
from exchange.domain.sharing.instance import case_from, fingerprinted
from exchange.domain.sharing.share_out import work_out
from exchange.records import ALLOCATIONS, CLAIMS, MEMBERS, SPARES
from tests.app_fixtures import NOW


@pytest.fixture
def worked_out(sharing):
    """One of Winnie's for Cuthbert and Effie, who would each like one."""
    variety = sharing.name()
    sharing.spare = sharing.offer("Winnie", variety)
    sharing.wishes = [sharing.ask(who, variety) for who in ("Cuthbert", "Effie")]
    sharing.open()
    sharing.work_out()
    return sharing


def checked(sharing, tmp_path, tamper=lambda _working: None):
    """Give the last line for the working, changed and given a fingerprint anew."""
    working = json.loads(json.dumps(sharing.row().working))
    tamper(working)
    file = tmp_path / "working.json"
    file.write_text(
        json.dumps(fingerprinted({k: v for k, v in working.items() if k != "fingerprint"}))
    )
    found = check_with_records(sharing.organiser, file, NOW)
    assert found.proven == (not any("WRONG" in line for line in found.lines))
    return found.lines[-1].removeprefix("case, draw number and what was given: ")


def test_before_and_after_confirming_it_is_the_same_as_in_the_records(worked_out, tmp_path):
    assert checked(worked_out, tmp_path) == "the same as in the records"

    worked_out.confirm()
    assert checked(worked_out, tmp_path) == "the same as in the records"

    refuse(worked_out.actor("Winnie"), worked_out.given()[0].id, NOW)
    assert checked(worked_out, tmp_path) == "the same as in the records", (
        "it was given all the same"
    )


def another_draw(working):
    working["case"]["draw_number"] = "4712"


def one_claim_less(working):
    working["case"]["claims"].pop()


def more_spares(working):
    working["case"]["spares"][0]["count"] += 1


def another_household(working):
    working["case"]["claims"][0]["household_id"] += 1


@pytest.mark.parametrize(
    ("tamper", "said"),
    [
        (another_draw, "WRONG: no share-out of this circle was opened with the hash"),
        (one_claim_less, "WRONG: claims in its case differ from"),
        (more_spares, "WRONG: spares in its case differ from"),
        (another_household, "WRONG: claims in its case differ from"),
    ],
)
@pytest.mark.parametrize("confirmed", [False, True])
def test_a_case_that_is_not_the_records_is_wrong(worked_out, tmp_path, tamper, said, confirmed):
    if confirmed:
        worked_out.confirm()

    assert checked(worked_out, tmp_path, tamper).startswith(said)


def test_another_case_worked_out_in_full_passes_the_checker_and_not_the_records(
    worked_out, tmp_path
):
    """A forger who solves a made-up case anew gives a working that is right in itself."""
    case = json.loads(json.dumps(worked_out.row().working["case"]))
    one_claim_less({"case": case})
    forged = work_out(case_from(case)).working
    file = tmp_path / "forged.json"
    file.write_text(json.dumps(forged))

    found = check_with_records(worked_out.organiser, file, NOW)

    assert not any("WRONG" in line for line in found.lines[:-1])
    assert "WRONG: claims in its case differ" in found.lines[-1]
    assert not found.proven


def test_what_was_given_otherwise_is_named(worked_out, tmp_path):
    worked_out.confirm()
    first, second = worked_out.wishes

    def to_the_other(working):
        (one,) = working["allocations"]
        one[1] = second if one[1] == first else first

    assert "was given" in checked(worked_out, tmp_path, to_the_other)


def test_a_cancelled_share_out_is_none(worked_out, tmp_path):
    cancel_share_out(worked_out.organiser, worked_out.share_out_id, NOW)

    assert checked(worked_out, tmp_path).startswith("WRONG: no share-out of this circle")


def test_only_the_organiser_compares(worked_out, tmp_path):
    with pytest.raises(NotAllowedError):
        check_with_records(worked_out.actor("Effie"), tmp_path / "none.json", NOW)


def test_a_variety_made_one_with_another_since_leaves_the_working_right(worked_out, tmp_path):
    worked_out.confirm()
    with worked_out.house.books.reading() as tx:
        given = SPARES.get(tx, worked_out.circle_id, worked_out.spare).variety_id
    other = worked_out.name("Copper Pan")

    merge(worked_out.organiser, given, other, NOW)

    assert checked(worked_out, tmp_path) == "the same as in the records"


def test_a_member_made_one_with_another_since_leaves_the_working_right(worked_out, tmp_path):
    worked_out.confirm()
    with worked_out.house.books.reading() as tx:
        spare = SPARES.get(tx, worked_out.circle_id, worked_out.spare)
        given = ALLOCATIONS.all(tx, worked_out.circle_id, spare_id=spare.id)[0]
        claim = CLAIMS.get(tx, worked_out.circle_id, given.claim_id)
        got = MEMBERS.all(tx, worked_out.circle_id, household_id=claim.household_id)[0]
    again = add_member(worked_out.organiser, NewMember("Euphemia"), NOW)

    merge_into_member(worked_out.organiser, got.id, again, NOW)

    assert checked(worked_out, tmp_path) == "the same as in the records"
