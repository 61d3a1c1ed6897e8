"""What is said of a parcel that somebody else posts."""

from exchange.words.kernel.letters import LetterReader, ParcelWords
from exchange.words.posting import somebody_else as words

READER = LetterReader("Cuthbert", "Fen Ring")
PARCEL = ParcelWords("Bramble 27", "Winnie", ("2 rooted cuttings of Ash",))
LINK = "http://circle.example/parcels/3"


def test_whoever_is_asked_hears_from_whom_and_what_and_that_a_no_is_free():
    text = words.can_you_post(READER, PARCEL, LINK).text

    for part in (
        "Winnie cannot post Bramble 27",
        "2 rooted cuttings",
        "A no needs no reason",
        LINK,
    ):
        assert part in text


def test_each_answer_names_the_parcel_and_the_other_household():
    for wording in (words.taken_over, words.cannot, words.no_longer_yours):
        text = wording(READER, PARCEL, LINK).text
        assert "Bramble 27" in text
        assert "Winnie" in text


def test_the_page_speaks_to_who_reads_it():
    assert words.posts("Cuthbert", "Winnie", is_reader=True) == "You post it for Winnie."
    assert words.posts("Cuthbert", "Winnie", is_reader=False) == "Cuthbert posts it for Winnie."
    assert words.asked("Cuthbert", is_reader=False).startswith("Cuthbert is asked")
    assert words.asked("Cuthbert", is_reader=True).startswith("Can you post this?")
