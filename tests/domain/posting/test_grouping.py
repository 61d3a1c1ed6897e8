from dataclasses import replace
from datetime import date

from exchange.domain.growing.batch import Material
from exchange.domain.posting.code import HEDGE_PLANTS, new_code, numbers
from exchange.domain.posting.grouping import AllocationToSend, group
from exchange.domain.posting.parcel import ParcelState
from tests.builders.posting import a_line, a_parcel


def a_consignment(allocation_id=1, receiver=2, **line):
    return AllocationToSend(a_line(allocation_id, **line), 1, 1, receiver, receiver)


def test_allocations_from_one_household_to_one_place_travel_together():
    found = group([a_consignment(1), a_consignment(2), a_consignment(3, receiver=3)], [])
    assert [len(one.lines) for one in found.new] == [2, 1]
    assert len({one.code for one in found.new}) == 2


def test_two_pieces_of_an_irreplaceable_variety_never_share_a_parcel():
    kept = {"must_not_be_lost": True, "variety_id": 7}
    found = group([a_consignment(1, **kept), a_consignment(2, **kept)], [])
    assert [len(one.lines) for one in found.new] == [1, 1]
    found = group([a_consignment(1, count=2, **kept)], [])
    assert [[line.count for line in one.lines] for one in found.new] == [[1], [1]]


def test_windows_that_do_not_meet_make_two_parcels():
    early = a_consignment(1, send_by=date(2027, 4, 10))
    late = a_consignment(2, ready_from=date(2027, 4, 20))
    assert len(group([early, late], []).new) == 2


def test_unrooted_cuttings_travel_apart_from_what_must_stay_dry():
    damp = a_consignment(1, material=Material.UNROOTED)
    dry = a_consignment(2, material=Material.DIVISION)
    assert len(group([damp, dry], []).new) == 2


def test_a_parcel_keeps_its_row_and_code_while_one_allocation_remains():
    parcel = a_parcel(5, lines=(a_line(1), a_line(2)), announced_day=date(2027, 4, 12))
    found = group([a_consignment(2), a_consignment(3)], [parcel])
    (kept,) = found.kept
    assert (kept.id, kept.code, kept.announced_day) == (5, parcel.code, date(2027, 4, 12))
    assert [line.allocation_id for line in kept.lines] == [2, 3]
    assert not found.new
    assert not found.gone


def test_on_a_split_the_earliest_keeps_the_row():
    parcel = a_parcel(5, lines=(a_line(1), a_line(2)))
    early = a_consignment(2, send_by=date(2027, 4, 10))
    late = a_consignment(1, ready_from=date(2027, 4, 20))
    found = group([late, early], [parcel])
    assert [line.allocation_id for line in found.kept[0].lines] == [2]
    assert [line.allocation_id for line in found.new[0].lines] == [1]


def test_a_parcel_without_allocations_goes_and_a_posted_one_is_left_alone():
    gone, posted = a_parcel(5), a_parcel(6, state=ParcelState.POSTED)
    found = group([a_consignment(6)], [gone, posted])
    assert found.gone == (5,)
    assert not found.kept
    assert not found.new


def test_grouping_again_changes_nothing():
    lines = [a_consignment(n, variety_id=n % 2, must_not_be_lost=True) for n in range(1, 6)]
    first = group(lines, [])
    made = [replace(one, id=n) for n, one in enumerate(first.new, start=1)]
    again = group(lines, made)
    assert again.kept == tuple(made)
    assert not again.new


def test_codes_of_a_season_never_repeat_and_avoid_numbers_mistaken_by_ear():
    taken: set[str] = set()
    for _ in range(2500):
        code = new_code(taken)
        assert code not in taken
        taken.add(code)
    spoken = {int(code.split()[1]) for code in taken}
    assert not {13, 14, 15, 16, 17, 18, 19, 30, 40, 50, 60, 70, 80, 90} & spoken
    assert len({plant[0] for plant in HEDGE_PLANTS}) == len(HEDGE_PLANTS)
    assert min(numbers()) == 21


def test_what_came_back_is_packed_anew_under_another_code():
    back = a_parcel(5, lines=(a_line(1),), state=ParcelState.RETURNED)
    found = group([a_consignment(1)], [back])

    assert [one.code for one in found.new] != [back.code]
    assert [line.allocation_id for line in found.new[0].lines] == [1]
    assert not found.gone


def counts(parcels):
    return [[line.count for line in one.lines] for one in parcels]


def test_plants_of_one_allocation_put_into_two_parcels_stay_apart():
    first, second = (a_parcel(number, lines=(a_line(1, count=2),)) for number in (5, 6))

    assert counts(group([a_consignment(1, count=4)], [first, second]).kept) == [[2], [2]]
    assert counts(group([a_consignment(1, count=3)], [first, second]).kept) == [[2], [1]]
    assert counts(group([a_consignment(1, count=5)], [first, second]).kept) == [[3], [2]]
    fewer = group([a_consignment(1, count=2)], [first, second])
    assert (counts(fewer.kept), fewer.gone) == ([[2]], (6,))


def test_with_one_of_two_parcels_gone_the_other_keeps_its_plants():
    gone = a_parcel(5, lines=(a_line(1),), state=ParcelState.POSTED)
    here = a_parcel(6, lines=(a_line(1),))
    for mark in (False, True):
        found = group([a_consignment(1, count=2, must_not_be_lost=mark)], [gone, here])
        assert counts(found.kept) == [[1]]
        assert not found.new
        assert not found.gone
