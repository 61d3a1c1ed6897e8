"""The form on which the organiser sets a member up."""

from wtforms import SelectField, SelectMultipleField, StringField, TextAreaField
from wtforms.validators import Length, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.domain.growing.shelter import ShelterKind
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import an_id
from exchange.web.people.member_forms import NAME, TownFields
from exchange.words.growing import plants


def shelters_field() -> SelectMultipleField:
    """Give the ticks by which shelters are told."""
    return SelectMultipleField(
        "Where plants can stand",
        choices=[(kind.value, plants.shelter(kind)) for kind in ShelterKind],
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
        description="Tick all there are. It decides when parcels may come: without it they wait for mild nights.",
    )


def kinds_ticked(field: SelectMultipleField) -> frozenset[ShelterKind]:
    return frozenset(ShelterKind(value) for value in field.data or ())


class SetUpForm(EditingForm, TownFields):
    """Where a member grows, where parcels go, how to ring them, what shelter they have."""

    address = TextAreaField(
        "Postal address",
        [Length(max=400, message="Write it shorter, as on a label.")],
        description="Seen by who posts them a parcel, and only while they need it.",
    )
    telephone = StringField("Telephone", [Optional(), Length(max=40)])
    shelters = shelters_field()


class AddForm(SetUpForm):
    """Somebody new, for whom the organiser acts."""

    first_name = StringField("First name", NAME)
    surname = StringField("Surname", [Optional(), Length(max=60)])
    household = SelectField(
        "Household",
        coerce=an_id,
        choices=[],
        validate_choice=False,
        description="A couple shares one: nothing is posted between them and they count once.",
    )
