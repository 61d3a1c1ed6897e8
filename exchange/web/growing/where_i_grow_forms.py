"""Forms of My garden: places, shelters, posting days, address, names, days away."""

from wtforms import (
    BooleanField,
    IntegerField,
    RadioField,
    SelectField,
    StringField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional

from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import NumberField
from exchange.web.people.member_forms import TownFields
from exchange.words.growing import plants
from exchange.words.people.places import lie_words, spring_weeks

_NUMBER = "Write a number, such as {example}."


class PlaceForm(TownFields):
    """A place where stock stands."""

    name = StringField(
        "Name of the place",
        [InputRequired("Give the place a name, such as home or allotment."), Length(max=40)],
        default="home",
    )
    height_m = NumberField(
        "Height above the sea, in metres",
        [Optional(), NumberRange(-10, 4500, _NUMBER.format(example=95))],
        description="A hill is colder. Left empty, the forecast’s own height is used.",
    )
    lie = RadioField(
        "How it lies",
        choices=[(lie.value, lie_words(lie)) for lie in Lie],
        default=Lie.OPEN.value,
    )
    frost_rare_day = SelectField(
        "After which week is frost rare with you?",
        [Optional()],
        choices=[("", "I cannot say")] + [(str(day), week) for day, week in spring_weeks()],
        description="What you have seen stands above the weather station.",
    )
    home_by = IntegerField(
        "Somebody is home to take a parcel in by",
        [NumberRange(0, 24, "Write an hour from 0 to 24, such as 18.")],
        default=18,
        description="An hour of the day from 0 to 24. Only the weighing of days uses it.",
    )
    letter_box = BooleanField("Flat parcels go through the letter box")
    rural_extra_day = BooleanField("The post usually takes a day longer here")
    latitude = NumberField(
        "Pin: latitude",
        [Optional(), NumberRange(-90, 90, _NUMBER.format(example="52.367"))],
    )
    longitude = NumberField(
        "Pin: longitude",
        [Optional(), NumberRange(-180, 180, _NUMBER.format(example="-2.718"))],
    )


class PlaceChangeForm(EditingForm, PlaceForm):
    """A place that is there already."""


class ShelterForm(EditingForm):
    """A shelter and the room in it, asked in seed trays."""

    kind = SelectField(
        "Shelter", choices=[(kind.value, plants.shelter(kind)) for kind in ShelterKind]
    )
    trays = NumberField(
        "Room for pots, in seed trays",
        [Optional(), NumberRange(0, 1000, _NUMBER.format(example=4))],
        description="A tray holds eight 9 cm pots. Left empty: no limit.",
    )
    carried_in = BooleanField("Pots here can be carried in on a cold night")
