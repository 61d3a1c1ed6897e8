"""Forms of a parcel: the day it went, how it came."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

from wtforms import DateField, IntegerField, RadioField, SelectField
from wtforms.validators import InputRequired, NumberRange, Optional

from exchange.actions.posting.in_parcel import InParcel
from exchange.domain.arriving.arrival import Condition
from exchange.web.frame.edits import EditingForm
from exchange.web.frame.form_state import PageForm
from exchange.words.growing import plants
from exchange.words.posting.parcels import condition

_ALIVE, _GOOD = "alive-", "good-"
_DAY = [InputRequired("Write the day, such as 2027-04-19.")]


class WayChoice(Protocol):
    """A way as it is offered."""

    @property
    def id(self) -> int: ...
    @property
    def name(self) -> str: ...


class PostedForm(EditingForm):
    """On which day a parcel was posted."""

    day = DateField("Posted on", _DAY)


class ChosenWayForm(EditingForm):
    """The way a parcel is to go; empty leaves it open."""

    way_id = SelectField("It goes", choices=[], validate_choice=False)

    def chosen(self) -> int | None:
        typed = self.way_id.data or ""
        return int(typed) if typed.isdecimal() else None

    def offer(self, ways: Iterable[WayChoice]) -> None:
        """Show the ways it could go."""
        named = [(str(one.id), one.name) for one in ways]
        self.way_id.choices = [("", "by whichever way is best"), *named]


class MoveForm(EditingForm):
    """To which day a parcel is moved."""

    day = DateField("Post it on", _DAY)


class ArrivalForm(PageForm):
    """When a parcel came, and how."""

    day = DateField("Came on", _DAY)
    condition = RadioField(
        "How they look",
        choices=[(one.value, condition(one)) for one in Condition],
        default=Condition.WELL.value,
    )


class ReturnedForm(PageForm):
    """When a parcel came back, and what is still good."""

    day = DateField("Came back on", _DAY)


def came_form(contents: Sequence[InParcel]) -> type[ArrivalForm]:
    """Give the form with a count for each kind of plant in the parcel."""
    return type("CameWithCounts", (ArrivalForm,), _counts(contents, _ALIVE, "Alive of {}"))


def returned_form(contents: Sequence[InParcel]) -> type[ReturnedForm]:
    """Give the form with a count for each kind of plant that came back."""
    return type("BackWithCounts", (ReturnedForm,), _counts(contents, _GOOD, "Still good of {}"))


def _counts(contents: Sequence[InParcel], prefix: str, label: str) -> dict[str, IntegerField]:
    fields = {}
    for one in contents:
        line, name = one.line, one.variety.name
        most = f"Write a number from 0 to {line.count}; so many were sent."
        fields[f"{prefix}{line.allocation_id}"] = IntegerField(
            label.format(plants.some(line.count, line.material, line.species, name)),
            [Optional(), NumberRange(0, line.count, most)],
        )
    return fields


def came_as_sent(sent: Iterable[str]) -> type[ArrivalForm]:
    """Give the form with the counts that were sent; the act knows how many can live."""
    return type("CameAsSent", (ArrivalForm,), _as_sent(sent, _ALIVE))


def returned_as_sent(sent: Iterable[str]) -> type[ReturnedForm]:
    """Give the same of what came back."""
    return type("BackAsSent", (ReturnedForm,), _as_sent(sent, _GOOD))


def _as_sent(sent: Iterable[str], prefix: str) -> dict[str, IntegerField]:
    named = [name for name in sent if name.startswith(prefix)]
    return {
        name: IntegerField("", [Optional()])
        for name in named
        if name.removeprefix(prefix).isdecimal()
    }


def alive_said(form: ArrivalForm) -> Mapping[int, int]:
    """Give the counts that were written [allocation id -> plants]."""
    return _said(form, _ALIVE)


def good_said(form: ReturnedForm) -> Mapping[int, int]:
    """Give the counts that were written of what came back [allocation id -> plants]."""
    return _said(form, _GOOD)


def _said(form: PageForm, prefix: str) -> Mapping[int, int]:
    return {
        int(field.name.removeprefix(prefix)): field.data
        for field in form
        if field.name.startswith(prefix) and field.data is not None
    }
