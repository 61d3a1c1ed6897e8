"""Spares as pages show them, one by one, as far as the reader may see them."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Unpack

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.edits import version_of
from exchange.actions.people.labels import household_labels
from exchange.actions.sharing.form_choices import Choices, choices_of_household
from exchange.actions.sharing.spares import EDITED
from exchange.domain.circle.border import BorderRow, Passage, passage
from exchange.domain.circle.place import Place
from exchange.domain.growing.names import fold_accents
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject, may
from exchange.domain.sharing.states import UNCONFIRMED
from exchange.records import (
    PLACES,
    SHARE_OUTS,
    SPARES,
    VARIETIES,
    NotHereError,
    Tx,
)
from exchange.records.claims import open_claims
from exchange.records.rows.growing import ClaimRow, SpareRow, SpareWhere
from exchange.records.rows.sharing import ShareOutRow
from exchange.reference.borders import border_rows


@dataclass(frozen=True, slots=True)
class SpareLine:
    """One spare as the list shows it.

    Attributes
    ----------
    holder : first names and county
    left : plants not promised yet [plants]
    claims : open claims on the variety [claims]
    my_claim : the reader's own open claim on the variety, or None
    passed : its last day for sending has passed
    border : the border row between the holder and the reader, where it says anything
    """

    spare: SpareRow
    variety: Variety
    holder: str
    left: int
    claims: int
    mine: bool
    my_claim: ClaimRow | None
    set_aside_for: str
    passed: bool
    border: BorderRow | None

    @property
    def blocked(self) -> bool:
        """Say whether a border lies between the holder and every place of the reader."""
        return self.border is not None and self.border.passage is Passage.BLOCKED


@dataclass(frozen=True, slots=True)
class SparePage:
    """One spare.

    Attributes
    ----------
    mine : whether the reader may change it
    may_release : whether it is held and the reader may let it go
    """

    line: SpareLine
    place: str
    may_release: bool
    share_out: ShareOutRow | None
    today: date


@dataclass(frozen=True, slots=True)
class SpareToChange:
    """One spare and what the form that changes it offers."""

    page: SparePage
    choices: Choices

    @property
    def version(self) -> str:
        return version_of(self.page.line.spare, EDITED)


def spare_page(actor: Actor, spare_id: int, now: datetime) -> SparePage:
    """Show one spare; one withdrawn or set aside for others is shown only to those it concerns."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        return _page(tx, actor, spare_id, now)


def _page(tx: Tx, actor: Actor, spare_id: int, now: datetime) -> SparePage:
    today = today_in(circle_of(actor, tx), now)
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    lines = lines_of(tx, actor, today, id=spare_id)
    if not lines or (spare.withdrawn_at and not (lines[0].mine or actor.organiser)):
        raise NotHereError(f"spare {spare_id} is not shown to this reader")
    return SparePage(
        lines[0],
        PLACES.get(tx, actor.circle_id, spare.place_id).name,
        spare.held and may(actor.person, Permission.RUN_CIRCLE),
        open_share_out(tx, actor.circle_id),
        today,
    )


def spare_to_change(actor: Actor, spare_id: int, now: datetime) -> SpareToChange:
    """Show one spare to whoever may change it, with what its form offers."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        page = _page(tx, actor, spare_id, now)
        actor.must(Permission.KEEP_OWN, Subject(owner=page.line.spare.household_id))
        holder = replace(actor, household_id=page.line.spare.household_id)
        return SpareToChange(page, choices_of_household(tx, holder, now))


def spares_of_variety(
    tx: Tx, actor: Actor, variety_id: int, now: datetime
) -> tuple[SpareLine, ...]:
    """Give what others offer of a variety, for somebody about to claim it."""
    today = today_in(circle_of(actor, tx), now)
    lines = lines_of(tx, actor, today, variety_id=variety_id, withdrawn_at=None)
    return tuple(line for line in lines if not (line.mine or line.passed or line.set_aside_for))


def open_share_out(tx: Tx, circle_id: int) -> ShareOutRow | None:
    """Give the share-out that is open or under review, the first to close."""
    running = SHARE_OUTS.all(tx, circle_id, state=UNCONFIRMED)
    return running[0] if running else None


def lines_of(
    tx: Tx, actor: Actor, today: date, **where: Unpack[SpareWhere]
) -> tuple[SpareLine, ...]:
    """Give the spares the reader may see, by name; those on the list unless told otherwise."""
    circle_id = actor.circle_id
    wanted: SpareWhere = where or {"withdrawn_at": None}
    spares = SPARES.all(tx, circle_id, **wanted)
    varieties = VARIETIES.by_id(tx, circle_id)
    labels = household_labels(tx, circle_id)
    claims = open_claims(tx, circle_id)
    asked = Counter(entry.variety_id for entry in claims)
    own = {one.variety_id: one for one in claims if one.household_id == actor.household_id}
    places = PLACES.by_id(tx, circle_id)
    lines = [
        SpareLine(
            spare,
            varieties[spare.variety_id],
            labels.get(spare.household_id, ""),
            spare.count - spare.allocated,
            asked[spare.variety_id],
            spare.household_id == actor.household_id,
            own.get(spare.variety_id),
            labels.get(spare.set_aside_for, "") if spare.set_aside_for else "",
            spare.send_by < today,
            _border(actor, places, spare),
        )
        for spare in spares
        if _may_see(actor, spare)
    ]
    lines.sort(key=lambda one: (fold_accents(one.variety.name), one.spare.id))
    return tuple(lines)


def _border(actor: Actor, places: Mapping[int, Place], spare: SpareRow) -> BorderRow | None:
    """Give what a border says between a spare and the reader's best-placed place."""
    if spare.household_id == actor.household_id:
        return None
    own = [place for place in places.values() if place.household_id == actor.household_id]
    rows = [passage(places[spare.place_id], place, border_rows()) for place in own]
    if not rows or any(row.passage is Passage.ALLOWED for row in rows):
        return None
    return min(rows, key=lambda row: row.passage is Passage.BLOCKED)


def _may_see(actor: Actor, spare: SpareRow) -> bool:
    """Show a spare set aside to the two households it concerns and the organiser only."""
    if spare.set_aside_for is None or actor.organiser or actor.clock:
        return True
    return actor.household_id in {spare.household_id, spare.set_aside_for}
