"""The form on which a sender says what can go."""

from collections.abc import Iterable

from wtforms import DateField, Form, IntegerField
from wtforms.validators import InputRequired, NumberRange, Optional

from exchange.actions.sharing.sender_answer import SenderAnswer, ToAnswer
from exchange.web.frame.form_state import PageForm


def sender_form(asked: Iterable[ToAnswer]) -> type[PageForm]:
    """Give the form of a sender's answer: how many can go, and from when, for each line."""
    fields: dict[str, object] = {}
    for one in asked:
        most = f"Write a number from 0 to {one.count}."
        fields[f"count-{one.allocation_id}"] = IntegerField(
            "How many can go?",
            [InputRequired(most), NumberRange(0, one.count, most)],
            default=one.count,
            description=f"{one.count} are asked for. Write 0 if none can; nobody is told why.",
        )
        fields[f"later-{one.allocation_id}"] = DateField("Not ready before", [Optional()])
    return type("SenderForm", (PageForm,), fields)


def sender_said(form: Form, asked: Iterable[ToAnswer]) -> list[SenderAnswer]:
    """Give what the sender said of each line in the form."""
    return [
        SenderAnswer(
            one.allocation_id,
            form[f"count-{one.allocation_id}"].data,
            form[f"later-{one.allocation_id}"].data,
        )
        for one in asked
    ]
