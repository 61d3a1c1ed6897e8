"""What moves when two entries of one person are made one, by hand."""

from exchange.domain.circle.merge_members import Belonging, Belongings, Entered, merge_members
from exchange.domain.circle.moves import Move

AT = "2027-04-05T09:00:00+00:00"


def entered(number, household, account=None, *, organiser=False, **said):
    usual = {"surname": "", "email": None, "telephone": ""}
    return Entered(number, household, account, organiser, {**usual, **said})


def test_with_nothing_else_the_person_leaves():
    moves = merge_members(entered(1, 10), entered(2, 20), Belongings(), AT, None)

    assert moves == (
        Move("member", 2, "left_at", None, AT),
        Move("member", 2, "merged_into", None, 1),
    )


def test_what_is_said_already_stands_and_what_is_missing_is_filled():
    kept = entered(1, 10, surname="Pellow")
    merged = entered(2, 20, surname="Pellew", telephone="01632 960999")

    moves = merge_members(kept, merged, Belongings(), AT, None)

    assert [one for one in moves if one.row_id == 1] == [
        Move("member", 1, "telephone", "", "01632 960999")
    ]


def test_the_address_goes_with_the_sign_in():
    kept, merged = entered(1, 10, email="old@example.org"), entered(2, 20, 5, email="e@example.org")

    moves = merge_members(kept, merged, Belongings(), AT, None)

    assert moves[0] == Move("member", 2, "account_id", 5, None)
    assert Move("member", 1, "account_id", None, 5) in moves
    assert Move("member", 1, "email", "old@example.org", "e@example.org") in moves


def test_of_two_sign_ins_the_kept_one_stands():
    kept = entered(1, 10, 4, email="old@example.org")

    moves = merge_members(kept, entered(2, 20, 5, email="e@example.org"), Belongings(), AT, None)

    assert not any(one.row_id == 1 for one in moves)


def test_the_organisers_part_goes_along():
    merged = entered(2, 20, organiser=True)

    moves = merge_members(entered(1, 10), merged, Belongings(), AT, None)

    assert Move("member", 1, "organiser", False, True) in moves


def test_rows_of_the_household_go_to_the_other_and_the_household_ends():
    belongings = Belongings(
        of_household=(Belonging("spare", 7, "household_id"),),
        doubled=(8,),
        place_names={9: ("home", "home, Ludlow")},
        lent={"address": ("", "9 Tin Lane")},
    )

    moves = merge_members(
        entered(1, 10), entered(2, 20), belongings, AT, {"left_on": "2027-04-05", "merged_into": 10}
    )

    assert moves[:6] == (
        Move("spare", 7, "household_id", 20, 10),
        Move("claim", 8, "withdrawn_at", None, AT),
        Move("place", 9, "name", "home", "home, Ludlow"),
        Move("household", 10, "address", "", "9 Tin Lane"),
        Move("household", 20, "left_on", None, "2027-04-05"),
        Move("household", 20, "merged_into", None, 10),
    )
