"""What every form of a page does: read from what was sent, its mistakes said in our words."""

from typing import Any

from flask_wtf import FlaskForm
from wtforms import Form

NOT_TAKEN = 422
"""The status of a form that comes back [HTTP status]."""

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
