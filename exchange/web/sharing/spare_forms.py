"""Forms of spares: one by one, and the box with its table."""

from datetime import date, timedelta
from typing import Any

from wtforms import (
    BooleanField,
    DateField,
    Field,
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
from wtforms.validators import InputRequired, Length, NumberRange, Optional, ValidationError

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import MOST_LINES, MOST_PLANTS_A_LINE, What
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import LARGEST_ID, PageForm, an_id, an_id_or_nobody
from exchange.web.frame.query import one_of
from exchange.web.growing.plant_choices import NEW, NEW_KINDS, RAISED, SENT_AS

HOW_MANY = f"Write a number from 1 to {MOST_PLANTS_A_LINE}, such as 4."
A_DAY = "Write a day, such as {example}."
USUAL_DAYS = timedelta(days=42)


def usual_window(today: date) -> dict[str, date]:
    """Give the days a form of spares begins with."""
    return {"ready_from": today, "send_by": today + USUAL_DAYS}


def _ready_from() -> DateField:
    return DateField(
        "Ready from",
        [InputRequired(A_DAY.format(example="2027-04-26"))],
        description="Unrooted cuttings: the first day on which you can cut them.",
    )


def _send_by() -> DateField:
    return DateField(
        "Send by",
        [InputRequired(A_DAY.format(example="2027-05-14"))],
        description="The last day on which they should be posted, or cut.",
    )


def _looked_over() -> BooleanField:
    return BooleanField(
        "I looked them over and saw no symptoms",
        description="Leaves from above and below, stems, tubers. Leave it empty if nobody has.",
    )


def _health_by() -> StringField:
    return StringField("Looked over by", [Optional(), Length(max=60)])


def _health_on() -> DateField:
    return DateField("Looked over on", [Optional()])


def _may_go() -> BooleanField:
    """Give the tick that is shown once a last plant is asked about."""
    return BooleanField("Yes, it may go")


class SpareForm(PageForm):
    """One spare."""

    name = StringField(
        "Variety",
        [
            InputRequired("Write the name of the variety."),
            Length(
                max=LONGEST_NAME,
                message=f"That name is longer than {LONGEST_NAME} letters; write it shorter.",
            ),
        ],
        description="Choose from the names the circle knows, or write another.",
        render_kw={"list": "names", "autocomplete": "off"},
    )
    kind = SelectField("Kind of plant", choices=NEW_KINDS, default=Species.DAHLIA.value)
    meant = RadioField("Which plant is meant?", choices=[], validate_choice=False)
    count = IntegerField("How many can you spare?", [NumberRange(1, MOST_PLANTS_A_LINE, HOW_MANY)])
    material = SelectField("Sent as", choices=SENT_AS, default=Material.ROOTED.value)
    ready_from = _ready_from()
    send_by = _send_by()
    raised = RadioField(
        "How raised",
        choices=RAISED,
        default=Raised.COOL.value,
        description="What was raised in heat is hurt by one cold night.",
    )
    roots_seen = BooleanField(
        "Roots, or an eye, seen",
        description="A tuber without an eye does not grow; a cutting without roots is unrooted.",
    )
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()
    # What may be chosen is known to the act, which refuses anything else.
    place = SelectField("Where they stand", coerce=an_id, choices=[], validate_choice=False)
    set_aside_for = SelectField(
        "Set aside for",
        [Optional()],
        choices=[],
        coerce=an_id_or_nobody,
        validate_choice=False,
        description="For one member only; left out of the share-out.",
    )
    may_go = _may_go()
    note = TextAreaField("Anything they should know", [Optional(), Length(max=500)])


class ChangeSpareForm(SpareForm, EditingForm):
    """One spare that is listed already."""


class BoxForm(PageForm):
    """The box: one spare or wish a line, and the days for all of them."""

    lines = TextAreaField(
        "One a line",
        [InputRequired("Write at least one line, such as 3 rooted and a name.")],
        description="How many, what they are sent as, the name. A pasted mail or table will do.",
    )
    material = SelectField(
        "Sent as, where a line does not say", choices=[("", "Ask me line by line"), *SENT_AS]
    )
    raised = RadioField(
        "How raised, where a line does not say", choices=RAISED, default=Raised.COOL.value
    )
    ready_from = _ready_from()
    send_by = _send_by()
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()


OUT = What.OUT.value
WISH = What.WISH.value
WHATS = [
    ("", "Say which …"),
    (What.SPARE.value, "A spare"),
    (WISH, "I would like it"),
    (OUT, "Leave it out"),
]
OWN = "own"
CHOICES = [("1", "First choice"), ("2", "Second choice"), ("3", "Third choice")]
ASKED = [("", "Say …"), *SENT_AS]
RAISED_ASKED = [("", "Say …"), *RAISED]


def _a_meaning(_form: Form, field: Field) -> None:
    """Refuse what no line of the table offers; the act decides whether the name may mean it."""
    known, _colon, kind = str(field.data).partition(":")
    chosen_one = not kind and known.isdecimal() and int(known) <= LARGEST_ID
    if not (chosen_one or (known == NEW and one_of(Species, kind))):
        raise ValidationError("Choose one of these.")


class RowForm(Form):
    """One line of the box in the table; the choices of `variety` are set by the page.

    `looked` is the name that `variety` was offered for.
    """

    Meta = PageForm.Meta  # a line says its mistakes in the words of the table it stands in

    what = SelectField(
        "Which is it",
        [InputRequired("Say whether it is a spare, a wish, or to be left out.")],
        choices=WHATS,
    )
    name = StringField("Name", [InputRequired("Write the name."), Length(max=LONGEST_NAME)])
    looked = HiddenField()
    variety = SelectField(
        "Which plant",
        [InputRequired("Say which plant is meant."), _a_meaning],
        choices=[],
        validate_choice=False,
    )
    whose = SelectField("Whose", choices=[], validate_choice=False, default=OWN)
    count = IntegerField("How many", [NumberRange(1, MOST_PLANTS_A_LINE, HOW_MANY)])
    choice = SelectField("Choice", choices=CHOICES, default="1")
    material = SelectField("Sent as", [InputRequired("Say what they are sent as.")], choices=ASKED)
    raised = SelectField(
        "Raised", [InputRequired("Say how they were raised.")], choices=RAISED_ASKED
    )
    may_go = _may_go()

    def validate_whose(self, field: Field) -> None:
        """Refuse a line of which nobody has said whose it is."""
        told = str(field.data)
        if not (told == OWN or (told.isdecimal() and int(told) <= LARGEST_ID)):
            raise ValidationError("Say whose it is.")

    def validate(self, extra_validators: Any = None) -> bool:
        """Check what the line needs: nothing where it is left out, less where it is a wish."""
        needless = {OUT: set(self._fields) - {"what"}, WISH: {"material", "raised", "may_go"}}
        well = super().validate(extra_validators)
        unneeded = needless.get(self.what.data, set())
        for name in unneeded:
            self[name].errors = []
        return well or not any(self[name].errors for name in self._fields)


class TableForm(PageForm):
    """The table in which doubtful lines are asked about; the box goes along as a hidden field."""

    lines = HiddenField()
    material = HiddenField()
    raised = HiddenField()
    rows = FieldList(FormField(RowForm), max_entries=MOST_LINES)
    ready_from = _ready_from()
    send_by = _send_by()
    looked_over = _looked_over()
    health_by = _health_by()
    health_on = _health_on()
