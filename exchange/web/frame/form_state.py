"""What every form of a page does and the fields forms share; its mistakes are said in our words."""

from typing import Any

from flask_wtf import FlaskForm
from wtforms import DecimalField, Form
from wtforms.widgets import TextInput

NOT_TAKEN = 422
"""The status of a form that comes back [HTTP status]."""

LARGEST_ID = 2**31 - 1
"""The largest number a row of the records can have on either database."""

_IN_OUR_WORDS = {
    "This field is required.": "This is still empty. Please fill it in.",
    "Not a valid integer value.": "Write a whole number, such as 4.",
    "Not a valid decimal value.": "Write a number, such as 4.5.",
    "Not a valid float value.": "Write a number, such as 4.5.",
    "Not a valid date value.": "Write a day that is in the calendar.",
    "Not a valid time value.": "Write a time, such as 16:30.",
    "Not a valid choice.": "Choose one of these.",
    "Invalid Choice: could not coerce.": "Choose one of these.",
    "Invalid email address.": "Write an e-mail address, such as maud@example.org.",
}
"""What the forms library says of its own accord, in words that say what to write."""


class _OurWords:
    """Answers the library where it asks for a translation of a sentence."""

    def gettext(self, sentence: str) -> str:
        return _IN_OUR_WORDS.get(sentence, sentence)

    def ngettext(self, one: str, many: str, number: int) -> str:
        return self.gettext(one if number == 1 else many)


class PageForm(FlaskForm):
    """A form of a page: on a post it is filled with what was sent, else with its first answers."""

    class Meta(FlaskForm.Meta):
        csrf = False  # the app checks every post before a page sees it

        def get_translations(self, _form: Form) -> Any:
            return _OurWords()


def status(form: Form) -> int:
    """Give the status a page with this form is shown with."""
    return NOT_TAKEN if form.errors else 200


def an_id(chosen: object) -> int:
    """Give the number of a row that was chosen; the act says whether it may be.

    Raises
    ------
    ValueError
        When it is no number of a row, for the field to refuse.
    """
    number = int(str(chosen))
    if not 0 <= number <= LARGEST_ID:
        raise ValueError
    return number


def an_id_or_nobody(chosen: object) -> str:
    """Give the same as text, where nothing may be chosen as well."""
    return str(an_id(chosen)) if chosen else ""


class NumberField(DecimalField):
    """A number that may have decimals, with a point or a comma, typed as text with number keys.

    What was typed wrongly comes back to be put right, where a number input would show nothing.
    """

    widget = TextInput()

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, places=None, render_kw={"inputmode": "decimal"}, **kwargs)

    def process_formdata(self, valuelist: list[str]) -> None:
        super().process_formdata([text.strip().replace(",", ".") for text in valuelist])

    def _value(self) -> str:
        typed = self.raw_data[0] if self.raw_data else None
        return self.plainly() if typed is None else str(typed)

    def plainly(self) -> str:
        """Give the number without needless decimals; nothing while there is none."""
        return "" if self.data is None else f"{float(self.data):.3f}".rstrip("0").rstrip(".")
