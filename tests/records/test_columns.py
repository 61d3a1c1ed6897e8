"""Rows come back as the values that went in, and JSON as the dataclasses it was made from."""

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import Enum, IntEnum, StrEnum
from types import SimpleNamespace

import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.plan import ParcelPlan
from exchange.domain.sharing.reason import ClaimReason
from exchange.records import ANSWERS, PARCELS
from exchange.records.columns import from_plain, held, names_of, reader, to_plain
from tests.builders.season_kept import season_in_house


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

    columns = {name: held(getattr(box, name)) for name in names_of(Box)}

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


class Mood(StrEnum):
    WELL = "well"


class Sign(StrEnum):
    FROST = "frost"


class Step(IntEnum):
    FIRST = 0
    NEXT = 1


class Side(Enum):
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class Inner:
    day: date
    figures: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Everything:
    word: Mood | Sign
    step: Step
    side: Side
    at: datetime
    sides: frozenset[Mood]
    inner: tuple[Inner, ...]
    degrees: float
    perhaps: Sign | None = None
    either: Mood | Sign | None = None
    note: str = ""


WHOLE = Everything(
    word=Sign.FROST,
    step=Step.FIRST,
    side=Side.LEFT,
    at=datetime(2027, 4, 5, 9, tzinfo=UTC),
    sides=frozenset({Mood.WELL}),
    inner=(Inner(date(2027, 4, 5), (1.5, 2)),),
    degrees=3,
    either=Mood.WELL,
)
PLAIN = {
    "word": "frost",
    "step": 0,
    "side": "left",
    "at": "2027-04-05T09:00:00+00:00",
    "sides": ["well"],
    "inner": [{"day": "2027-04-05", "figures": [1.5, 2]}],
    "degrees": 3,
    "perhaps": None,
    "either": "well",
    "note": "",
}


def same_types(one, other):
    """Compare as JSON does, and see that a text is a text and no enumeration."""
    assert type(one) is type(other)
    assert one == other
    if isinstance(one, dict):
        for key in one:
            same_types(one[key], other[key])
    elif isinstance(one, list):
        for left, right in zip(one, other, strict=True):
            same_types(left, right)


def test_all_kinds_of_values_become_what_json_holds():
    same_types(to_plain(WHOLE), PLAIN)
    assert list(to_plain(WHOLE)) == list(PLAIN), "in the order of the fields"


def test_they_come_back_equal_and_of_their_kinds():
    back = from_plain(Everything, json.loads(json.dumps(PLAIN)))

    assert back == WHOLE
    assert repr(back) == repr(WHOLE)
    same_types(to_plain(back), PLAIN)


def test_what_a_newer_program_wrote_beside_is_left_out_and_what_is_missing_is_as_usual():
    older = {key: PLAIN[key] for key in PLAIN if key not in {"perhaps", "either", "note"}}

    back = from_plain(Everything, {**older, "colour": "red"})

    assert (back.perhaps, back.either, back.note) == (None, None, "")


def test_a_word_no_enumeration_has_is_refused():
    with pytest.raises(ValueError, match="thunder"):
        from_plain(Everything, {**PLAIN, "word": "thunder"})


def test_texts_and_numbers_outside_any_dataclass_stay_plain():
    same_types(to_plain((Mood.WELL, [date(2027, 4, 5)])), ["well", ["2027-04-05"]])
    same_types(to_plain(frozenset({3, 1})), [1, 3])


def test_plans_and_reasons_of_a_season_are_written_again_as_they_stand(kept, tmp_path):
    with season_in_house(kept, tmp_path) as season, season.house.books.reading() as tx:
        plans = [one.plan for one in PARCELS.all(tx, season.circle_id)]
        answers = ANSWERS.all(tx, season.circle_id)
    # The sentence stands beside the reason it was made from.
    reasons = [{key: one.reason[key] for key in one.reason if key != "sentence"} for one in answers]

    assert plans
    assert reasons
    for plan in plans:
        same_types(to_plain(from_plain(ParcelPlan, plan)), plan)
    for reason in reasons:
        same_types(to_plain(from_plain(ClaimReason, reason)), reason)
