"""The form of pot labels: which sheet, and where printing begins on it."""

from wtforms import BooleanField, DecimalField, IntegerField, SelectField
from wtforms.validators import NumberRange, Optional

from exchange.actions.posting.papers import LABEL_SHEETS
from exchange.web.frame.form_state import PageForm

_OFF = "Write millimetres from -10 to 10, such as 1.5."


class LabelsForm(PageForm):
    """Pot labels on a sheet of labels."""

    grid = SelectField("Sheet of labels", choices=list(LABEL_SHEETS.items()))
    used = IntegerField(
        "Labels already taken from the sheet",
        [Optional(), NumberRange(0, 200, "Write a number from 0 to 200.")],
        default=0,
    )
    right_mm = DecimalField("Move right, in mm", [Optional(), NumberRange(-10, 10, _OFF)])
    down_mm = DecimalField("Move down, in mm", [Optional(), NumberRange(-10, 10, _OFF)])
    outline = BooleanField("Draw the edges, to try it on plain paper")
