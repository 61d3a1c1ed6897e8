"""Listing spares: one by one, changed, looked over, withdrawn."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from exchange.actions.actor import Actor, circle_of, note, today_in
from exchange.actions.batches import NewBatch, add_batch, first_place, own_place
from exchange.actions.passage import between
from exchange.actions.refused import RefusedError
from exchange.actions.set_aside import set_aside
from exchange.domain.circle.border import Passage
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.listing import MOST_PLANTS_A_LINE
from exchange.records import BATCHES, HOUSEHOLDS, PLACES, SPARES, VARIETIES, Tx
from exchange.records.values import SpareEntry
from exchange.words.phrase import _

USUAL_WINDOW = timedelta(days=42)


class WindowRefusedError(RefusedError):
    """The days in which the spare may be posted make no sense."""


class CountRefusedError(RefusedError):
    """The number of plants cannot be right."""


class BorderBlockedError(RefusedError):
    """A border lies between the sender and the member it is set aside for."""


class AlreadyGivenError(RefusedError):
    """Plants of the spare are promised already."""


@dataclass(frozen=True, slots=True)
class NewSpare:
    """A spare somebody lists.

    Attributes
    ----------
    count : plants [plants]
    place_id : None for the household's first place
    """

    variety_id: int
    material: Material
    raised: Raised
    count: int
    ready_from: date
    send_by: date
    place_id: int | None = None
    set_aside_for: int | None = None
    roots_seen: bool = False
    health_by: str = ""
    health_on: date | None = None
    note: str = ""


def list_spare(actor: Actor, new: NewSpare, now: datetime) -> int:
    """List a spare; the batch it comes from is made silently."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.writing() as tx:
        spare_id = add_spare(tx, actor, new, now)
        variety = VARIETIES.get(tx, actor.circle_id, new.variety_id)
        note(tx, actor, "listed a spare", f"{new.count} {variety.name}", now)
    return spare_id


def add_spare(tx: Tx, actor: Actor, new: NewSpare, now: datetime) -> int:
    """Keep a spare in an open transaction."""
    _check(new, today_in(circle_of(actor, tx), now))
    variety = VARIETIES.get(tx, actor.circle_id, new.variety_id)
    place_id = own_place(tx, actor, new.place_id) if new.place_id else first_place(tx, actor)
    spare_id = SPARES.add(
        tx,
        actor.circle_id,
        household_id=actor.own_household(),
        place_id=place_id,
        variety_id=variety.id,
        batch_id=_batch(tx, actor, new, place_id, now),
        material=new.material,
        raised=new.raised,
        count=new.count,
        ready_from=new.ready_from,
        send_by=new.send_by,
        roots_seen=new.roots_seen,
        health_by=new.health_by.strip(),
        health_on=new.health_on,
        note=new.note.strip()[:500],
        held=variety.protected,
        listed_at=now,
        entered_by=actor.member_id,
    )
    if new.set_aside_for is not None:
        _set_aside(tx, actor, spare_id, new.set_aside_for, now)
    return spare_id


def change_spare(actor: Actor, spare_id: int, new: NewSpare, now: datetime) -> None:
    """Change what a spare says; never to fewer plants than are promised."""
    with actor.books.writing() as tx:
        spare = _own(tx, actor, spare_id)
        _check(new, min(spare.ready_from, today_in(circle_of(actor, tx), now)))
        if new.count < spare.allocated:
            raise AlreadyGivenError(
                _(
                    "{given} of these are promised already; fewer than that cannot be listed."
                ).format(given=spare.allocated),
                "count",
            )
        if spare.allocated and (new.material, new.variety_id) != (spare.material, spare.variety_id):
            raise AlreadyGivenError(
                _("Some of these are promised; what they are sent as cannot change now."),
                "material",
            )
        SPARES.change(
            tx,
            actor.circle_id,
            spare_id,
            variety_id=new.variety_id,
            material=new.material,
            raised=new.raised,
            count=new.count,
            ready_from=new.ready_from,
            send_by=new.send_by,
            roots_seen=new.roots_seen,
            health_by=new.health_by.strip(),
            health_on=new.health_on,
            note=new.note.strip()[:500],
        )
        note(tx, actor, "changed a spare", f"spare {spare_id}", now)


def withdraw_spare(actor: Actor, spare_id: int, now: datetime) -> None:
    """Take a spare off the list; what is promised must be answered first."""
    with actor.books.writing() as tx:
        spare = _own(tx, actor, spare_id)
        if spare.allocated:
            raise AlreadyGivenError(
                _("{given} of these are promised. Say no to those plants first.").format(
                    given=spare.allocated
                )
            )
        SPARES.change(tx, actor.circle_id, spare_id, withdrawn_at=now)
        note(tx, actor, "withdrew a spare", f"spare {spare_id}", now)


def put_back(actor: Actor, spare_id: int, now: datetime) -> None:
    """Undo a withdrawal."""
    with actor.books.writing() as tx:
        _own(tx, actor, spare_id)
        SPARES.change(tx, actor.circle_id, spare_id, withdrawn_at=None)
        note(tx, actor, "listed a spare again", f"spare {spare_id}", now)


def release_held(actor: Actor, spare_id: int, now: datetime) -> None:
    """Let a held spare go, after the organiser has asked the authority."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        SPARES.change(tx, actor.circle_id, spare_id, held=False)
        note(tx, actor, "let a held spare go", f"spare {spare_id}", now)


def _own(tx: Tx, actor: Actor, spare_id: int) -> SpareEntry:
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=spare.household_id))
    return spare


def _check(new: NewSpare, today: date) -> None:
    if not 1 <= new.count <= MOST_PLANTS_A_LINE:
        raise CountRefusedError(
            _("Write how many plants, from 1 to {most}.").format(most=MOST_PLANTS_A_LINE), "count"
        )
    if new.send_by < new.ready_from:
        raise WindowRefusedError(
            _("The last day for sending is before the first; give a later one."), "send_by"
        )
    if new.send_by < today:
        raise WindowRefusedError(_("The last day for sending has passed."), "send_by")


def _batch(tx: Tx, actor: Actor, new: NewSpare, place_id: int, now: datetime) -> int:
    """Find the batch the spare comes from, the most alike first, or make it silently.

    Unrooted cuttings stand for one plant they are cut from; anything else for itself.
    """
    kept = BATCHES.all(tx, actor.circle_id, variety_id=new.variety_id, place_id=place_id)
    if kept:
        wanted = (new.material, new.raised)
        alike = [batch for batch in kept if (batch.material, batch.raised) == wanted]
        return (alike or list(kept))[0].id
    if new.material is Material.UNROOTED:
        parent = NewBatch(new.variety_id, 1, place_id, Material.YOUNG_PLANT, new.raised)
        return add_batch(tx, actor, parent, now)
    batch = NewBatch(new.variety_id, new.count, place_id, new.material, new.raised)
    return add_batch(tx, actor, batch, now)


def _set_aside(tx: Tx, actor: Actor, spare_id: int, household_id: int, now: datetime) -> None:
    household = HOUSEHOLDS.get(tx, actor.circle_id, household_id)
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    places = PLACES.all(tx, actor.circle_id, household_id=household.id)
    row = between(tx, actor, spare.place_id, places[0].id) if places else None
    if row is not None and row.passage is Passage.BLOCKED:
        raise BorderBlockedError(
            _("{caution} Ask {authority}.").format(caution=row.caution, authority=row.authority),
            "set_aside_for",
        )
    if not places:
        raise BorderBlockedError(
            _("That household has not yet said where it grows."), "set_aside_for"
        )
    set_aside(tx, actor.circle_id, spare, places[0], now)
