"""Forms of varieties: a new name, what one grows of it, how it keeps."""

from wtforms import (
    BooleanField,
    Form,
    IntegerField,
    RadioField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional

from exchange.actions.batches import MOST_PLANTS
from exchange.actions.varieties import LONGEST_REMARK, MOST_PLACES
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.web.plant_choices import KINDS, RAISED, SENT_AS
from exchange.words import plants
from exchange.words.phrase import _

ALIVE = _("Write how many plants are alive, from 0 to {most}.").format(most=MOST_PLANTS)


class VarietyForm(Form):
    """A new variety."""

    name = StringField(
        _("Name"),
        [
            InputRequired(_("Write the name of the variety.")),
            Length(
                max=LONGEST_NAME,
                message=_("That name is longer than {most} letters; write it shorter.").format(
                    most=LONGEST_NAME
                ),
            ),
        ],
        description=_("As its growers write it, without quotation marks."),
    )
    meant = RadioField(_("Which plant is meant?"), choices=[], validate_choice=False)
    kind = SelectField(_("Kind of plant"), choices=KINDS, default=Species.DAHLIA.value)


class GrowForm(Form):
    """What one grows of a variety."""

    plants = IntegerField(_("How many are alive?"), [NumberRange(0, MOST_PLANTS, ALIVE)])
    material = SelectField(_("As"), choices=SENT_AS, default=Material.POT_TUBER.value)
    place = SelectField(_("Where they stand"), coerce=int, choices=[])
    shelter = SelectField(
        _("Shelter"),
        choices=[("", _("Not said"))] + [(one.value, plants.shelter(one)) for one in ShelterKind],
    )
    raised = RadioField(_("How raised"), choices=RAISED, default=Raised.COOL.value)
    origin = StringField(
        _("Where they came from"),
        [Optional(), Length(max=200)],
        description=_(
            "Own cuttings, a division from a friend: whatever helps to tell plants apart."
        ),
    )


class CountForm(Form):
    """The count of a batch anew."""

    plants = IntegerField(
        _("How many are alive now?"),
        [NumberRange(0, MOST_PLANTS, ALIVE)],
        description=_(
            "0 when it is lost. Saying so costs nothing, and helps to see what is at risk."
        ),
    )


class MarksForm(Form):
    """How a variety keeps, whether it must not be lost, whether it is protected."""

    keeps = RadioField(
        _("Over winter it"),
        choices=[(one.value, plants.keeps(one)) for one in Keeps],
        default=Keeps.FAIRLY.value,
    )
    must_not_be_lost = BooleanField(
        _("It must not be lost"),
        description=_("The share-out then spreads it over more gardens before anything else."),
    )
    because = TextAreaField(_("Why it must not be lost"), [Optional(), Length(max=LONGEST_REMARK)])
    target_places = IntegerField(
        _("In how many places it should stand"),
        [
            NumberRange(
                1,
                MOST_PLACES,
                _("Write a number from 1 to {most}, such as 3.").format(most=MOST_PLACES),
            )
        ],
        default=3,
    )
    protected = BooleanField(
        _("Breeders’ rights may apply"),
        description=_(
            "Spares are then held, and the authority is named. Nobody here rules on the law."
        ),
    )
    authority = StringField(
        _("Whom to ask"),
        [Optional(), Length(max=LONGEST_REMARK)],
        description=_("Left empty: the Plant Variety Rights Office, or the office on the label."),
    )
