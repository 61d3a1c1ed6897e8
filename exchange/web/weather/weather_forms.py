"""Forms of the weather: a frost note, an evening reading, a night observed, a daily file."""

from wtforms import BooleanField, DateField, FileField
from wtforms.validators import InputRequired, NumberRange, Optional

from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import NumberField, PageForm

_DEGREES = "Write a temperature in °C, such as −1.5."


class SignedField(NumberField):
    """A number of degrees; a true minus sign is read as one too."""

    def process_formdata(self, valuelist: list[str]) -> None:
        super().process_formdata([text.replace("\u2212", "-") for text in valuelist])


class NoteForm(EditingForm):
    """What was heard of a night to come."""

    night = DateField(
        "The night that begins on",
        [InputRequired("Write the day on which the night begins, such as 2027-04-19.")],
    )
    minimum_c = SignedField(
        "How cold it is said to get, in °C",
        [InputRequired(_DEGREES), NumberRange(-40, 20, _DEGREES)],
    )


class EveningForm(PageForm):
    """A reading two hours after sunset."""

    temperature_c = SignedField(
        "Temperature two hours after sunset, in °C",
        [InputRequired(_DEGREES), NumberRange(-40, 40, _DEGREES)],
    )
    dew_point_c = SignedField(
        "Dew point then, in °C",
        [Optional(), NumberRange(-60, 40, _DEGREES)],
        description="Only if your thermometer tells it.",
    )
    clear = BooleanField("The sky is clear")
    still = BooleanField("There is no wind: leaves do not move")


class ObservedForm(PageForm):
    """The minimum of one night."""

    day = DateField(
        "The morning on which it was read",
        [InputRequired("Write the day of the morning, such as 2027-04-19.")],
    )
    minimum_c = SignedField(
        "Lowest temperature of the night, in °C",
        [InputRequired(_DEGREES), NumberRange(-60, 60, _DEGREES)],
    )


class DailyFileForm(PageForm):
    """A daily file."""

    file = FileField(
        "The file",
        description=(
            "A table with commas, one line a day, with the columns date (2027-04-19) and tmin_c, and"
            " tmax_c if you have it; at most 2 MB."
        ),
    )
