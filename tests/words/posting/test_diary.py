from datetime import date

import pytest

from exchange.domain.diary import DiaryEntry, EntryKind
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting.diary import cancelled, description, summary

DAY = date(2027, 4, 19)


def entry(kind, *, by_hand=False, done=False, plants=3):
    return DiaryEntry(
        "key", kind, DAY, DAY, "Bramble 27", plants, "Colin", by_hand, done, from_first_name="Maud"
    )


@pytest.mark.parametrize(
    ("kind", "by_hand", "done", "line"),
    [
        (EntryKind.POSTING, False, False, "Post Bramble 27 to Colin"),
        (EntryKind.POSTING, True, False, "Hand Bramble 27 to Colin"),
        (EntryKind.POSTING, False, True, "Bramble 27 went to Colin"),
        (EntryKind.POSTING, True, True, "Bramble 27 went to Colin"),
        (EntryKind.ARRIVAL, False, False, "Bramble 27 should come from Colin"),
        (EntryKind.ARRIVAL, True, False, "Colin brings Bramble 27"),
        (EntryKind.ARRIVAL, False, True, "Bramble 27 came from Colin"),
        (EntryKind.ARRIVAL, True, True, "Bramble 27 came from Colin"),
        (EntryKind.DISPATCH, False, False, "Bramble 27: Maud to Colin"),
    ],
)
def test_the_line_says_what_happens_by_whom_and_whether_it_has(kind, by_hand, done, line):
    assert summary(entry(kind, by_hand=by_hand, done=done)) == line


@pytest.mark.parametrize(
    ("kind", "done", "advice"),
    [
        (EntryKind.POSTING, False, "before you pack"),
        (EntryKind.ARRIVAL, False, "Open at once"),
        (EntryKind.POSTING, True, ""),
        (EntryKind.ARRIVAL, True, ""),
        (EntryKind.DISPATCH, False, ""),
    ],
)
def test_advice_stands_only_while_it_can_be_taken(kind, done, advice):
    text = description(entry(kind, done=done))

    assert text.startswith(f"3{NBSP}plants.")
    assert (advice in text) if advice else text == f"3{NBSP}plants."


def test_a_cancelled_entry_says_so_first():
    assert cancelled("Post Bramble 27") == "Cancelled: Post Bramble 27"
