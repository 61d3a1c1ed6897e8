"""Forms of the one-button answers: did it go, did it come, can it go."""

from wtforms import DateField, RadioField
from wtforms.validators import Optional

from exchange.domain.arriving.arrival import Condition
from exchange.web.frame.form_state import PageForm

CONDITIONS = (
    (Condition.WELL.value, "All well"),
    (Condition.LIMP.value, "Limp"),
    (Condition.HURT.value, "Hurt"),
    (Condition.DEAD.value, "Dead"),
)


class WentForm(PageForm):
    """Another day on which it went, or on which it will go."""

    day = DateField("It went on another day", [Optional()])
    new_day = DateField(
        "It will go on",
        [Optional()],
        description="Left empty, the program looks for the next good day.",
    )


class LinkArrivalForm(PageForm):
    """How it came, and another day than those expected."""

    condition = RadioField(
        "How did the plants come?", choices=CONDITIONS, default=Condition.WELL.value
    )
    day = DateField("It came on another day", [Optional()])
