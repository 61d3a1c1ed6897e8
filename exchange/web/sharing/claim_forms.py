"""The form of a claim, in two steps: what you can take, how much you want it."""

from wtforms import DateField, IntegerField, RadioField, SelectField, SelectMultipleField
from wtforms.validators import Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.actions.sharing.claims import MOST_ASKED
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import an_id
from exchange.web.growing.plant_choices import SENT_AS


class ClaimForm(EditingForm):
    """A claim; each step carries the fields of the other as hidden ones."""

    asked = IntegerField(
        "How many would you like?",
        [
            NumberRange(
                1,
                MOST_ASKED,
                f"Write a number from 1 to {MOST_ASKED}, such as 2.",
            )
        ],
        default=1,
        description="Of a variety that many want, nobody gets a second before all have one.",
    )
    materials = SelectMultipleField(
        "What you can take it as",
        [Length(min=1, message="Tick at least one thing you can take it as.")],
        choices=SENT_AS,
        default=sorted(one.value for one in USUAL_MATERIALS),
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        description="More ticks make a plant more likely.",
    )
    place = SelectField("Where it will stand", coerce=an_id, choices=[], validate_choice=False)
    no_use_after = DateField(
        "No use after",
        [Optional()],
        description="The last day on which it is still of use to you. Left empty: any day.",
    )
    choice = RadioField(
        "Among your own claims, this one is",
        choices=[
            ("1", "My first choice"),
            ("2", "My second choice"),
            ("3", "My third choice"),
        ],
        default="1",
        description="It sets only your own claims in a row; it takes nothing from others.",
    )
    alternatives = SelectMultipleField(
        "If there is none left, would one of these do?",
        choices=[],
        coerce=an_id,
        validate_choice=False,  # one that went off the list meanwhile may stay ticked
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        description="Nothing is ever sent instead without a tick here.",
    )


FIRST_STEP = ("asked", "materials", "place", "no_use_after")
SECOND_STEP = ("choice", "alternatives")
