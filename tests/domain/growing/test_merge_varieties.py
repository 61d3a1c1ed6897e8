"""What moves when two varieties are made one, by hand for each kind of row."""

from exchange.domain.circle.moves import Move
from exchange.domain.growing.merge_varieties import (
    ClaimUnder,
    SpareUnder,
    Under,
    merge_varieties,
    withdrawn,
)
from exchange.domain.growing.variety import Species, Variety

KEPT, MERGED = Variety(1, Species.DAHLIA, "Tin Kettle"), Variety(2, Species.DAHLIA, "Tinn Kettle")
AT = "2027-04-05T09:00:00+00:00"


def under(batches=(), spares=(), claims=()):
    return Under(tuple(batches), tuple(spares), tuple(claims))


def a_claim(number, household, variety, alternatives=(), waits=True):
    return ClaimUnder(number, household, variety, tuple(alternatives), waits)


def test_with_nothing_under_it_only_the_name_goes():
    assert merge_varieties(KEPT, MERGED, under(), AT) == (
        Move("variety", 2, "merged_into", None, 1),
    )


def test_batches_and_spares_of_the_merged_one_move():
    spares = (SpareUnder(7, 1, may_hold=True), SpareUnder(8, 2, may_hold=True))

    moves = merge_varieties(KEPT, MERGED, under((5,), spares), AT)

    assert moves[:2] == (
        Move("batch", 5, "variety_id", 2, 1),
        Move("spare", 8, "variety_id", 2, 1),
    )


def test_of_two_waiting_claims_of_one_household_the_merged_ones_is_withdrawn():
    claims = (a_claim(1, 10, 1), a_claim(2, 10, 2), a_claim(3, 11, 2))

    moves = merge_varieties(KEPT, MERGED, under(claims=claims), AT)

    assert Move("claim", 2, "withdrawn_at", None, AT) in moves
    assert withdrawn(moves) == 1


def test_a_claim_that_was_met_stands_beside_one_that_waits():
    claims = (a_claim(1, 10, 1, waits=False), a_claim(2, 10, 2), a_claim(3, 10, 2, waits=False))

    assert withdrawn(merge_varieties(KEPT, MERGED, under(claims=claims), AT)) == 0


def test_an_alternative_is_renamed_kept_once_and_never_the_variety_itself():
    claims = (a_claim(1, 10, 5, (2, 1, 4)), a_claim(2, 11, 1, (2, 4)), a_claim(3, 12, 2, (1,)))

    moves = merge_varieties(KEPT, MERGED, under(claims=claims), AT)

    said = {one.row_id: one.after for one in moves if one.column == "alternatives"}
    assert said == {1: (1, 4), 2: (4,), 3: ()}


def test_spares_of_the_unprotected_one_are_held_unless_promised():
    protected = Variety(2, Species.DAHLIA, "Tinn Kettle", protected=True, authority="the office")
    spares = (SpareUnder(7, 1, may_hold=True), SpareUnder(8, 1, may_hold=False))

    moves = merge_varieties(KEPT, protected, under(spares=spares), AT)

    assert Move("spare", 7, "held", False, True) in moves
    assert not any(one.row_id == 8 for one in moves)
    assert Move("variety", 1, "authority", "", "the office") in moves
