"""Letters: written once, mailed once, tried again when the server is busy, handed over by hand."""

from dataclasses import replace
from datetime import timedelta

import pytest

from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.letters import (
    LEASE,
    WAIT_AFTER_FAULT,
    NotHandedOverError,
    Sending,
    hand_over,
    letters_by_hand,
    send_waiting,
    take_hand_over_back,
    write,
)
from exchange.mail.sending import MailServer
from exchange.records import LETTERS, MEMBERS
from exchange.records.rows.running import LetterState
from exchange.words.kernel.letters import LetterText
from tests.app_fixtures import NOW, a_house, mail_server, ring
from tests.builders.breaking import BrokenError, break_at, dump

NEWS = LetterText("A frost is near", "Carry the pots in.\n")


@pytest.fixture
def plain(tmp_path):
    with a_house(tmp_path) as house:
        yield house


def with_mail(house, server):
    return replace(house, mail=server, mail_from="circle@example.org")


def a_letter(house, circle, name, key):
    with house.books.writing() as tx:
        return write(tx, house, circle[name], NEWS, key, NOW)


def state_of(house, letter):
    with house.books.reading() as tx:
        return LETTERS.get(tx, letter.circle_id, letter.id)


def test_a_letter_is_written_once_for_each_key(plain):
    circle = ring(plain)

    first = a_letter(plain, circle, "Effie", "frost:3:2027-04-05")
    second = a_letter(plain, circle, "Effie", "frost:3:2027-04-05")

    assert first == second
    assert first.kind == "frost"


def test_a_letter_is_mailed_once(plain):
    circle = ring(plain)
    with mail_server() as (server, box):
        house = with_mail(plain, server)
        letter = a_letter(house, circle, "Effie", "frost:1")

        rounds = [send_waiting(house, NOW), send_waiting(house, NOW)]

    assert rounds == [Sending(sent=1), Sending()]
    assert state_of(house, letter).state == LetterState.SENT
    (envelope,) = box.taken
    assert envelope.rcpt_tos == ["effie.pellow@example.org"]
    assert b"Auto-Submitted: auto-generated" in envelope.content
    assert b"The Lowmoor Circle" in envelope.content


def test_the_books_are_free_while_the_mail_server_is_spoken_to(plain, monkeypatch):
    from exchange.actions.kernel import letters

    circle = ring(plain)
    house = with_mail(plain, MailServer("127.0.0.1", 1))
    a_letter(house, circle, "Effie", "frost:1")
    wrote = []

    def slow_server(_message, _server):
        with house.books.writing() as tx:
            MEMBERS.change(tx, circle.circle_id, circle["Winnie"].id, telephone="01632 960002")
            wrote.append(True)
        return letters.Sent()

    monkeypatch.setattr(letters, "send", slow_server)

    assert send_waiting(house, NOW) == Sending(sent=1)
    assert wrote == [True]


def test_a_busy_server_is_tried_again_later(plain):
    circle = ring(plain)
    with mail_server() as (server, box):
        house = with_mail(plain, server)
        letter = a_letter(house, circle, "Effie", "frost:1")
        box.not_now = 1

        rounds = [
            send_waiting(house, at)
            for at in (NOW, NOW + timedelta(minutes=1), NOW + WAIT_AFTER_FAULT)
        ]

    assert rounds == [Sending(later=1), Sending(), Sending(sent=1)]
    assert state_of(house, letter).tries == 2


def test_a_server_that_cannot_be_reached_is_given_up_after_eight_tries(plain):
    circle = ring(plain)
    house = with_mail(plain, MailServer("127.0.0.1", 1))
    letter = a_letter(house, circle, "Effie", "frost:1")
    at = NOW

    for _try in range(10):
        send_waiting(house, at)
        at += timedelta(days=3)

    kept = state_of(house, letter)
    assert (kept.state, kept.tries) == (LetterState.FAILED, 8)
    assert "refused" in kept.fault.lower()
    assert letter.id in {one.letter.id for one in letters_by_hand(circle.actor("Winnie"))}


def test_a_letter_whose_worker_died_is_sent_when_its_lease_is_over(plain, monkeypatch):
    from exchange.actions.kernel import letters

    circle = ring(plain)
    with mail_server() as (server, _box):
        house = with_mail(plain, server)
        letter = a_letter(house, circle, "Effie", "frost:1")
        monkeypatch.setattr(letters, "send", _die)
        with pytest.raises(KilledError):
            send_waiting(house, NOW)
        monkeypatch.undo()

        meanwhile = send_waiting(house, NOW + LEASE - timedelta(seconds=1))
        after = send_waiting(house, NOW + LEASE)

    assert (meanwhile, after) == (Sending(), Sending(sent=1))
    assert state_of(house, letter).state == LetterState.SENT


class KilledError(BaseException):
    """The worker is killed in the middle of sending."""


def _die(_message, _server):
    raise KilledError


def test_without_mail_a_letter_waits_to_be_handed_over(plain):
    circle = ring(plain, members=("Winnie", "Odo"))
    with mail_server() as (server, box):
        house = with_mail(plain, server)
        letter = a_letter(house, circle, "Odo", "frost:1")
        sent = send_waiting(house, NOW)
    winnie = circle.actor("Winnie")
    waiting = {one.letter.id: one for one in letters_by_hand(winnie)}

    hand_over(winnie, letter.id, NOW)

    assert sent == Sending()
    assert box.taken == []
    assert waiting[letter.id].text == "A frost is near\n\nCarry the pots in.\n"
    assert letter.id not in {one.letter.id for one in letters_by_hand(winnie)}


def test_a_letter_handed_over_by_mistake_is_to_be_handed_over_again(plain):
    circle = ring(plain, members=("Winnie", "Odo"))
    with mail_server() as (server, _box):
        letter = a_letter(with_mail(plain, server), circle, "Odo", "frost:9")
    winnie = circle.actor("Winnie")
    hand_over(winnie, letter.id, NOW)

    take_hand_over_back(winnie, letter.id, NOW)

    assert letter.id in {one.letter.id for one in letters_by_hand(winnie)}
    with pytest.raises(NotHandedOverError):
        take_hand_over_back(winnie, letter.id, NOW)


def test_a_letter_that_was_mailed_is_not_handed_over(plain):
    circle = ring(plain, members=("Winnie", "Effie"))
    with mail_server() as (server, _box):
        house = with_mail(plain, server)
        letter = a_letter(house, circle, "Effie", "frost:10")
        send_waiting(house, NOW)

    with pytest.raises(NotHandedOverError):
        take_hand_over_back(circle.actor("Winnie"), letter.id, NOW)


def test_only_the_organiser_sees_the_letters_to_hand_over(plain):
    circle = ring(plain)

    with pytest.raises(NotAllowedError):
        letters_by_hand(circle.actor("Effie"))


def test_a_way_in_that_no_server_took_is_not_shown_to_the_organiser(plain):
    circle = ring(plain)
    house = with_mail(plain, MailServer("127.0.0.1", 1))
    letter = a_letter(house, circle, "Effie", "sign_in:1")
    with house.books.writing() as tx:
        LETTERS.change(tx, circle.circle_id, letter.id, state=LetterState.FAILED)

    shown = {one.letter.id for one in letters_by_hand(circle.actor("Winnie"))}

    assert letter.id not in shown


@pytest.mark.parametrize("kind", ["sign_in", "reset_instructions"])
def test_a_way_in_that_also_opens_another_circle_is_shown_to_no_organiser(plain, kind):
    first = ring(plain, "First", ("Winnie", "Effie"))
    here_only = a_letter(first.house, first, "Effie", f"{kind}:here")
    before = {one.letter.id for one in letters_by_hand(first.actor("Winnie"))}

    ring(plain, "Second", ("Ada", "Effie"))
    after = {one.letter.id for one in letters_by_hand(first.actor("Winnie"))}

    assert here_only.id in before
    assert here_only.id not in after


def test_a_letter_is_handed_over_with_its_deed_or_not_at_all(monkeypatch, plain):
    circle = ring(plain)
    letter = a_letter(plain, circle, "Effie", "frost:3:2027-04-05")
    before = dump(plain.books)
    break_at(monkeypatch, "exchange.actions.kernel.letters.note")

    with pytest.raises(BrokenError):
        hand_over(circle.actor("Winnie"), letter.id, NOW)

    assert dump(plain.books) == before


def told_why(texts):
    """Give, for the letter with a link and the one without, whether it says that nobody else can open it."""
    found = {}
    for text in texts:
        for mark in ("Look: ", "Hello."):
            if mark in text:
                found[mark] = "open only on the machine" in " ".join(text.split())
    return found


def test_of_links_nobody_else_can_open_a_letter_says_why_mailed_or_copied(plain):
    circle = ring(plain)

    def write_both(house, mark):
        for name, words in (
            ("Effie", f"Look: {house.public_url}/todo\n"),
            ("Cuthbert", "Hello.\n"),
        ):
            with house.books.writing() as tx:
                write(tx, house, circle[name], LetterText("News", words), f"news:{mark}{name}", NOW)

    write_both(plain, "by hand")
    copied = told_why(one.text for one in letters_by_hand(circle.actor("Winnie")))
    with mail_server() as (server, box):
        house = with_mail(plain, server)
        write_both(house, "mailed")
        send_waiting(house, NOW)
    mailed = told_why(one.content.decode() for one in box.taken)

    assert copied == mailed == {"Look: ": True, "Hello.": False}


def test_links_that_others_can_open_need_no_word(plain):
    circle = ring(plain)
    with mail_server() as (server, box):
        house = replace(with_mail(plain, server), public_url="https://circle.example")
        words = LetterText("News", "Look: https://circle.example/todo\n")
        with house.books.writing() as tx:
            write(tx, house, circle["Effie"], words, "news:1", NOW)
        send_waiting(house, NOW)

    assert b"open only on the machine" not in box.taken[-1].content
