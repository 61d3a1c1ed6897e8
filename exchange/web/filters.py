"""Filters for templates: the words of exchange.words, and what macros ask of a form."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from flask import Flask
from markupsafe import Markup
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

from exchange.domain.growing.variety import Variety
from exchange.words import dates, plants
from exchange.words.phrase import NBSP, _, counted

_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
)  # fmt: skip

_UNBROKEN_LETTERS = 20


def plant(name: str, genus: str = "") -> Markup:
    """Give the name as on a pot label: italic genus, epithet in quotes.

    A short epithet is not broken over two lines; a long one has to be, on a telephone.
    """
    is_long = len(name) > _UNBROKEN_LETTERS
    epithet = (Markup('<b class="long">‘{}’</b>') if is_long else Markup("<b>‘{}’</b>")).format(
        name
    )
    inside = Markup("<i>{}</i> {}").format(genus, epithet) if genus else epithet
    return Markup('<span class="plant">{}</span>').format(inside)


def variety(value: Variety) -> Markup:
    """Give the name of a variety as on a pot label."""
    return plant(value.name, plants.species(value.species))


def code(text: str) -> Markup:
    """Give a parcel's code, to stand inside a sentence."""
    return Markup('<span class="code">{}</span>').format(text)


def in_hundred(chance: float) -> str:
    """Give "2 in 100"; what is under half of one is "under 1 in 100", never nothing."""
    lost = round(chance * 100)
    if lost == 0 and chance > 0:
        return _("under 1 in 100").replace(" ", NBSP)
    return f"{lost}{NBSP}{_('in')}{NBSP}100"


def number_word(value: int) -> str:
    """Give "two"; figures above ten."""
    return _(_NUMBERS[value]) if 0 <= value < len(_NUMBERS) else str(value)


def capital(text: str) -> str:
    """Give the text with a capital, the rest untouched."""
    return text[:1].upper() + text[1:]


def things_to_put_right(count: int) -> str:
    """Give "Two things to put right"."""
    noun = _("thing to put right") if count == 1 else _("things to put right")
    return f"{capital(number_word(count))} {noun}"


@dataclass(frozen=True, slots=True)
class Mistake:
    """A line of the list above a form; no anchor when it belongs to no one field."""

    number: int
    anchor: str
    sentence: str


def first_error(field: Field) -> str:
    """Give the first thing wrong with a field, however deep it lies."""
    return _first(field.errors)


def _first(errors: Any) -> str:
    if isinstance(errors, str) or not isinstance(errors, Iterable):
        return str(errors)
    inner = errors.values() if isinstance(errors, Mapping) else errors
    return next((_first(error) for error in inner if error), "")


def mistakes(form: Form) -> list[Mistake]:
    """Number the mistakes of a form in the order of its fields; each field keeps its number."""
    found: list[Mistake] = []
    for sentence in getattr(form, "form_errors", ()):
        found.append(Mistake(len(found) + 1, "", str(sentence)))
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
    """A group of choices has no element of its own name; its first choice is gone to."""
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
    "day": dates.day,
    "days": dates.days,
    "weekday": dates.weekday,
    "month": dates.month,
    "day_and_year": dates.day_and_year,
    "hour": dates.hour,
    "moment": dates.moment,
    "degrees": dates.degrees,
    "counted": counted,
    "in_hundred": in_hundred,
    "number_word": number_word,
    "capital": capital,
    "plant": plant,
    "variety": variety,
    "code": code,
    "things_to_put_right": things_to_put_right,
    "first_error": first_error,
    "mistakes": mistakes,
    "kind_of_field": kind_of_field,
    "said": said,
    "is_optional": is_optional,
}


def register(app: Flask) -> None:
    """Give the templates of an app the filters."""
    app.jinja_env.filters.update(FILTERS)
