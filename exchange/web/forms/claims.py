"""The form of a claim, in two steps: what you can take, how much you want it."""

from wtforms import DateField, Form, IntegerField, RadioField, SelectField, SelectMultipleField
from wtforms.validators import Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.actions.claims import MOST_ASKED
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.web.plant_choices import SENT_AS
from exchange.words.phrase import _


class ClaimForm(Form):
    """A claim; each step carries the fields of the other unseen."""

    asked = IntegerField(
        _("How many would you like?"),
        [
            NumberRange(
                1,
                MOST_ASKED,
                _("Write a number from 1 to {most}, such as 2.").format(most=MOST_ASKED),
            )
        ],
        default=1,
        description=_("Of a variety that many want, nobody gets a second before all have one."),
    )
    materials = SelectMultipleField(
        _("What you can take it as"),
        [Length(min=1, message=_("Tick at least one thing you can take it as."))],
        choices=SENT_AS,
        default=sorted(one.value for one in USUAL_MATERIALS),
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        description=_("More ticks make a plant more likely."),
    )
    place = SelectField(_("Where it will stand"), coerce=int, choices=[])
    no_use_after = DateField(
        _("No use after"),
        [Optional()],
        description=_("The last day on which it is still of use to you. Left empty: any day."),
    )
    choice = RadioField(
        _("Among your own claims, this one is"),
        choices=[
            ("1", _("My first choice")),
            ("2", _("My second choice")),
            ("3", _("My third choice")),
        ],
        default="1",
        description=_("It sets only your own claims in a row; it takes nothing from others."),
    )
    alternatives = SelectMultipleField(
        _("If there is none left, would one of these do?"),
        choices=[],
        coerce=int,
        validate_choice=False,  # one that went off the list meanwhile may stay ticked
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        description=_("Nothing is ever sent instead without a tick here."),
    )


FIRST_STEP = ("asked", "materials", "place", "no_use_after")
SECOND_STEP = ("choice", "alternatives")
