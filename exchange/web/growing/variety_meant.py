"""Finding the variety a typed name means; a name in doubt is asked about beside the field."""

from collections.abc import Sequence
from dataclasses import dataclass

from wtforms import Form

from exchange.actions.growing.varieties import find_name, look_up, name_variety
from exchange.actions.growing.variety_meant import TypedName
from exchange.domain.growing.names import tidied
from exchange.domain.growing.variety import Species, Variety
from exchange.web.frame.session import actor, now
from exchange.web.growing.plant_choices import NEW
from exchange.words.growing import plants


@dataclass(frozen=True, slots=True)
class Named:
    """What a form's name means.

    Attributes
    ----------
    variety_id : the variety, None while it is asked about
    asked : whether the form now asks which is meant
    """

    variety_id: int | None
    asked: bool


def named(form: Form) -> Named:
    """Find the variety, or let the form ask; a new name is kept once it is said to be new."""
    species = Species(form.kind.data)
    found = look_up(actor(), form.name.data, species)
    if found.variety is not None:
        return Named(found.variety.id, asked=False)
    candidates = found.others + found.near
    offer(form, candidates, species)
    chosen = form.meant.data
    if chosen in {str(one.id) for one in candidates}:
        return Named(int(chosen), asked=False)
    if not candidates or chosen == NEW:
        return Named(name_variety(actor(), form.name.data, species, now()).id, asked=False)
    form.meant.errors = ["The circle has names like this one. Say which is meant."]
    return Named(None, asked=True)


def typed_name(form: Form) -> TypedName:
    """Give the name a form speaks of, and which plant was said to be meant."""
    chosen = str(form.meant.data or "")
    return TypedName(
        form.name.data or "",
        Species(form.kind.data),
        int(chosen) if chosen.isdecimal() else None,
        new=chosen == NEW,
    )


def offer_meant(form: Form, known: Sequence[Variety]) -> None:
    """Give a form that comes back the varieties its name may mean, where it is in doubt."""
    species = Species(form.kind.data)
    found = find_name(known, form.name.data, species)
    if found.variety is None:
        offer(form, found.others + found.near, species)


def offer(form: Form, candidates: tuple[Variety, ...], species: Species) -> None:
    """Give the form the varieties to choose from, and the name as a new one."""
    new = plants.variety(species, tidied(form.name.data or ""))
    form.meant.choices = [
        (str(one.id), plants.variety(one.species, one.name)) for one in candidates
    ] + [(NEW, f"A new one: {new}")]
