from wtforms import DateField, Form, StringField
from wtforms.validators import InputRequired, Length

from exchange.words.phrase import _


class OpenShareOutForm(Form):
    name = StringField(_("What is shared out"), [Length(max=80, message=_("Write it shorter."))])
    closes_on = DateField(
        _("Closing day"), [InputRequired(_("Give the day on which claims close."))]
    )
