"""Forms that mend varieties: the name, which two are one, groups and sizes."""

from wtforms import RadioField, SelectField, StringField
from wtforms.validators import InputRequired, Length, Optional

from exchange.actions.growing.plant_classes import LONGEST_LABEL
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm
from exchange.web.growing.plant_choices import KINDS
from exchange.words.growing.plant_classes import SORTS

TOO_LONG = f"That name is longer than {LONGEST_NAME} letters; write it shorter."
NO_LABEL = f"Write a name of at most {LONGEST_LABEL} letters."


class CorrectForm(EditingForm):
    """A variety as it should read."""

    name = StringField(
        "Name",
        [
            InputRequired("Write the name of the variety."),
            Length(max=LONGEST_NAME, message=TOO_LONG),
        ],
        description="The epithet, as its raiser wrote it, without quotation marks.",
    )
    kind = SelectField("Kind of plant", choices=KINDS)
    trade_name = StringField(
        "Sold as",
        [Optional(), Length(max=LONGEST_NAME, message=TOO_LONG)],
        description="The name on the label of a shop, where it is not the epithet.",
    )
    group_id = SelectField("Group", choices=[], coerce=int, validate_choice=False)
    size_id = SelectField("Size", choices=[], coerce=int, validate_choice=False)


class MergeForm(PageForm):
    """Which variety another is the same as."""

    into = SelectField(
        "It is the same plant as",
        choices=[],
        coerce=int,
        validate_choice=False,
        description="That name is kept; this one leads to it from then on.",
    )


class ClassForm(EditingForm):
    """A group or a size, as it is called and by whom."""

    label = StringField(
        "Name", [InputRequired(NO_LABEL), Length(max=LONGEST_LABEL, message=NO_LABEL)]
    )
    society = StringField(
        "By which society",
        [Optional(), Length(max=LONGEST_LABEL, message=NO_LABEL)],
        description="Societies differ.",
    )


class NewClassForm(ClassForm):
    """A group or a size more."""

    kind = SelectField("Kind of plant", choices=KINDS, default=Species.DAHLIA.value)
    sort = RadioField(
        "It is a",
        choices=[(one.value, SORTS[one]) for one in ClassSort],
        default=ClassSort.GROUP.value,
    )
