"""What the macros of forms.html ask of a form: its kinds of field, its mistakes, its attributes."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from wtforms import (
    BooleanField,
    Field,
    FieldList,
    Form,
    FormField,
    HiddenField,
    IntegerField,
    RadioField,
    SelectMultipleField,
)
from wtforms.widgets import Select

# What the sign-in library says of its own accord, in words that say what to write.
_IN_OUR_WORDS = {
    "Not a valid choice": "Choose one of these.",
    "Invalid email address": "Write an e-mail address, such as maud@example.org.",
    "Email not provided": "Write your e-mail address.",
    "Password not provided": "Write your password.",
    "Invalid password": "That is not your password.",
    "Passwords do not match": "The two are not the same. Write the new password twice.",
    "Authentication failed - identity or password/passcode invalid": "That address and that password do not go together.",
}


@dataclass(frozen=True, slots=True)
class Mistake:
    """A line of the list above a form; no anchor when it belongs to no one field."""

    number: int
    anchor: str
    sentence: str


def first_error(field: Field) -> str:
    """Give the first thing wrong with a field, however deep it lies."""
    return _in_our_words(_first(field.errors))


def _in_our_words(sentence: str) -> str:
    return _IN_OUR_WORDS.get(sentence, sentence)


def _first(errors: Any) -> str:
    if isinstance(errors, str) or not isinstance(errors, Iterable):
        return str(errors)
    inner = errors.values() if isinstance(errors, Mapping) else errors
    return next((_first(error) for error in inner if error), "")


def mistakes(form: Form) -> list[Mistake]:
    """Number the mistakes of a form in the order of its fields; each field keeps its number."""
    found: list[Mistake] = []
    for sentence in dict.fromkeys(_in_our_words(str(error)) for error in form.form_errors):
        found.append(Mistake(len(found) + 1, "", sentence))
    for field in _fields(form):
        if field.errors:
            field.mistake_number = len(found) + 1
            found.append(Mistake(len(found) + 1, _anchor(field), first_error(field)))
    return found


def _fields(fields: Iterable[Field]) -> Iterable[Field]:
    for field in fields:
        if isinstance(field, FormField | FieldList) and any(inner.errors for inner in field):
            yield from _fields(field)
        else:
            yield field


def _anchor(field: Field) -> str:
    """A group of choices has no element of its own name; the link goes to its first choice."""
    if kind_of_field(field) == "choices":
        return next((str(option.id) for option in field), "")
    return "" if isinstance(field, HiddenField) else str(field.id)


def kind_of_field(field: Field) -> str:
    """Give "hidden", "choices", "tick" or "input", by which the macro draws the field."""
    if isinstance(field, HiddenField):
        return "hidden"
    if isinstance(field, BooleanField):
        return "tick"
    if isinstance(field, RadioField):
        return "choices"
    if isinstance(field, SelectMultipleField) and not isinstance(field.widget, Select):
        return "choices"
    return "input"


def said(field: Field, hint: str | None) -> dict[str, str | bool]:
    """Give the attributes that tie an input to its hint and error.

    Whole numbers are typed as text with the number keys shown: what was typed wrongly comes
    back to be put right, where a number input would show nothing.
    """
    told = [f"{field.id}-hint"] if hint else []
    if field.errors:
        told.append(f"{field.id}-error")
    attributes: dict[str, str | bool] = {"aria-describedby": " ".join(told)} if told else {}
    if field.errors:
        attributes["aria-invalid"] = "true"
    if isinstance(field, IntegerField):
        attributes |= {"type": "text", "inputmode": "numeric", "min": False, "max": False}
    return attributes


def is_optional(field: Field) -> bool:
    """Say whether a field says of itself that it may stay empty."""
    return bool(getattr(field.flags, "optional", False))


FILTERS: dict[str, Callable[..., Any]] = {
    "first_error": first_error,
    "mistakes": mistakes,
    "kind_of_field": kind_of_field,
    "said": said,
    "is_optional": is_optional,
}
