"""The form on which a sender says what can go."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Protocol

from wtforms import DateField, Form, IntegerField
from wtforms.validators import InputRequired, NumberRange, Optional

from exchange.actions.sharing.sender_answer import SenderAnswer
from exchange.web.frame.form_state import PageForm

_COUNT = "count-"


class AskedLine(Protocol):
    """A line of the form: plants asked for [plants], or None where only what was sent is known."""

    @property
    def allocation_id(self) -> int: ...
    @property
    def count(self) -> int | None: ...


@dataclass(frozen=True, slots=True)
class LineSent:
    """A line that came back; the act knows how many were asked for."""

    allocation_id: int
    count: None = None


def lines_sent(sent: Mapping[str, str]) -> list[LineSent]:
    """Give the lines a sent form speaks of."""
    numbers = [name.removeprefix(_COUNT) for name in sent if name.startswith(_COUNT)]
    return [LineSent(int(one)) for one in numbers if one.isascii() and one.isdigit()]


def sender_form(asked: Iterable[AskedLine]) -> type[PageForm]:
    """Give the form of a sender's answer: how many can go, and from when, for each line."""
    fields: dict[str, object] = {}
    for one in asked:
        most = (
            "Write a number from 0."
            if one.count is None
            else f"Write a number from 0 to {one.count}."
        )
        fields[f"{_COUNT}{one.allocation_id}"] = IntegerField(
            "How many can go?",
            [InputRequired(most), NumberRange(0, one.count, most)],
            default=one.count,
            description=f"{one.count} are asked for. Write 0 if none can; nobody is told why.",
        )
        fields[f"later-{one.allocation_id}"] = DateField("Not ready before", [Optional()])
    return type("SenderForm", (PageForm,), fields)


def sender_said(form: Form, lines: Iterable[AskedLine]) -> list[SenderAnswer]:
    """Give what the sender said of each line in the form."""
    return [
        SenderAnswer(
            one.allocation_id,
            form[f"{_COUNT}{one.allocation_id}"].data,
            form[f"later-{one.allocation_id}"].data,
        )
        for one in lines
    ]
