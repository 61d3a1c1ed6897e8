import pytest

from exchange.domain.growing.batch import Raised
from exchange.web.frame.query import one_of


@pytest.mark.parametrize(
    ("text", "choice"),
    [("cool", Raised.COOL), ("COOL", None), ("steamed", None), ("", None), (None, None)],
)
def test_anything_but_a_choice_is_none(text, choice):
    assert one_of(Raised, text) is choice
