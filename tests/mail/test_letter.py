"""Letters as messages: RFC 5322, and RFC 3834 for what a program sends by itself."""

from datetime import datetime, timedelta, timezone
from email import message_from_bytes
from email.policy import default

import pytest

from exchange.mail.letter import LONGEST_SUBJECT, From, NoAddressError, as_message
from tests.builders.letters import a_letter

SENDER = From("The Wending Circle", "circle@circle.example")


def read_back(**more):
    return message_from_bytes(bytes(as_message(a_letter(**more), SENDER)), policy=default)


def test_a_letter_is_dated_named_and_marked_as_sent_by_a_program():
    """RFC 3834 section 5: Auto-Submitted: auto-generated on what no person wrote."""
    message = read_back()

    assert message["Auto-Submitted"] == "auto-generated"
    assert message["Message-ID"] == "<letter-17@circle.example>"
    assert message["Date"].datetime == datetime(
        2027, 4, 26, 18, tzinfo=timezone(timedelta(hours=1))
    )
    assert message["From"].addresses[0].addr_spec == "circle@circle.example"
    assert message["To"].addresses[0].display_name == "Colin"


def test_the_text_stands_first_and_alone():
    message = read_back(text="Dear Colin,\n\nGut − ‘Zoë’ 🌱\n")

    assert message.get_content_type() == "text/plain"
    assert message.get_content().replace("\r\n", "\n") == "Dear Colin,\n\nGut − ‘Zoë’ 🌱\n"


def test_no_line_is_longer_than_mail_allows():
    """RFC 5322 section 2.1.1: no line longer than 998 characters without CRLF."""
    body = bytes(as_message(a_letter(text="word " * 4000 + "\n" + "x" * 5000), SENDER))

    assert max(len(line) for line in body.split(b"\r\n")) <= 998


@pytest.mark.parametrize("field", ["subject", "to_name"])
def test_no_header_can_be_brought_in_by_a_name_or_subject(field):
    message = read_back(**{field: "Maud\r\nBcc: all@circle.example\x00\u2028x"})

    assert message["Bcc"] is None
    assert len(message["To"].addresses) == 1


def test_a_subject_without_end_is_cut():
    assert len(read_back(subject="long " * 400)["Subject"]) <= LONGEST_SUBJECT


@pytest.mark.parametrize(
    "address", ["", "colin", "colin@", "a@b@c", "Colin <c@d.example>", "c d@e.example"]
)
def test_what_is_no_address_is_refused(address):
    with pytest.raises(NoAddressError):
        as_message(a_letter(to_address=address), SENDER)


def test_only_reminders_can_be_stopped_from_the_mail_itself():
    """RFC 8058 section 3.1: both headers, and an https address."""
    assert read_back()["List-Unsubscribe"] is None

    message = read_back(stop_url="https://circle.example/stop/abc")

    assert message["List-Unsubscribe"] == "<https://circle.example/stop/abc>"
    assert message["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
