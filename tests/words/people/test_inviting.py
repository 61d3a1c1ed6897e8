from exchange.words.kernel.phrase import NBSP
from exchange.words.people.inviting import welcomed


def test_it_says_who_is_invited_and_who_is_acted_for():
    one, two = f"1{NBSP}person is", f"2{NBSP}people are"

    assert welcomed(2, 0) == f"{two} invited."
    assert welcomed(0, 1) == f"{one} in the circle without mail; act for them here."
    assert welcomed(1, 2) == f"{one} invited; {two} in the circle without mail; act for them here."
