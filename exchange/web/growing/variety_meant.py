"""Finding the variety a typed name means; a name in doubt is asked about beside the field."""

from collections.abc import Sequence

from wtforms import Form

from exchange.actions.growing.varieties import find_name
from exchange.actions.growing.variety_meant import TypedName
from exchange.domain.growing.names import tidied
from exchange.domain.growing.variety import Species, Variety
from exchange.web.growing.plant_choices import NEW
from exchange.words.growing import plants


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
