"""Forms of varieties: a new name, what one grows of it, how it keeps."""

from wtforms import (
    BooleanField,
    IntegerField,
    RadioField,
    SelectField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional

from exchange.actions.growing.batches import MOST_PLANTS
from exchange.actions.growing.varieties import LONGEST_REMARK, MOST_PLACES
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.names import LONGEST_NAME
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm
from exchange.web.growing.plant_choices import NEW_KINDS, RAISED, SENT_AS
from exchange.words.growing import plants

ALIVE = f"Write how many plants are alive, from 0 to {MOST_PLANTS}."


class VarietyForm(PageForm):
    """A new variety."""

    name = StringField(
        "Name",
        [
            InputRequired("Write the name of the variety."),
            Length(
                max=LONGEST_NAME,
                message=f"That name is longer than {LONGEST_NAME} letters; write it shorter.",
            ),
        ],
        description="As its growers write it, without quotation marks.",
    )
    meant = RadioField("Which plant is meant?", choices=[], validate_choice=False)
    kind = SelectField("Kind of plant", choices=NEW_KINDS, default=Species.DAHLIA.value)
    given_now = BooleanField(
        "We give it this name ourselves",
        description="A seedling or sport raised here. The code of cultivated-plant names is then asked.",
    )
    anyway = BooleanField("Keep the name all the same")


class GrowForm(PageForm):
    """What one grows of a variety."""

    plants = IntegerField("How many are alive?", [NumberRange(0, MOST_PLANTS, ALIVE)])
    material = SelectField("As", choices=SENT_AS, default=Material.POT_TUBER.value)
    place = SelectField("Where they stand", coerce=int, choices=[], validate_choice=False)
    shelter = SelectField(
        "Shelter",
        choices=[("", "Not said")] + [(one.value, plants.shelter(one)) for one in ShelterKind],
    )
    raised = RadioField("How raised", choices=RAISED, default=Raised.COOL.value)
    origin = StringField(
        "Where they came from",
        [Optional(), Length(max=200)],
        description="Own cuttings, a division from a friend: whatever helps to tell plants apart.",
    )


class CountForm(EditingForm):
    """The new count of a batch."""

    plants = IntegerField(
        "How many are alive now?",
        [NumberRange(0, MOST_PLANTS, ALIVE)],
        description="0 when it is lost. Saying so costs nothing, and helps to see what is at risk.",
    )


class MarksForm(EditingForm):
    """How a variety keeps, whether it must not be lost, whether it is protected; of a begonia, which kind."""

    begonia = RadioField(
        "It is grown",
        [Optional()],
        choices=[
            (Species.TUBEROUS_BEGONIA.value, "from a tuber"),
            (Species.FOLIAGE_BEGONIA.value, "for its leaves, without a tuber"),
        ],
    )
    keeps = RadioField(
        "Over winter it",
        choices=[(one.value, plants.keeps(one)) for one in Keeps],
        default=Keeps.FAIRLY.value,
    )
    must_not_be_lost = BooleanField(
        "It must not be lost",
        description="The share-out then spreads it over more gardens before anything else.",
    )
    because = TextAreaField("Why it must not be lost", [Optional(), Length(max=LONGEST_REMARK)])
    target_places = IntegerField(
        "In how many places it should stand",
        [
            NumberRange(
                1,
                MOST_PLACES,
                f"Write a number from 1 to {MOST_PLACES}, such as 3.",
            )
        ],
        default=3,
    )
    protected = BooleanField(
        "Breeders’ rights may apply",
        description="Spares are then held, and the authority is named. Nobody here rules on the law.",
    )
    authority = StringField(
        "Whom to ask",
        [Optional(), Length(max=LONGEST_REMARK)],
        description="Left empty: the Plant Variety Rights Office, or the office on the label.",
    )
