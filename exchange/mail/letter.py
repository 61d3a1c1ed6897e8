"""A letter and the message it travels as."""

from dataclasses import dataclass
from datetime import datetime
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime

LONGEST_SUBJECT = 150
"""Subjects are cut here [characters]."""


@dataclass(frozen=True, slots=True)
class Letter:
    """One letter to one person, in plain text.

    Attributes
    ----------
    message_id : without angle brackets, made at the door: "letter-17.ab12@circle.example"
    written_at : the instant it was written, with its zone
    stop_url : an https address at which reminders can be stopped, or empty; never on other letters
    """

    to_name: str
    to_address: str
    subject: str
    text: str
    message_id: str
    written_at: datetime
    stop_url: str = ""


@dataclass(frozen=True, slots=True)
class From:
    """The circle as it signs its mail."""

    name: str
    address: str


class NoAddressError(ValueError):
    """The letter's address is no mail address."""


def as_message(letter: Letter, sender: From) -> EmailMessage:
    """
    Give the letter as a message: plain text first, dated, named, and marked as sent by a program.

    Raises
    ------
    NoAddressError
        When one of the two addresses cannot be read.
    """
    message = EmailMessage(policy=SMTP)
    message["From"] = _address(sender.name, sender.address)
    message["To"] = _address(letter.to_name, letter.to_address)
    message["Subject"] = _one_line(letter.subject)[:LONGEST_SUBJECT]
    message["Date"] = format_datetime(letter.written_at)
    message["Message-ID"] = f"<{letter.message_id}>"
    message["Auto-Submitted"] = "auto-generated"
    if letter.stop_url:
        message["List-Unsubscribe"] = f"<{_one_line(letter.stop_url)}>"
        message["List-Unsubscribe-Post"] = "List-Unsubscribe=One-Click"
    message.set_content(letter.text)
    return message


def _address(name: str, address: str) -> Address:
    try:
        return Address(display_name=_one_line(name), addr_spec=_one_line(address))
    except Exception as error:
        raise NoAddressError(f"{address!r} is no mail address") from error


def _one_line(text: str) -> str:
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
