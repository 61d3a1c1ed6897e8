"""The forms of a household's own details: posting days, address, name and telephone, days away."""

from wtforms import (
    BooleanField,
    DateField,
    Form,
    IntegerField,
    SelectMultipleField,
    StringField,
    TextAreaField,
)
from wtforms.validators import InputRequired, Length, NumberRange, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.web.forms.people import NAME
from exchange.words.phrase import _
from exchange.words.places import weekday_words


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
