"""Spreadsheets: all rows or none, the same file twice, taken back as a whole until something rests on it."""

from dataclasses import fields
from datetime import date, timedelta

import pytest

from exchange.actions.circle.page_spreadsheets import file_page, files_page
from exchange.actions.circle.spreadsheet_bring import bring_in, take_back
from exchange.actions.circle.spreadsheet_kept import AT_ONCE, SpreadsheetRefusedError
from exchange.actions.circle.spreadsheet_rows import SheetRowRefusedError
from exchange.actions.circle.spreadsheet_undo import BuiltOnError
from exchange.actions.circle.spreadsheets import KEPT_FOR, answer, hand_in, throw_away
from exchange.actions.growing.batches import NewBatch, grow_too
from exchange.actions.growing.varieties import name_variety
from exchange.actions.growing.variety_meant import TypedName
from exchange.actions.kernel.tasks import run_one
from exchange.actions.people.members import NewMember, add_member
from exchange.actions.people.towns import TownWanted, find_town
from exchange.actions.sharing.claims import NewClaim, claim, would_like_one
from exchange.actions.sharing.spares import NewSpare, change_spare, list_spare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.spreadsheet.choices import FileChoices, SheetChoices
from exchange.domain.spreadsheet.row import RowDoubt, RowState, RowWhy
from exchange.jobs.kinds import KINDS
from exchange.records import BATCHES, CLAIMS, MEMBERS, PLACES, SPARES, VARIETIES
from tests.app_fixtures import NOW
from tests.builders.breaking import BrokenError, break_at, dump
from tests.builders.offers import a_ring
from tests.builders.workbooks import a_name, csv, xlsx

USUAL = SheetChoices(
    raised=Raised.COOL,
    material=Material.ROOTED,
    species=Species.DAHLIA,
    ready_from=date(2027, 4, 12),
    send_by=date(2027, 5, 24),
)
BOOK = xlsx(
    Members=[["First name", "Surname", "Town"], ["Bert", "Vole", "Penzance"]],
    Spares=[["Variety", "Whose", "How many"], ["Tin Kettle", "Bert Vole", 3], ["Harl", "Effie", 2]],
    Wishes=[["Variety", "Whose", "How many"], ["Tin Kettle", "Effie", 1], ["Harl", "Bert", 2]],
)
NOUNS = (MEMBERS, PLACES, VARIETIES, BATCHES, SPARES, CLAIMS)


def handed_in(circle, content=BOOK, name="all.xlsx", **more):
    """Hand a file in and say the usual of every sheet."""
    winnie = circle.actor("Winnie")
    file_id = hand_in(winnie, name, content, NOW).id
    reading = file_page(winnie, file_id).reading
    sheets = {one.name: USUAL for one in reading.sheets}
    answer(winnie, file_id, FileChoices(sheets=sheets, **more), NOW)
    return file_id


def brought_in(circle, file_id, said=None):
    winnie = circle.actor("Winnie")
    page = file_page(winnie, file_id)
    return bring_in(winnie, file_id, page.version, said or FileChoices(), NOW)


def counts(circle):
    with circle.house.books.reading() as tx:
        return tuple(len(one.all(tx, circle.circle_id)) for one in NOUNS)


def states(circle, file_id):
    return [one.state for one in file_page(circle.actor("Winnie"), file_id).reading.rows]


def work(circle):
    while run_one(circle.house, KINDS, lambda: NOW):
        pass


def test_one_file_of_several_sheets_goes_in_at_once_as_if_it_was_typed(circle):
    before = counts(circle)
    file_id = handed_in(circle)

    assert counts(circle) == before
    assert brought_in(circle, file_id) == 5

    made = tuple(now - was for was, now in zip(before, counts(circle), strict=True))
    assert made == (1, 1, 2, 2, 2, 2)
    with circle.house.books.reading() as tx:
        members = MEMBERS.all(tx, circle.circle_id)
        bert = next(one for one in members if one.first_name == "Bert")
        (spare,) = SPARES.all(tx, circle.circle_id, household_id=bert.household_id)
    assert (spare.count, spare.material, spare.raised) == (3, Material.ROOTED, Raised.COOL)
    assert (spare.ready_from, spare.send_by) == (USUAL.ready_from, USUAL.send_by)
    assert spare.entered_by == circle["Winnie"].id


@pytest.mark.parametrize(
    "step",
    ["rows.keep_member", "rows.check_spare", "rows.claim_row", "bring.note", "bring.made_since"],
)
def test_the_rows_go_in_together_or_not_at_all(monkeypatch, circle, step):
    file_id = handed_in(circle)
    before = dump(circle.house.books)
    with monkeypatch.context() as patch:
        break_at(patch, f"exchange.actions.circle.spreadsheet_{step}")
        with pytest.raises(BrokenError):
            brought_in(circle, file_id)

    assert dump(circle.house.books) == before


def test_a_row_that_cannot_go_in_is_named_and_none_goes_in(circle):
    file_id = handed_in(circle, csv(("Variety", "Whose", "How many"), ("Harl", "Effie", "3")), "spares.csv")  # fmt: skip
    effie = circle.actor("Effie")
    version = file_page(circle.actor("Winnie"), file_id).version
    variety = name_variety(effie, "Harl", Species.DAHLIA, NOW)
    grow_too(effie, NewBatch(variety.id, 3), NOW)
    before = dump(circle.house.books)

    with pytest.raises(SheetRowRefusedError, match=r"Row 2 of “spares” cannot go in: .* Nothing was brought in"):  # fmt: skip
        bring_in(circle.actor("Winnie"), file_id, version, FileChoices(), NOW)

    assert dump(circle.house.books) == before


def test_the_last_plant_is_asked_about_before_it_goes_in(circle):
    effie = circle.actor("Effie")
    variety = name_variety(effie, "Harl", Species.DAHLIA, NOW)
    grow_too(effie, NewBatch(variety.id, 3), NOW)
    content = csv(("Variety", "Whose", "How many"), ("Harl", "Effie", "3"))
    file_id = handed_in(circle, content, "spares.csv")
    (row,) = file_page(circle.actor("Winnie"), file_id).reading.rows

    assert row.doubts == {RowDoubt.MAY_GO}

    answer(circle.actor("Winnie"), file_id, FileChoices(rows={row.key: {"may_go": "yes"}}), NOW)

    assert brought_in(circle, file_id) == 1


def test_the_same_file_twice_changes_nothing(circle):
    file_id = handed_in(circle)
    brought_in(circle, file_id)
    before = counts(circle)

    again = hand_in(circle.actor("Winnie"), "copy.xlsx", BOOK, NOW)

    assert (again.id, again.there) == (file_id, True)
    with pytest.raises(SpreadsheetRefusedError, match="No row is ready"):
        brought_in(circle, file_id)
    assert counts(circle) == before


def test_a_longer_file_brings_only_the_rows_that_are_new(circle):
    rows = [("Variety", "Whose", "How many"), ("Harl", "Effie", "2"), ("Rust", "Effie", "2")]
    brought_in(circle, handed_in(circle, csv(*rows), "spares.csv"))

    file_id = handed_in(circle, csv(*rows, ("Bell", "Cuthbert", "4")), "spares later.csv")

    assert states(circle, file_id) == [RowState.THERE, RowState.THERE, RowState.READY]
    assert brought_in(circle, file_id) == 1


def test_a_file_is_taken_back_as_a_whole_and_can_go_in_again(circle):
    before = counts(circle)
    file_id = handed_in(circle)
    brought_in(circle, file_id)

    take_back(circle.actor("Winnie"), file_id, NOW)
    work(circle)

    assert counts(circle) == before
    assert brought_in(circle, file_id) == 5


def test_a_count_that_was_changed_is_put_back(circle):
    effie = circle.actor("Effie")
    variety = name_variety(effie, "Harl", Species.DAHLIA, NOW)
    batch_id = grow_too(effie, NewBatch(variety.id, 3, material=Material.ROOTED), NOW)
    content = csv(("Variety", "Whose", "How many"), ("Harl", "Effie", "7"))
    file_id = handed_in(circle, content, "stock.csv")
    (row,) = file_page(circle.actor("Winnie"), file_id).reading.rows

    assert (row.doubts, row.why) == ({RowDoubt.WHAT}, RowWhy.LIKE_ANOTHER)

    answer(circle.actor("Winnie"), file_id, FileChoices(rows={row.key: {"what": "take"}}), NOW)
    brought_in(circle, file_id)

    assert plants_of(circle, batch_id) == 7

    take_back(circle.actor("Winnie"), file_id, NOW)

    assert plants_of(circle, batch_id) == 3


def plants_of(circle, batch_id):
    with circle.house.books.reading() as tx:
        return BATCHES.get(tx, circle.circle_id, batch_id).plants


def _a_claim(circle, spare, _variety):
    would_like_one(circle.actor("Cuthbert"), spare.variety_id, NOW)


def _a_count(circle, _spare, variety):
    grow_too(circle.actor("Cuthbert"), NewBatch(variety, 1), NOW)


def _a_change(circle, spare, variety):
    new = NewSpare(variety, spare.material, spare.raised, 9, spare.ready_from, spare.send_by)
    change_spare(circle.actor("Winnie").for_member(circle["Effie"].id, spare.household_id), spare.id, new, NOW)  # fmt: skip


@pytest.mark.parametrize("built", [_a_claim, _a_count, _a_change])
def test_what_something_rests_on_is_not_taken_back(circle, built):
    content = csv(("Variety", "Whose", "How many"), ("Harl", "Effie", "3"), ("Rust", "Effie", "3"))
    file_id = handed_in(circle, content, "spares.csv")
    brought_in(circle, file_id)
    with circle.house.books.reading() as tx:
        spare = SPARES.all(tx, circle.circle_id)[0]
    built(circle, spare, spare.variety_id)
    before = dump(circle.house.books)

    with pytest.raises(BuiltOnError, match="cannot be taken back"):
        take_back(circle.actor("Winnie"), file_id, NOW)

    assert dump(circle.house.books) == before


def test_rows_that_have_changed_since_the_page_was_opened_are_looked_at_again(circle):
    file_id = handed_in(circle)
    winnie = circle.actor("Winnie")
    opened = file_page(winnie, file_id).version
    answer(winnie, file_id, FileChoices(rows={"Spares!2": {"count": "9", "what": "out"}}), NOW)

    with pytest.raises(SpreadsheetRefusedError, match="changed since this page"):
        bring_in(winnie, file_id, opened, FileChoices(), NOW)


def test_rows_that_are_left_out_wait_and_the_others_go_in(circle):
    file_id = handed_in(circle)

    assert brought_in(circle, file_id, FileChoices(rows={"Spares!3": {"what": "out"}})) == 4
    work(circle)

    assert states(circle, file_id).count(RowState.OUT) == 1


def test_a_long_file_is_read_and_brought_in_as_tasks(circle):
    rows = [
        ("Variety", "Whose", "How many"),
        *((a_name(at), "Effie", "2") for at in range(AT_ONCE + 1)),
    ]
    winnie = circle.actor("Winnie")
    file_id = hand_in(winnie, "spares.csv", csv(*rows), NOW).id

    page = file_page(winnie, file_id)
    assert (page.reading, page.task.under_way) == (None, True)
    work(circle)
    sheets = {one.name: USUAL for one in file_page(winnie, file_id).reading.sheets}
    answer(winnie, file_id, FileChoices(sheets=sheets), NOW)
    work(circle)
    assert len(file_page(winnie, file_id).ready) == AT_ONCE + 1
    assert brought_in(circle, file_id) == 0
    work(circle)

    page = file_page(winnie, file_id)
    assert (len(page.went_in), page.task) == (AT_ONCE + 1, None)


def test_a_file_is_thrown_away_and_what_went_in_stays_known(circle):
    file_id = handed_in(circle)
    brought_in(circle, file_id)
    before = counts(circle)

    throw_away(circle.actor("Winnie"), file_id, NOW)

    assert counts(circle) == before
    page = file_page(circle.actor("Winnie"), file_id)
    assert (page.reading, page.kept, len(page.went_in)) == (None, False, 5)
    again = hand_in(circle.actor("Winnie"), "all.xlsx", BOOK, NOW)
    assert (again.id, again.there) == (file_id, True)
    assert set(states(circle, file_id)) == {RowState.THERE}


def test_a_file_nobody_wanted_is_gone_after_a_while(circle):
    handed_in(circle)
    later = NOW + KEPT_FOR + timedelta(days=1)

    hand_in(circle.actor("Winnie"), "other.csv", b"Variety\nHarl\n", later)

    assert [one.name for one in files_page(circle.actor("Winnie"))] == ["other.csv"]


def typed(circle):
    """Type the spares and wishes of BOOK in one by one, for whom they are of."""
    winnie = circle.actor("Winnie")
    bert = add_member(winnie, NewMember("Bert", "Vole", town=find_town(TownWanted("Penzance", country="GB"))), NOW)  # fmt: skip
    with circle.house.books.reading() as tx:
        household = MEMBERS.get(tx, circle.circle_id, bert).household_id
    for_bert = winnie.for_member(bert, household)
    for_effie = winnie.for_member(circle["Effie"].id, circle["Effie"].household_id)
    days = USUAL.ready_from, USUAL.send_by
    for acting, name, count in ((for_bert, "Tin Kettle", 3), (for_effie, "Harl", 2)):
        meant = TypedName(name, Species.DAHLIA, new=True)
        list_spare(acting, NewSpare(meant, Material.ROOTED, Raised.COOL, count, *days), NOW)
    with circle.house.books.reading() as tx:
        ids = {one.name: one.id for one in VARIETIES.all(tx, circle.circle_id)}
    claim(for_effie, NewClaim(ids["Tin Kettle"], 1), NOW)
    claim(for_bert, NewClaim(ids["Harl"], 2), NOW)


def test_rows_of_a_file_are_kept_as_if_they_were_typed(house):
    read, written = a_ring(house), a_ring(house)

    brought_in(read, handed_in(read))
    typed(written)

    assert plainly(read) == plainly(written)


def plainly(circle):
    """Give what is kept of a circle without numbers of rows: names in their stead."""
    with circle.house.books.reading() as tx:
        here = circle.circle_id
        varieties = {one.id: one.name for one in VARIETIES.all(tx, here)}
        people = {one.household_id: one.first_name for one in MEMBERS.all(tx, here)}
        places = {one.id: people[one.household_id] for one in PLACES.all(tx, here)}
        batches = {one.id: (varieties[one.variety_id], places[one.place_id]) for one in BATCHES.all(tx, here)}  # fmt: skip
        entered = {one.id: one.first_name for one in MEMBERS.all(tx, here)}
        told = {"variety_id": varieties, "household_id": people, "place_id": places, "batch_id": batches, "entered_by": entered}  # fmt: skip

        def of(row):
            names = [one.name for one in fields(row) if one.name not in {"id", "circle_id"}]
            return [(name, told[name][getattr(row, name)] if name in told else getattr(row, name)) for name in names]  # fmt: skip

        nouns = (VARIETIES, BATCHES, SPARES, CLAIMS)
        return [sorted(map(repr, map(of, noun.all(tx, here)))) for noun in nouns]
