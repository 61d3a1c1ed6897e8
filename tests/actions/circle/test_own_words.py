"""A letter in the organiser's own words: to whom it goes, once, and what can be taken back."""

from dataclasses import replace

import pytest

from exchange.actions.circle.leaving import leave
from exchange.actions.circle.own_words import (
    LONGEST_TEXT,
    LetterRefusedError,
    OwnLetter,
    letter_written,
    own_words_page,
    take_back_written,
    write_in_own_words,
)
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.letters import letters_by_hand, send_waiting
from exchange.records import DEEDS, LETTERS, NotHereError
from tests.app_fixtures import NOW, a_house, mail_server, ring

LETTER = OwnLetter("The meeting", "We meet at ten.\r\n\r\nBring cake.", None, "abc")


@pytest.fixture
def box():
    with mail_server() as (server, keeper):
        yield server, keeper


@pytest.fixture
def circle(tmp_path, box):
    with a_house(tmp_path) as house:
        mailed = replace(house, mail=box[0], mail_from="circle@example.org")
        made = ring(mailed, members=("Winnie", "Cuthbert", "Effie", "Odo"))
        send_waiting(mailed, NOW)
        box[1].taken.clear()
        yield made


def write(circle, **changes):
    return write_in_own_words(circle.actor("Winnie"), replace(LETTER, **changes), NOW)


def own(circle):
    with circle.house.books.reading() as tx:
        return LETTERS.all(tx, circle.circle_id, kind="own_words")


def test_everybody_gets_it_by_mail_or_by_hand(circle, box):
    write(circle)
    send_waiting(circle.house, NOW)

    to = sorted(one.rcpt_tos[0].partition(".")[0] for one in box[1].taken)
    assert to == ["cuthbert", "effie", "winnie"]
    assert [one.member.first_name for one in letters_by_hand(circle.actor("Winnie"))] == ["Odo"]


def test_it_is_the_organisers_own_text_with_greeting_and_signature(circle):
    write(circle, to=frozenset({circle["Effie"].id}))
    (letter,) = own(circle)

    assert letter.subject == "The meeting"
    assert letter.body == (
        "Dear Effie,\n\nWe meet at ten.\n\nBring cake.\n\nWinnie, for The Lowmoor Circle\n"
    )


def test_only_the_chosen_get_it(circle):
    write(circle, to=frozenset({circle["Effie"].id, circle["Odo"].id}))

    assert {one.member_id for one in own(circle)} == {circle["Effie"].id, circle["Odo"].id}


def test_two_presses_write_one_letter(circle):
    write(circle)
    write(circle)

    assert len(own(circle)) == 4
    assert len(own_words_page(circle.actor("Winnie")).earlier) == 1


def test_who_has_left_gets_none(circle):
    leave(circle.actor("Winnie"), circle["Effie"].id, NOW)
    write(circle)

    assert circle["Effie"].id not in {one.member_id for one in own(circle)}
    assert circle["Effie"].id not in {
        one.member.id for one in own_words_page(circle.actor("Winnie")).readers
    }


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"subject": "  "}, "subject"),
        ({"subject": "x" * 151}, "subject"),
        ({"text": "\r\n "}, "text"),
        ({"text": "x" * (LONGEST_TEXT + 1)}, "text"),
        ({"to": frozenset()}, "members"),
        ({"to": frozenset({999})}, "members"),
        ({"once": "a:b"}, ""),
        ({"once": ""}, ""),
    ],
)
def test_what_cannot_be_a_letter_is_refused_beside_its_field(circle, changes, field):
    with pytest.raises(LetterRefusedError) as refused:
        write(circle, **changes)

    assert refused.value.field == field
    assert own(circle) == ()


def test_it_can_be_copied_without_the_greeting(circle):
    write(circle)

    assert letter_written(circle.actor("Winnie"), "abc").text == (
        "We meet at ten.\n\nBring cake.\n\nWinnie, for The Lowmoor Circle"
    )


def test_what_has_not_gone_is_taken_back_and_what_was_mailed_stays(circle):
    write(circle)
    assert letter_written(circle.actor("Winnie"), "abc").can_be_taken_back
    send_waiting(circle.house, NOW)

    taken = take_back_written(circle.actor("Winnie"), "abc", NOW)

    assert taken == 1
    assert len(own(circle)) == 3
    assert not letter_written(circle.actor("Winnie"), "abc").can_be_taken_back


def test_the_circle_is_told_who_wrote_to_how_many(circle):
    write(circle)
    with circle.house.books.reading() as tx:
        deed = DEEDS.all(tx, circle.circle_id)[-1]

    assert (deed.act, deed.what.replace("\u00a0", " ")) == (
        "wrote to members",
        "The meeting: to 4 members",
    )


def test_only_the_organiser_writes_and_reads_them(circle):
    effie = circle.actor("Effie")

    for act in (
        lambda: own_words_page(effie),
        lambda: letter_written(effie, "abc"),
        lambda: write_in_own_words(effie, LETTER, NOW),
        lambda: take_back_written(effie, "abc", NOW),
    ):
        with pytest.raises(NotAllowedError):
            act()


def test_a_letter_nobody_wrote_is_not_there(circle):
    with pytest.raises(NotHereError):
        letter_written(circle.actor("Winnie"), "abc")
