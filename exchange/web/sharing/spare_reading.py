"""From forms of spares to what actions take, and back."""

from datetime import date
from typing import Any

from wtforms import Form

from exchange.actions.sharing.form_choices import Choices
from exchange.actions.sharing.page_spare import SpareLine, SpareToChange
from exchange.actions.sharing.spares import NewSpare
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.web.growing.variety_meant import typed_name
from exchange.web.sharing.spare_forms import SpareForm
from exchange.words.sharing.spares import Offer, reads


def health_of(form: Form, today: date) -> tuple[str, date | None]:
    """Give by whom and when no symptoms were seen; the tick alone means today."""
    by, on = (form.health_by.data or "").strip(), form.health_on.data
    if not form.looked_over.data:
        return "", None
    return by, on or today


def new_spare(form: SpareForm, today: date) -> NewSpare:
    """Give the spare a form speaks of."""
    by, on = health_of(form, today)
    return NewSpare(
        variety=typed_name(form),
        material=Material(form.material.data),
        raised=Raised(form.raised.data),
        count=int(form.count.data or 0),
        ready_from=form.ready_from.data,
        send_by=form.send_by.data,
        place_id=form.place.data or None,
        set_aside_for=int(form.set_aside_for.data) if form.set_aside_for.data else None,
        roots_seen=bool(form.roots_seen.data),
        health_by=by,
        health_on=on,
        note=form.note.data or "",
        may_go=bool(form.may_go.data),
    )


def offer_choices(form: SpareForm, offered: Choices) -> None:
    """Give a form the places and households of this reader."""
    form.place.choices = list(offered.places) or [(0, "")]
    form.set_aside_for.choices = [("", "Nobody in particular")] + [
        (str(key), label) for key, label in offered.households
    ]


def offer_to_change(form: SpareForm, there: SpareToChange) -> None:
    """Do the same for a spare that is there; it stays where it stands."""
    offer_choices(form, there.choices)
    form.place.choices = [(there.page.line.spare.place_id, there.page.place)]


def how_it_reads(form: SpareForm, today: date) -> tuple[str, ...]:
    """Give how the spare will read as far as the form is filled in."""
    dates = (form.ready_from.data, form.send_by.data)
    if None in dates or not form.count.data or form.errors:
        return ()
    by, on = health_of(form, today)
    return reads(
        Offer(
            Species(form.kind.data),
            form.name.data or "",
            Material(form.material.data),
            Raised(form.raised.data),
            form.count.data,
            form.ready_from.data,
            form.send_by.data,
            today,
            bool(form.roots_seen.data),
            by,
            on,
        )
    )


def of_spare(line: SpareLine) -> dict[str, Any]:
    """Give the form's answers for a spare that is there."""
    spare = line.spare
    return {
        "name": line.variety.name,
        "kind": line.variety.species.value,
        "count": spare.count,
        "material": spare.material.value,
        "raised": spare.raised.value,
        "ready_from": spare.ready_from,
        "send_by": spare.send_by,
        "roots_seen": spare.roots_seen,
        "looked_over": bool(spare.health_by or spare.health_on),
        "health_by": spare.health_by,
        "health_on": spare.health_on,
        "place": spare.place_id,
        "set_aside_for": str(spare.set_aside_for or ""),
        "note": spare.note,
    }
