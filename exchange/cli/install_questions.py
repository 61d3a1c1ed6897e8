"""What has to be known to set up a circle: each question, its check, and the settings it comes to."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from exchange.cli.asking import Answers, Prompt, ReplyRefusedError
from exchange.settings import SettingRefused, Settings
from exchange.words.kernel.addresses import only_here

HOME, NO_MAIL = "home", "none"
USUAL_MEMBERS, MOST_MEMBERS = 15, 500
USUAL_PORT, HIGHEST_PORT = 587, 65_535


def _name(text: str) -> str:
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.people.members import clean_name

    try:
        return clean_name(text)
    except RefusedError as refused:
        raise ReplyRefusedError(str(refused)) from refused


def _mail_address(text: str) -> str:
    from exchange.actions.kernel.refusals import RefusedError
    from exchange.actions.people.members import clean_address

    try:
        return clean_address(text)
    except RefusedError as refused:
        raise ReplyRefusedError(str(refused)) from refused


def _whole_number(most: int) -> Callable[[str], str]:
    def check(text: str) -> str:
        cleaned = text.strip()
        if not (cleaned.isdecimal() and 1 <= int(cleaned) <= most):
            raise ReplyRefusedError(f"Write a number from 1 to {most}.")
        return str(int(cleaned))

    return check


def _address(text: str) -> str:
    cleaned = text.strip().rstrip("/")
    if cleaned.casefold() == HOME:
        return HOME
    try:
        Settings(public_url=cleaned)
    except SettingRefused:
        cleaned = ""
    if not cleaned:
        raise ReplyRefusedError(f"Write an address that begins with https://, or {HOME}.")
    if only_here(cleaned):
        raise ReplyRefusedError(f"Only this machine can open {cleaned}; write {HOME} or another.")
    return cleaned


def _server(text: str) -> str:
    cleaned = text.strip()
    if not cleaned or len(cleaned.split()) > 1 or "@" in cleaned or "/" in cleaned:
        raise ReplyRefusedError(f"Write the server's name, such as mail.example.org, or {NO_MAIL}.")
    return NO_MAIL if cleaned.casefold() == NO_MAIL else cleaned


def _mails(answers: Answers) -> bool:
    return answers.get("mail_server", NO_MAIL) != NO_MAIL


def _signs_in(answers: Answers) -> bool:
    return _mails(answers) and bool(answers.get("mail_user"))


CIRCLE = (
    Prompt("circle", "Name of the circle", _name),
    Prompt("organiser", "First name of the organiser", _name),
    Prompt("email", "E-mail address of the organiser", _mail_address),
    Prompt(
        "members",
        "About how many members",
        _whole_number(MOST_MEMBERS),
        lambda _answers: str(USUAL_MEMBERS),
    ),
    Prompt("country", "Country, two letters such as GB", usual=lambda _answers: "GB"),
    Prompt("zone", "Zone its days are counted in", usual=lambda _answers: "Europe/London"),
)
ADDRESS = Prompt(
    "address",
    f"Where members open the pages: https://..., or {HOME} for the home network only",
    _address,
    lambda _answers: HOME,
)
MAIL = (
    Prompt("mail_server", f"Mail server, or {NO_MAIL}", _server, lambda _answers: NO_MAIL),
    Prompt(
        "mail_port",
        "Its port",
        _whole_number(HIGHEST_PORT),
        lambda _answers: str(USUAL_PORT),
        _mails,
    ),
    Prompt(
        "mail_user",
        "Name to sign in to it with, empty for none",
        usual=lambda _answers: "",
        wanted=_mails,
    ),
    Prompt(
        "mail_password",
        "Its password, typed unseen",
        usual=lambda _answers: "",
        wanted=_signs_in,
        hidden=True,
    ),
    Prompt(
        "mail_from",
        "Address the letters come from",
        _mail_address,
        lambda answers: answers["email"],
        _mails,
    ),
)


def questions_for(settings: Settings, *, fresh: bool, reached: bool) -> tuple[Prompt, ...]:
    """Give what is still to be known, by what the settings hold already.

    Parameters
    ----------
    fresh : whether there is no settings file yet
    reached : whether it is asked where members open the pages; else they stay on this machine
    """
    known = settings.public_url or settings.home_network
    address = (ADDRESS,) if fresh and reached and not known else ()
    mail = MAIL if fresh and not settings.mail_server else ()
    return (*CIRCLE, *address, *mail)


def values_of(answers: Answers) -> dict[str, Any]:
    """Give the settings that the answers come to, without those left at their default."""
    values: dict[str, Any] = {}
    address = answers.get("address", "")
    if address == HOME:
        values["home_network"] = True
    elif address:
        values["public_url"] = address
    if _mails(answers):
        values["mail_server"] = answers["mail_server"]
        values["mail_port"] = int(answers["mail_port"])
        values["mail_from"] = answers["mail_from"]
    if _signs_in(answers):
        values["mail_user"] = answers["mail_user"]
        values["mail_password"] = answers["mail_password"]
    return values


def settings_of(settings: Settings, answers: Answers) -> Settings:
    """Give the settings as they will be once the answers are written."""
    return replace(settings, **values_of(answers))
