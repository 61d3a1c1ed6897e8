"""Forms of the circle's terms: one form per term, made to suit its value."""

from datetime import date
from typing import Any

from wtforms import IntegerField, RadioField, SelectField, SelectMultipleField
from wtforms.validators import InputRequired, Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.actions.circle.terms import TermLine
from exchange.actions.kernel.terms_table import Term
from exchange.domain.posting.packing import PACKINGS
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import NumberField
from exchange.words.circle.terms import Said
from exchange.words.kernel.dates import month
from exchange.words.people.places import weekday_words
from exchange.words.posting import posting_days

_WHOLE = "Write a whole number, such as {example}."
_ASKED = {
    Said.IN_HUNDRED: "How many in 100?",
    Said.DAYS: "How many days?",
    Said.NIGHTS: "How many nights?",
    Said.PLANTS: "How many plants?",
    Said.PLACES: "How many places?",
    Said.DEGREES: "How many °C?",
    Said.TIMES: "How many times?",
}


class TermForm(EditingForm):
    """What every term's form can be asked for."""

    def wanted(self) -> Any:
        """Give the value that was written."""
        return self["value"].data


class NumberForm(TermForm):
    value = IntegerField("", [InputRequired(_WHOLE.format(example=10))])


class FigureForm(TermForm):
    value = NumberField("", [InputRequired("Write a number, such as 5 or 1.5.")])

    def wanted(self) -> float:
        return float(self.value.data or 0)


class PlacesForm(TermForm):
    value = IntegerField("", [Optional()])


class YesNoForm(TermForm):
    value = RadioField("Shall it be so?", choices=[("yes", "Yes"), ("no", "No")], default="no")

    def wanted(self) -> bool:
        return bool(self.value.data == "yes")


class WeekdaysForm(TermForm):
    value = SelectMultipleField(
        "On which days may they be handed over?",
        choices=[(number, weekday_words(number)) for number in range(7)],
        coerce=int,
        widget=ListWidget(prefix_label=False),
        option_widget=CheckboxInput(),
    )


class PackingForm(TermForm):
    value = RadioField(
        "Packing", choices=[(one.key, posting_days.packing(one.key)) for one in PACKINGS]
    )


class DayOfYearForm(TermForm):
    day = IntegerField("Day", [InputRequired(_WHOLE.format(example=20))])
    month = SelectField("Month", coerce=int)

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.month.choices = [(number, month_words(number)) for number in range(1, 13)]

    def wanted(self) -> tuple[int, int]:
        return int(self.month.data), int(self.day.data or 0)


_FORMS: dict[Said, type[TermForm]] = {
    Said.YES_NO: YesNoForm,
    Said.WEEKDAYS: WeekdaysForm,
    Said.PACKING: PackingForm,
    Said.DAY_OF_YEAR: DayOfYearForm,
    Said.PLACES: PlacesForm,
    Said.IN_HUNDRED: FigureForm,
    Said.TIMES: FigureForm,
}


def month_words(number: int) -> str:
    """Give "April" for 4."""
    return month(date(2000, number, 1))


def form_sent(term: Term) -> TermForm:
    """Give the form of a term, filled with what was sent."""
    return _asking(term, _FORMS.get(term.how, NumberForm)())


def form_of(line: TermLine) -> TermForm:
    """Give the form of a term, filled with its present value."""
    term = line.term
    data = {**_data(term, line.value), "version": line.version}
    return _asking(term, _FORMS.get(term.how, NumberForm)(None, data=data))


def _asking(term: Term, form: TermForm) -> TermForm:
    if term.how in _ASKED:
        form["value"].label.text = _ASKED[term.how]
    return form


def _data(term: Term, value: Any) -> dict[str, Any]:
    if term.how is Said.DAY_OF_YEAR:
        return {"month": value[0], "day": value[1]}
    if term.how is Said.YES_NO:
        return {"value": "yes" if value else "no"}
    if term.how is Said.WEEKDAYS:
        return {"value": sorted(value)}
    return {"value": round(value) if term.how is Said.DEGREES else value}
