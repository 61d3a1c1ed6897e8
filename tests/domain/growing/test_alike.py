"""Near names among many are those that comparing every pair gives."""

import random

from hypothesis import given
from hypothesis import strategies as st

from exchange.domain.growing.alike import AlikeNames
from exchange.domain.growing.names import near

SYLLABLES = ("tin", "ket", "tle", "la", "lan", "tern", "rus", "t", "ty", "é", "St. ", "-", "’s ", "bell", "bells")  # fmt: skip
names = st.lists(st.sampled_from(SYLLABLES), min_size=1, max_size=6).map("".join)


@given(st.lists(names, max_size=30), names)
def test_among_many_the_same_are_near_as_among_few(known, name):
    assert AlikeNames(known).near(name) == near(name, dict.fromkeys(known))


def test_more_can_be_added():
    letters = "abcdefgh"
    made = ["".join(random.Random(at).choices(letters, k=8)) for at in range(200)]
    alike = AlikeNames()

    for one in made:
        alike.add(one)

    assert [alike.near(one) for one in made] == [near(one, dict.fromkeys(made)) for one in made]
