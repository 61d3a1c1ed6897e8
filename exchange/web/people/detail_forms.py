"""The forms of a household's own details: posting days, address, name and telephone, days away."""

from wtforms import (
    BooleanField,
    DateField,
    IntegerField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.web.frame.edits import EditingForm
from exchange.web.people.member_forms import NAME
from exchange.words.people.places import weekday_words


class PostingForm(EditingForm):
    """When the household posts."""

    posting_weekdays = SelectMultipleField(
        "Days on which you can post",
        [Length(min=1, message="Tick one day at least.")],
        choices=[(number, weekday_words(number)) for number in range(7)],
        coerce=int,
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
    )
    parcels_a_day = IntegerField(
        "Parcels you can pack on one day",
        [NumberRange(1, 100, "Write a number from 1 to 100, such as 3.")],
        default=3,
    )


class AddressForm(EditingForm):
    """Where parcels for the household go."""

    address = TextAreaField(
        "Postal address",
        [Length(max=400, message="Write it shorter, as on a label.")],
        description="Seen by who posts you a parcel, from the day it is planned until 14 days after it came.",
    )
    safe_place = StringField(
        "Where a parcel may be left",
        [Optional(), Length(max=100)],
        description="Told to the sender, never printed on the outside.",
    )
    return_address_allowed = BooleanField(
        "Print my address on the outside of parcels I send",
        description="The receiver then sees it. Without one, the carrier opens parcels that get lost.",
    )


class ContactForm(EditingForm):
    """How a member is called and reached."""

    first_name = StringField("First name", NAME)
    surname = StringField("Surname", [Optional(), Length(max=60)])
    email = StringField("E-mail address", [Optional()])
    telephone = StringField("Telephone", [Optional(), Length(max=40)])
    telephone_allowed = BooleanField("Who posts me a parcel may see my telephone number")
    on_ring_list = BooleanField(
        "On the circle’s ring list, with my number",
        description="Every member sees it, with your first name and county.",
    )


class AwayForm(EditingForm):
    """Days away."""

    first = DateField("First day away", [InputRequired("Write the first day, such as 2027-04-19.")])
    last = DateField("Last day away", [InputRequired("Write the last day, such as 2027-04-26.")])
    cannot_receive = BooleanField("No parcels can come to us", default=True)
    cannot_post = BooleanField("We cannot post", default=True)
