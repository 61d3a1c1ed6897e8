"""Filters for templates: the words of exchange.words, and what macros ask of a form."""

from collections.abc import Callable
from typing import Any

from flask import Flask
from markupsafe import Markup

from exchange.domain.growing.variety import Variety
from exchange.web.frame import form_filters
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import counted
from exchange.words.posting.posting_days import day_or_week, goes_on
from exchange.words.sharing import spares

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


def number_word(value: int) -> str:
    """Give "two"; figures above ten."""
    return _NUMBERS[value] if 0 <= value < len(_NUMBERS) else str(value)


def capital(text: str) -> str:
    """Give the text with a capital, the rest untouched."""
    return text[:1].upper() + text[1:]


def things_to_put_right(count: int) -> str:
    """Give "Two things to put right"."""
    noun = "thing to put right" if count == 1 else "things to put right"
    return f"{capital(number_word(count))} {noun}"


FILTERS: dict[str, Callable[..., Any]] = {
    "day": dates.day,
    "days": dates.days,
    "day_or_week": day_or_week,
    "goes_on": goes_on,
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
    **form_filters.FILTERS,
}


def register(app: Flask) -> None:
    """Give the templates of an app the filters, and the words of plants and spares."""
    app.jinja_env.filters.update(FILTERS)
    app.context_processor(lambda: {"plants": plants, "said_of": spares})
