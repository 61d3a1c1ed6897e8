"""What the next organiser is told."""

from datetime import date

from exchange.domain.posting.parcel import ParcelState
from exchange.words.circle import handing_on as words
from exchange.words.kernel.letters import LetterReader


def test_a_parcel_is_posted_planned_or_without_a_day():
    day = date(2027, 4, 12)

    assert words.parcel(ParcelState.POSTED, day) == "posted Mon\u00a012\u00a0April"
    assert words.parcel(ParcelState.PLANNED, day) == "planned for Mon\u00a012\u00a0April"
    assert words.parcel(ParcelState.PLANNED, None) == "no day yet"


def test_the_letter_says_who_handed_on_and_that_it_can_be_handed_back():
    letter = words.told(LetterReader("Effie", "Lowmoor"), "Winnie", "https://circle.example/x")

    assert "Winnie has handed" in letter.text
    assert "hand it back" in letter.text
