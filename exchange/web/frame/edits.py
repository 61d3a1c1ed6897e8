"""Editing forms: they carry the version they were opened with, and show both texts of two edits."""

from collections.abc import Callable
from datetime import date

from wtforms import BooleanField, Field, HiddenField, SelectField, SelectMultipleField

from exchange.actions.kernel.edits import EditedMeanwhileError
from exchange.web.frame.form_state import NumberField, PageForm
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed


class EditingForm(PageForm):
    """A form on something that is there already.

    Attributes
    ----------
    edited_meanwhile : set when somebody else was first; the form then has to show both texts
    """

    version = HiddenField()
    edited_meanwhile: EditedMeanwhileError | None = None


def both_shown(form: EditingForm, standing: Callable[[], EditingForm]) -> None:
    """Where somebody else was first, say beside each field what stands; what was typed stays.

    The form then carries the version that stands, so that pressing again keeps what was typed.

    Parameters
    ----------
    standing : gives the form as a first visit would show it now; called only where it is needed
    """
    if form.edited_meanwhile is None:
        return
    now = standing()
    for field in form:
        if field.name == "version":
            continue
        stands = in_words(now[field.name])
        if stands != in_words(field):
            field.errors = [*field.errors, f"This was changed meanwhile and is now: {stands}."]
    form.version.data = form.edited_meanwhile.version


def in_words(field: Field) -> str:
    """Give what a field says, as one would read it out."""
    if isinstance(field, BooleanField):
        return "ticked" if field.data else "not ticked"
    if isinstance(field, SelectField | SelectMultipleField):
        chosen = [str(option.label.text) for option in field if option.checked]
        return listed(chosen) or "none"
    if isinstance(field, NumberField):
        return f"“{field.plainly()}”" if field.plainly() else "empty"
    if isinstance(field.data, date):
        return dates.day(field.data)
    return f"“{field.data}”" if field.data not in (None, "") else "empty"
