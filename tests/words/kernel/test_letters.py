from datetime import date

import pytest

from exchange.words.kernel import letters
from exchange.words.kernel.letters import LetterReader, ParcelWords, ShareOutResult
from tests.builders.arrivals import a_window

LINK = "https://circle.example/answer/abc"
READER = LetterReader("Maud", "The Wending Circle")
PARCEL = ParcelWords("Bramble 27", "Colin", ("3 rooted cuttings of Dahlia ‘Chapel Lantern’",))
TUESDAY, NEXT = date(2027, 4, 27), date(2027, 5, 4)
WHY = ("frost at the other end on Wednesday night",)


def every_letter():
    return {
        "invitation": letters.invitation(READER, "Ada", LINK, NEXT),
        "sign-in": letters.sign_in(READER, LINK, 30),
        "new address": letters.new_address(READER, LINK, 24),
        "share-out": letters.share_out_result(
            READER, ShareOutResult(("1 Tin Kettle",), ("Old Sluice: nobody offers it",), ()), LINK
        ),
        "pack": letters.pack_tonight(READER, PARCEL, TUESDAY, WHY, LINK),
        "wait": letters.wait_tonight(READER, PARCEL, NEXT, WHY, LINK),
        "moved": letters.moved(READER, PARCEL, (TUESDAY, NEXT), WHY, LINK),
        "went": letters.did_it_go(READER, PARCEL, TUESDAY, LINK),
        "came": letters.did_it_come(READER, PARCEL, a_window(), LINK),
    }


@pytest.mark.parametrize("kind", every_letter())
def test_every_letter_greets_says_one_link_and_signs(kind):
    letter = every_letter()[kind]

    assert letter.text.startswith("Dear Maud,\n\n")
    assert letter.text.endswith("Your circle,\nThe Wending Circle\n")
    assert letter.text.split("\n").count(LINK) == 1
    assert letter.subject
    assert "\n" not in letter.subject
    assert "{" not in letter.subject + letter.text
    assert letter.as_copy() == f"{letter.subject}\n\n{letter.text}"


def test_the_old_address_is_told_and_no_new_one_named():
    letter = letters.address_changed(READER)

    assert letter.text.startswith("Dear Maud,\n\n")
    assert "tell your organiser at once" in letter.text
    assert "@" not in letter.subject + letter.text


def test_waiting_says_why_and_when_instead():
    text = every_letter()["wait"].text

    assert "Frost at the other end on Wednesday night." in text
    assert "The next good day is Tue\u00a04\u00a0May." in text


def test_waiting_without_a_day_promises_none():
    text = letters.wait_tonight(READER, PARCEL, None, WHY, LINK).text

    assert "You will hear as soon as its day is known." in text


def test_a_move_names_both_days():
    letter = every_letter()["moved"]

    assert "goes on Tue\u00a04\u00a0May instead of Tue\u00a027\u00a0April" in letter.text
    none = letters.moved(READER, PARCEL, (TUESDAY, None), WHY, LINK)
    assert "It has no day yet." in none.text


def test_a_share_out_without_anything_says_so():
    text = letters.share_out_result(READER, ShareOutResult((), (), ()), LINK).text

    assert "nothing for you" in text
    assert "You are given" not in text


def test_braces_in_members_words_stay_as_they_are():
    odd = ParcelWords("Bramble {27}", "{Colin}", ("3 of {x}",))

    letter = letters.pack_tonight(READER, odd, TUESDAY, ("{why}",), LINK)

    assert "Bramble {27}" in letter.subject
    assert "{why}." in letter.text
