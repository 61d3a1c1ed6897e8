"""A form with every kind of field, for the page that shows the parts."""

from werkzeug.datastructures import MultiDict
from wtforms import (
    BooleanField,
    DateField,
    IntegerField,
    RadioField,
    SelectField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.web.frame.form_state import PageForm


class PartsForm(PageForm):
    """Every kind of field once."""

    name = StringField(
        "Variety",
        [InputRequired("Write the name of the variety.")],
        description="From your own stock, or write a name.",
    )
    count = IntegerField(
        "How many can you spare?", [NumberRange(1, 99, "Write a number from 1 to 99, such as 4.")]
    )
    sent_as = RadioField(
        "Sent as",
        choices=[("rooted", "Rooted cutting"), ("tuber", "Pot tuber"), ("clump", "Clump")],
        default="rooted",
    )
    accepted = SelectMultipleField(
        "What would do instead",
        [Length(min=1, message="Tick one at least.")],
        choices=[("rooted", "Rooted cutting"), ("young", "Young plant"), ("clump", "Clump")],
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
    )
    wanted = RadioField(
        "How many would you like?", choices=[(str(n), str(n)) for n in range(1, 5)], default="2"
    )
    choice = SelectField(
        "Your choice",
        choices=[("1", "First choice"), ("2", "Second choice"), ("3", "Third choice")],
    )
    send_by = DateField("Send by", [Optional()])
    remark = TextAreaField("Anything they should know", [Optional()])
    looked_over = BooleanField("I looked them over today and saw no galls, streaks or mites")


def blank() -> PartsForm:
    """Give the form as it is first met."""
    return PartsForm(
        data={"name": "Chapel Lantern", "count": 4, "wanted": "2", "looked_over": True}
    )


def with_mistakes() -> PartsForm:
    """Give the form as it comes back."""
    answers = {"name": "", "count": "a few", "sent_as": "rooted", "wanted": "3", "choice": "1"}
    form = PartsForm(
        MultiDict({f"wrong-{name}": value for name, value in answers.items()}), prefix="wrong-"
    )
    form.validate()
    return form
