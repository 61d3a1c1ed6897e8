"""Forms of spares: one by one, and the box with its table."""

from datetime import date, timedelta

from wtforms import (
    BooleanField,
    DateField,
    FieldList,
    Form,
    FormField,
    HiddenField,
    IntegerField,
    RadioField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.listing import MOST_LINES, MOST_PLANTS_A_LINE
from exchange.web.plant_choices import KINDS, RAISED, SENT_AS
from exchange.words.phrase import _

HOW_MANY = _("Write a number from 1 to {most}, such as 4.").format(most=MOST_PLANTS_A_LINE)
A_DAY = _("Write a day, such as {example}.")
USUAL_DAYS = timedelta(days=42)


def usual_window(today: date) -> dict[str, date]:
    """Give the days a form of spares begins with."""
    return {"ready_from": today, "send_by": today + USUAL_DAYS}


def _ready_from() -> DateField:
    return DateField(
        _("Ready from"),
        [InputRequired(A_DAY.format(example="2027-04-26"))],
        description=_("Unrooted cuttings: the first day on which you can cut them."),
    )


def _send_by() -> DateField:
    return DateField(
        _("Send by"),
        [InputRequired(A_DAY.format(example="2027-05-14"))],
        description=_("The last day on which they should be posted, or cut."),
    )


def _looked_over() -> BooleanField:
    return BooleanField(
        _("I looked them over and saw no symptoms"),
        description=_("Leaves from above and below, stems, tubers. Leave it empty if nobody has."),
    )


def _health_by() -> StringField:
    return StringField(_("Looked over by"), [Optional(), Length(max=60)])


def _health_on() -> DateField:
    return DateField(_("Looked over on"), [Optional()])


class SpareForm(Form):
    """One spare."""

    name = StringField(
        _("Variety"),
        [
            InputRequired(_("Write the name of the variety.")),
            Length(
                max=LONGEST_NAME,
                message=_("That name is longer than {most} letters; write it shorter.").format(
                    most=LONGEST_NAME
                ),
            ),
        ],
        description=_("Choose from the names the circle knows, or write another."),
        render_kw={"list": "names", "autocomplete": "off"},
    )
    kind = SelectField(_("Kind of plant"), choices=KINDS, default=Species.DAHLIA.value)
    meant = RadioField(_("Which plant is meant?"), choices=[], validate_choice=False)
    count = IntegerField(
        _("How many can you spare?"), [NumberRange(1, MOST_PLANTS_A_LINE, HOW_MANY)]
    )
    material = SelectField(_("Sent as"), choices=SENT_AS, default=Material.ROOTED.value)
    ready_from = _ready_from()
    send_by = _send_by()
    raised = RadioField(
        _("How raised"),
        choices=RAISED,
        default=Raised.COOL.value,
        description=_("What was raised in heat is hurt by one cold night."),
    )
    roots_seen = BooleanField(
        _("Roots, or an eye, seen"),
        description=_("A tuber without an eye does not grow; a cutting without roots is unrooted."),
    )
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()
    place = SelectField(_("Where they stand"), coerce=int, choices=[])
    set_aside_for = SelectField(
        _("Set aside for"),
        [Optional()],
        choices=[],
        description=_("For one member only; left out of the share-out."),
    )
    note = TextAreaField(_("Anything they should know"), [Optional(), Length(max=500)])


class BoxForm(Form):
    """The box: spares one a line, and the days for all of them."""

    lines = TextAreaField(
        _("Your spares, one a line"),
        [InputRequired(_("Write at least one line, such as 3 rooted and a name."))],
        description=_("How many, what they are sent as, the name. A pasted mail will do."),
    )
    raised = RadioField(
        _("How raised, where a line does not say"), choices=RAISED, default=Raised.COOL.value
    )
    ready_from = _ready_from()
    send_by = _send_by()
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()


class RowForm(Form):
    """One line of the box in the table; the choices of `variety` are set by the page."""

    variety = SelectField(
        _("Which plant"),
        [InputRequired(_("Say which plant is meant, or leave the line out."))],
        choices=[],
    )
    count = IntegerField(_("How many"), [NumberRange(1, MOST_PLANTS_A_LINE, HOW_MANY)], default=1)
    material = SelectField(_("Sent as"), choices=SENT_AS)
    raised = SelectField(_("Raised"), choices=RAISED)


class TableForm(Form):
    """The table in which doubtful lines are asked about; the box goes along unseen."""

    lines = HiddenField()
    raised = HiddenField()
    rows = FieldList(FormField(RowForm), max_entries=MOST_LINES)
    ready_from = _ready_from()
    send_by = _send_by()
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()
