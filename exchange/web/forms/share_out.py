from wtforms import DateField, Form, IntegerField, RadioField, SelectField, StringField
from wtforms.validators import InputRequired, Length, Optional

from exchange.actions.share_out_choices import LONGEST_REASON, NewChoice
from exchange.words.phrase import _


class OpenShareOutForm(Form):
    name = StringField(_("What is shared out"), [Length(max=80, message=_("Write it shorter."))])
    closes_on = DateField(
        _("Closing day"), [InputRequired(_("Give the day on which claims close."))]
    )


class ChoiceForm(Form):
    """What the organiser wants for one claim."""

    spare = SelectField(_("Which spare"), coerce=int)
    what = RadioField(
        _("What you want"),
        choices=[
            ("pin", _("They go to this claim, whatever the rules say")),
            ("forbid", _("They do not go to this claim")),
        ],
        validators=[InputRequired(_("Choose one of the two."))],
    )
    count = IntegerField(
        _("How many plants go"),
        [Optional()],
        default=1,
    )
    reason = StringField(
        _("Why"),
        [
            InputRequired(_("Give the reason; it is kept with the share-out.")),
            Length(max=LONGEST_REASON, message=_("Write it shorter.")),
        ],
        description=_("Kept with the share-out, and only the organiser reads it."),
    )

    def choice(self, claim_id: int) -> NewChoice:
        count = self.count.data if self.count.data is not None else 0
        return NewChoice(
            self.spare.data,
            claim_id,
            count if self.what.data == "pin" else None,
            self.reason.data or "",
        )
