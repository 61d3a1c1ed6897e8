"""Forms of My garden: places, shelters, posting days, address, names, days away."""

from wtforms import (
    BooleanField,
    DateField,
    Form,
    IntegerField,
    RadioField,
    SelectField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.domain.circle.place import Lie
from exchange.domain.growing.shelter import ShelterKind
from exchange.web.forms.fields import NumberField
from exchange.web.forms.people import NAME, TownFields
from exchange.words import plants
from exchange.words.phrase import _
from exchange.words.places import lie_words, weekday_words

_NUMBER = _("Write a number, such as {example}.")


class PlaceForm(TownFields):
    """A place where stock stands."""

    name = StringField(
        _("Name of the place"),
        [InputRequired(_("Give the place a name, such as home or allotment.")), Length(max=40)],
        default="home",
    )
    height_m = NumberField(
        _("Height above the sea, in metres"),
        [Optional(), NumberRange(-10, 4500, _NUMBER.format(example=95))],
        description=_("A hill is colder. Left empty, the forecast's own height is used."),
    )
    lie = RadioField(
        _("How it lies"),
        choices=[(lie.value, lie_words(lie)) for lie in Lie],
        default=Lie.OPEN.value,
    )
    home_by = IntegerField(
        _("Somebody is home to take a parcel in by"),
        [NumberRange(0, 24, _("Write an hour from 0 to 24, such as 18."))],
        default=18,
        description=_("An hour of the day from 0 to 24. Only the weighing of days uses it."),
    )
    letter_box = BooleanField(_("Flat parcels go through the letter box"))
    rural_extra_day = BooleanField(_("The post usually takes a day longer here"))
    latitude = NumberField(
        _("Pin: latitude"),
        [Optional(), NumberRange(-90, 90, _NUMBER.format(example="52.367"))],
    )
    longitude = NumberField(
        _("Pin: longitude"),
        [Optional(), NumberRange(-180, 180, _NUMBER.format(example="-2.718"))],
    )


class ShelterForm(Form):
    """A shelter and the room in it, asked in seed trays."""

    kind = SelectField(
        _("Shelter"), choices=[(kind.value, plants.shelter(kind)) for kind in ShelterKind]
    )
    trays = NumberField(
        _("Room for pots, in seed trays"),
        [Optional(), NumberRange(0, 1000, _NUMBER.format(example=4))],
        description=_("A tray holds eight 9 cm pots. Left empty: no limit."),
    )
    carried_in = BooleanField(_("Pots here can be carried in on a cold night"))


class PostingForm(Form):
    """When the household posts."""

    posting_weekdays = SelectMultipleField(
        _("Days on which you can post"),
        [Length(min=1, message=_("Tick one day at least."))],
        choices=[(number, weekday_words(number)) for number in range(7)],
        coerce=int,
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
    )
    parcels_a_day = IntegerField(
        _("Parcels you can pack on one day"),
        [NumberRange(1, 100, _("Write a number from 1 to 100, such as 3."))],
        default=3,
    )


class AddressForm(Form):
    """Where parcels for the household go."""

    address = TextAreaField(
        _("Postal address"),
        [Length(max=400, message=_("Write it shorter, as on a label."))],
        description=_(
            "Seen by who posts you a parcel, from the day it is planned until 14 days after it came."
        ),
    )
    safe_place = StringField(
        _("Where a parcel may be left"),
        [Optional(), Length(max=100)],
        description=_("Told to the sender, never printed on the outside."),
    )
    return_address_allowed = BooleanField(
        _("Print my address on the outside of parcels I send"),
        description=_(
            "The receiver then sees it. Without one, the carrier opens parcels that get lost."
        ),
    )


class ContactForm(Form):
    """How a member is called and reached."""

    first_name = StringField(_("First name"), NAME)
    surname = StringField(_("Surname"), [Optional(), Length(max=60)])
    email = StringField(_("E-mail address"), [Optional()])
    telephone = StringField(_("Telephone"), [Optional(), Length(max=40)])
    telephone_allowed = BooleanField(_("Who posts me a parcel may see my telephone number"))


class AwayForm(Form):
    """Days away."""

    first = DateField(
        _("First day away"), [InputRequired(_("Write the first day, such as 2027-04-19."))]
    )
    last = DateField(
        _("Last day away"), [InputRequired(_("Write the last day, such as 2027-04-26."))]
    )
    cannot_receive = BooleanField(_("No parcels can come to us"), default=True)
    cannot_post = BooleanField(_("We cannot post"), default=True)
