"""What letters and pages say of parcels that came to harm."""

from datetime import date

import pytest

from exchange.words.kernel.letters import LetterReader, ParcelWords
from exchange.words.posting import ended

READER = LetterReader("Winnie", "Fen Ring")
PARCEL = ParcelWords("Bramble 27", "Effie", ("2 rooted cuttings of Ash",))
LINK = "http://circle.example/parcels/3"


def test_a_late_parcel_names_both_days_and_the_proof_of_posting():
    letter = ended.late(READER, PARCEL, (date(2027, 4, 14), date(2027, 4, 9)), LINK)

    text = letter.text.replace("\u00a0", " ")
    assert "Wed 14 April" in text
    assert "by Fri 9 April" in text
    assert "proof of posting" in text
    assert LINK in text


@pytest.mark.parametrize(
    ("again", "gone", "said", "unsaid"),
    [
        (("1 of Ash",), (), "still good", "no longer good"),
        ((), ("1 of Ash",), "no longer good", "still good"),
    ],
)
def test_a_return_says_only_what_happened(again, gone, said, unsaid):
    text = ended.came_back(READER, PARCEL, (again, gone), LINK).text
    assert said in text
    assert unsaid not in text


def test_what_follows_differs_for_what_was_set_aside():
    own = ended.missing(2, of_share_out=True, receiver=True)
    aside = ended.missing(1, of_share_out=False, receiver=True)

    assert "Your claim lacks as many again" in own
    assert "nothing else is sent in its place" in aside
    assert "The claim lacks" in ended.missing(1, of_share_out=True, receiver=False)
