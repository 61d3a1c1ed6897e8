from dataclasses import dataclass
from types import SimpleNamespace

import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.records.columns import names_of, plain, reader


@dataclass(frozen=True)
class Box:
    id: int
    raised: Raised | None
    holds: frozenset[Material]
    order: tuple[Material, ...]
    note: str = ""


def test_a_row_comes_back_as_the_values_that_went_in():
    box = Box(
        7, Raised.COOL, frozenset({Material.SEED, Material.CLUMP}), (Material.STOOL,) * 2, "x"
    )

    columns = {name: plain(getattr(box, name)) for name in names_of(Box)}

    assert columns == {
        "id": 7,
        "raised": "cool",
        "holds": ["clump", "seed"],
        "order": ["stool", "stool"],
        "note": "x",
    }
    assert reader(Box)(SimpleNamespace(**columns, more="of no interest")) == box


def test_an_empty_column_stays_empty():
    assert reader(Box)(SimpleNamespace(id=1, raised=None, holds=[], order=[], note="")) == Box(
        1, None, frozenset(), ()
    )


def test_a_word_the_program_does_not_know_is_refused():
    with pytest.raises(ValueError, match="steamed"):
        reader(Box)(SimpleNamespace(id=1, raised="steamed", holds=[], order=[], note=""))
