"""The box: what is in doubt is asked about, what is listed is listed whole or not at all."""

from dataclasses import replace
from datetime import date

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.box_undo import take_box_back
from exchange.actions.sharing.spare_lines import (
    BoxRefusedError,
    LineDecision,
    LineRefusedError,
    Window,
    list_box,
    read_box,
)
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import BoxDoubt, What
from exchange.records import CLAIMS, SPARES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import TODAY, a_variety, rows

WINDOW = Window(TODAY, date(2027, 5, 17))


def decision(**more):
    usual = {
        "count": 3,
        "material": Material.ROOTED,
        "raised": Raised.COOL,
        "variety_id": None,
        "species": Species.DAHLIA,
        "name": "Tin Kettle",
    }
    return LineDecision(**{**usual, **more})


def only(circle, text):
    (line,) = read_box(circle.actor("Cuthbert"), text)
    return line


def test_a_known_name_is_found_whatever_its_case_and_quotes(circle):
    variety_id = a_variety(circle, "Tin Kettle")

    line = only(circle, "3 rooted ‘TIN kettle’")

    assert (line.variety.id, line.doubts) == (variety_id, set())


def test_a_near_name_is_asked_about_and_not_merged(circle):
    variety_id = a_variety(circle, "Café")

    line = only(circle, "3 rooted Cafe")

    assert line.variety is None
    assert line.doubts == {BoxDoubt.NAME}
    assert [one.id for one in line.candidates] == [variety_id]


def test_one_name_in_two_kinds_is_asked_about(circle):
    dahlia = a_variety(circle, "Tin Kettle")
    fuchsia = a_variety(circle, "Tin Kettle", Species.FUCHSIA)

    assert {one.id for one in only(circle, "3 rooted Tin Kettle").candidates} == {dahlia, fuchsia}
    assert only(circle, "3 rooted Fuchsia Tin Kettle").variety.id == fuchsia


def test_a_known_name_wins_over_words_inside_it(circle):
    seedling = a_variety(circle, "Seedling 12")
    pigeon = a_variety(circle, "Stool Pigeon")

    assert (only(circle, "Seedling 12").variety.id, only(circle, "Seedling 12").entry.count) == (
        seedling,
        None,
    )
    assert only(circle, "4 Stool Pigeon").variety.id == pigeon


def test_reading_lists_nothing(circle):
    only(circle, "3 rooted Tin Kettle")

    assert rows(circle, SPARES) == ()
    assert rows(circle, VARIETIES) == ()


def test_a_line_that_cannot_be_keeps_its_place_with_the_fault(circle):
    line = only(circle, "0 rooted Tin Kettle")

    assert "1 to 1000" in line.fault


@pytest.mark.parametrize("text", ["", " \n\n", "1 rooted Tin Kettle\n" * 201])
def test_an_empty_or_endless_box_is_refused(circle, text):
    with pytest.raises(RefusedError) as refused:
        read_box(circle.actor("Cuthbert"), text)

    assert refused.value.field == "lines"


def list_lines(circle, text, *decisions, window=WINDOW):
    return list_box(circle.actor("Cuthbert"), text, decisions, window, NOW).spares


def test_one_new_name_on_two_lines_is_one_variety(circle):
    text = "3 rooted Tin Kettle\n3 clumps tin kettle"
    clump = decision(material=Material.CLUMP, name="tin kettle")
    ids = list_lines(circle, text, decision(), clump)

    assert len(ids) == 2
    assert len(rows(circle, VARIETIES)) == 1


def test_a_line_left_out_is_not_listed(circle):
    (spare,) = list_lines(
        circle, "3 rooted Tin Kettle\n2 Brass Thimble", None, decision(name="Brass Thimble")
    )

    (variety,) = rows(circle, VARIETIES)
    assert variety.name == "Brass Thimble"
    assert [one.id for one in rows(circle, SPARES)] == [spare]


def test_a_variety_the_name_cannot_mean_is_refused_beside_its_line(circle):
    other = a_variety(circle, "Moorland Bell")
    text = "3 rooted Tin Kettle\n2 Brass Thimble"

    with pytest.raises(LineRefusedError, match="Choose one of these") as refused:
        list_lines(circle, text, decision(), decision(variety_id=other, name="Brass Thimble"))

    assert (refused.value.number, refused.value.field) == (2, "variety")


def test_a_near_variety_may_be_meant(circle):
    known = a_variety(circle, "Café Noir")

    list_lines(circle, "3 rooted Cafe Noir", decision(variety_id=known, name="Cafe Noir"))

    assert [one.variety_id for one in rows(circle, SPARES)] == [known]


def test_one_line_that_is_refused_lists_nothing_of_the_box_and_keeps_no_name(circle):
    text = "3 rooted Tin Kettle\n\nbest wishes\n2 Brass Thimble"
    before = dump(circle.house.books)

    with pytest.raises(LineRefusedError) as refused:
        list_lines(circle, text, decision(), None, decision(count=10**9))

    assert (refused.value.number, refused.value.field) == (4, "count")
    assert dump(circle.house.books) == before


@pytest.mark.parametrize("step", ["spare_lines.note", "spare_batch.add_batch"])
def test_a_box_broken_in_the_middle_leaves_nothing(circle, monkeypatch, step):
    before = dump(circle.house.books)
    break_at(monkeypatch, f"exchange.actions.sharing.{step}")

    with pytest.raises(BrokenError):
        list_lines(circle, "3 rooted Tin Kettle\n2 Brass Thimble", decision(), decision())

    assert dump(circle.house.books) == before


def test_days_that_make_no_sense_are_a_fault_of_the_whole_box(circle):
    late = Window(date(2027, 6, 1), TODAY)
    with pytest.raises(LineRefusedError) as refused:
        list_lines(circle, "3 rooted Tin Kettle", decision(), window=late)

    assert (refused.value.number, refused.value.field) == (0, "send_by")


@pytest.mark.parametrize("decisions", [(None,), (decision(), decision())])
def test_a_box_of_which_all_is_left_out_or_whose_lines_differ_is_refused(circle, decisions):
    with pytest.raises(BoxRefusedError):
        list_lines(circle, "3 rooted Tin Kettle", *decisions)


def test_a_name_that_was_put_right_is_looked_up_and_kept(circle):
    known = a_variety(circle, "Tin Kettle")
    actor = circle.actor("Cuthbert")

    (line,) = read_box(actor, "3 rooted Tinn Kettel", ["Tin Kettle"])
    list_lines(circle, "3 rooted Tinn Kettel", decision(variety_id=known))

    assert (line.variety.id, line.doubts) == (known, set())
    assert [one.variety_id for one in rows(circle, SPARES)] == [known]


def test_a_question_about_the_plant_leaves_the_other_questions_standing(circle):
    a_variety(circle, "Tin Kettle")

    line = only(circle, "about 4 cuttings Tin Kettel")

    assert line.doubts == {BoxDoubt.NAME, BoxDoubt.COUNT, BoxDoubt.MATERIAL}


def test_a_wish_is_kept_as_a_claim_and_one_that_stands_stays(circle):
    known = a_variety(circle, "Tin Kettle")
    wish = decision(what=What.WISH, variety_id=known, count=2)

    first = list_box(circle.actor("Cuthbert"), "Any Tin Kettle?", [wish], WINDOW, NOW)
    again = list_box(
        circle.actor("Cuthbert"), "Any Tin Kettle?", [replace(wish, count=5)], WINDOW, NOW
    )

    (claim,) = rows(circle, CLAIMS)
    assert (first.claims, claim.asked) == ((claim.id,), 2)
    assert (again.claims, again.there) == ((), 1)


def test_too_many_wished_for_is_refused_beside_its_line(circle):
    known = a_variety(circle, "Tin Kettle")
    wish = decision(what=What.WISH, variety_id=known, count=101)

    with pytest.raises(LineRefusedError) as refused:
        list_lines(circle, "Any Tin Kettle?", wish)

    assert (refused.value.number, refused.value.field) == (1, "count")


def test_the_organiser_keeps_lines_of_several_members_and_takes_them_back(circle):
    winnie = circle.actor("Winnie")
    text = "Effie: 3 rooted Tin Kettle\nCuthbert: any Tin Kettle, 2nd choice?"
    effie, cuthbert = circle["Effie"], circle["Cuthbert"]

    lines = read_box(winnie, text)
    kept = list_box(
        winnie,
        text,
        [
            decision(member_id=effie.id),
            decision(what=What.WISH, choice=2, count=1, member_id=cuthbert.id),
        ],
        WINDOW,
        NOW,
    )
    (spare,), (claim,) = rows(circle, SPARES), rows(circle, CLAIMS)
    take_box_back(winnie, kept.spares, kept.claims, NOW)

    assert [one.whose for one in lines] == [effie.id, cuthbert.id]
    assert (spare.household_id, spare.entered_by) == (effie.household_id, winnie.member_id)
    assert (claim.household_id, claim.choice) == (cuthbert.household_id, 2)
    assert [one.withdrawn_at for one in (*rows(circle, SPARES), *rows(circle, CLAIMS))] == [
        NOW,
        NOW,
    ]


def test_nobody_else_keeps_lines_of_another_member(circle):
    with pytest.raises(NotAllowedError):
        list_lines(circle, "3 rooted Tin Kettle", decision(member_id=circle["Effie"].id))
