"""Forms of the one-button answers: did it go, did it come, can it go."""

from wtforms import DateField, Form, RadioField
from wtforms.validators import Optional

from exchange.domain.arriving.arrival import Condition
from exchange.words.phrase import _

CONDITIONS = (
    (Condition.WELL.value, _("All well")),
    (Condition.LIMP.value, _("Limp")),
    (Condition.HURT.value, _("Hurt")),
    (Condition.DEAD.value, _("Dead")),
)


class WentForm(Form):
    """Another day on which it went, or on which it will go."""

    day = DateField(_("It went on another day"), [Optional()])
    new_day = DateField(
        _("It will go on"),
        [Optional()],
        description=_("Left empty, the program looks for the next good day."),
    )


class CameForm(Form):
    """How it came, and another day than those expected."""

    condition = RadioField(
        _("How did the plants come?"), choices=CONDITIONS, default=Condition.WELL.value
    )
    day = DateField(_("It came on another day"), [Optional()])
