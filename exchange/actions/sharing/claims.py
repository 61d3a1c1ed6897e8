"""Claims: what a household would like."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from exchange.actions.growing.batches import first_place, own_place
from exchange.actions.kernel.actor import Actor, circle_of, note, today_in
from exchange.actions.kernel.edits import must_be_as_opened, version_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.claim_obstacles import cannot_be_met_now
from exchange.actions.sharing.rest_of_claim import end_rest
from exchange.domain.growing.batch import Material
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, CLAIMS, SPARES, VARIETIES, Tx
from exchange.records.claims import lacking_claims
from exchange.records.rows.growing import ClaimRow
from exchange.records.varieties import ends_of_varieties, taken_up, variety_meant_by

MOST_ASKED = 100
MOST_ALTERNATIVES = 40
ASKED_AGAIN_AFTER = timedelta(days=270)
"""After so long an unmet claim is of an earlier season, and is asked about (judgement) [d]."""
EDITED = ("place_id", "asked", "choice", "materials", "no_use_after", "alternatives")
"""What the form of a claim edits: the columns its version is made of."""
NO_CLAIM = "none"
"""The version of a form that was opened before there was a claim."""


class ClaimCountRefusedError(RefusedError):
    """The number of plants cannot be right."""


class NothingTakenError(RefusedError):
    """No material was ticked."""


class DayPassedError(RefusedError):
    """The last useful day has passed."""


class AlternativesRefusedError(RefusedError):
    """What would do instead cannot be kept."""


class ClaimMetError(RefusedError):
    """The claim has been given plants; it can be declined, not changed."""


_MET = "This claim has been given plants. Decline them if you cannot take them."


@dataclass(frozen=True, slots=True)
class NewClaim:
    """What somebody would like; all but the variety may be left as it is.

    Attributes
    ----------
    asked : plants [plants]
    place_id : None for the household's first place
    """

    variety_id: int
    asked: int = 1
    choice: int = 1
    materials: frozenset[Material] = USUAL_MATERIALS
    no_use_after: date | None = None
    alternatives: tuple[int, ...] = ()
    place_id: int | None = None


@dataclass(frozen=True, slots=True)
class AskedForOne:
    """What one press asked for.

    Attributes
    ----------
    can_be_met : False where it is offered, and nothing offered can go to the claim as it stands
    """

    claim_id: int
    can_be_met: bool


def claim(actor: Actor, new: NewClaim, now: datetime, *, opened: str | None = None) -> int:
    """Claim a variety; pressed a second time, it changes the existing claim."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.writing() as tx:
        new = replace(new, variety_id=variety_meant_by(tx, actor.circle_id, new.variety_id).id)
        there = open_claim(tx, actor.circle_id, actor.own_household(), new.variety_id)
        must_be_as_opened(opened, claim_version(there))
        return _record_claim(tx, actor, there, new, now)


def would_like_one(
    actor: Actor, variety_id: int, now: datetime, spare_id: int | None = None
) -> AskedForOne:
    """Claim one plant in one press; an open claim stays as it is.

    Parameters
    ----------
    spare_id : the spare beside which it was pressed; what that is sent as is taken too
    """
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.writing() as tx:
        variety_id = variety_meant_by(tx, actor.circle_id, variety_id).id
        there = open_claim(tx, actor.circle_id, actor.own_household(), variety_id)
        takes = USUAL_MATERIALS if there is None else there.materials
        if spare_id is not None:
            takes |= {_sent_as(tx, actor, spare_id, variety_id)} - {Material.SEED}
        if there is None:
            new = NewClaim(variety_id, materials=takes)
            claim_id = _record_claim(tx, actor, None, new, now)
        else:
            claim_id = there.id
            _record_materials(tx, actor, there, takes, now)
        made = CLAIMS.get(tx, actor.circle_id, claim_id)
        stuck = cannot_be_met_now(tx, actor.circle_id, [made], now)
        return AskedForOne(claim_id, claim_id not in stuck)


def _record_materials(
    tx: Tx, actor: Actor, there: ClaimRow, takes: frozenset[Material], now: datetime
) -> None:
    """Keep the materials an open claim takes."""
    if takes != there.materials:
        CLAIMS.change(tx, actor.circle_id, there.id, materials=takes)
        note(tx, actor, "takes it as another material too", f"claim {there.id}", now)


def _sent_as(tx: Tx, actor: Actor, spare_id: int, variety_id: int) -> Material:
    """Give what a spare is sent as; the usual where it is of another variety."""
    spare = SPARES.get(tx, actor.circle_id, spare_id)
    return spare.material if spare.variety_id == variety_id else Material.ROOTED


def ask_for(
    tx: Tx, actor: Actor, variety_id: int, asked: int, choice: int, now: datetime
) -> tuple[int, bool]:
    """Claim so many plants of a variety, within an act; an open claim on it stays as it is.

    Parameters
    ----------
    asked : plants [plants]
    choice : 1, 2 or 3

    Returns
    -------
    the claim, and whether it is new
    """
    there = open_claim(tx, actor.circle_id, actor.own_household(), variety_id)
    if there is not None:
        return there.id, False
    return _record_claim(tx, actor, None, NewClaim(variety_id, asked, choice), now), True


def claim_version(there: ClaimRow | None) -> str:
    """Give the version of a household's open claim on a variety, or say that there is none."""
    return NO_CLAIM if there is None else version_of(there, EDITED)


def _record_claim(
    tx: Tx, actor: Actor, there: ClaimRow | None, new: NewClaim, now: datetime
) -> int:
    """Change the existing claim, or keep a new one."""
    check_claim(new, today_in(circle_of(actor, tx), now))
    variety = taken_up(tx, actor.circle_id, new.variety_id)
    new = replace(new, variety_id=variety.id)
    new = replace(new, alternatives=_alternatives(tx, actor, new))
    if there is None:
        claim_id = _add(tx, actor, new, now)
    else:
        claim_id = there.id
        _change(tx, actor, there, new, now)
    note(tx, actor, "claimed", variety.name, now)
    return claim_id


def say_still_wanted(actor: Actor, claim_id: int, now: datetime) -> None:
    """Say that an old claim still stands; it is not asked about again for a season."""
    with actor.books.writing() as tx:
        entry = CLAIMS.get(tx, actor.circle_id, claim_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=entry.household_id))
        record_still_wanted(tx, actor, entry, now)


def record_still_wanted(tx: Tx, actor: Actor, entry: ClaimRow, now: datetime) -> None:
    """Let an old claim stand, and revive it if it has lapsed."""
    CLAIMS.change(tx, actor.circle_id, entry.id, wanted_at=now)
    if entry.lapsed_at is not None:
        CLAIMS.change(tx, actor.circle_id, entry.id, withdrawn_at=None, lapsed_at=None)
    note(tx, actor, "still wants a claim", f"claim {entry.id}", now)


def is_old(entry: ClaimRow, now: datetime) -> bool:
    """Say whether a claim was made, or last said to stand, in a season before this."""
    return (entry.wanted_at or entry.made_at) < now - ASKED_AGAIN_AFTER


def withdraw_claim(actor: Actor, claim_id: int, now: datetime) -> int:
    """Take a claim back, or what it still lacks where some was given; give the claim that ended."""
    with actor.books.writing() as tx:
        entry = CLAIMS.get(tx, actor.circle_id, claim_id)
        actor.must(Permission.KEEP_OWN, Subject(owner=entry.household_id))
        lacks = lacking_claims(tx, actor.circle_id)
        if entry not in lacks and _given(tx, actor.circle_id, claim_id):
            raise ClaimMetError(_MET)
        ended = end_rest(tx, actor, entry, lacks.get(entry, entry.asked), withdrawn_at=now)
        note(tx, actor, "withdrew a claim", f"claim {ended.id}", now)
        return ended.id


def withdraw_within(tx: Tx, actor: Actor, claim_id: int, now: datetime) -> None:
    """Take a claim back, within an act."""
    entry = _own(tx, actor, claim_id)
    CLAIMS.change(tx, actor.circle_id, entry.id, withdrawn_at=now)


def put_claim_back(actor: Actor, claim_id: int, now: datetime) -> None:
    """Undo a withdrawal, unless the variety has been claimed again since."""
    with actor.books.writing() as tx:
        entry = _own(tx, actor, claim_id)
        anew = open_claim(tx, actor.circle_id, entry.household_id, entry.variety_id)
        if anew is None and entry.lapsed_at is not None:
            record_still_wanted(tx, actor, entry, now)
        elif anew is None and not entry.set_aside:
            CLAIMS.change(tx, actor.circle_id, entry.id, withdrawn_at=None)
            note(tx, actor, "claimed again", f"claim {claim_id}", now)


def open_claim(tx: Tx, circle_id: int, household_id: int, variety_id: int) -> ClaimRow | None:
    """Give the household's open claim on a variety that has been given nothing yet."""
    for entry in CLAIMS.all(
        tx,
        circle_id,
        household_id=household_id,
        variety_id=variety_id,
        withdrawn_at=None,
        set_aside=False,
    ):
        if not _given(tx, circle_id, entry.id):
            return entry
    return None


def _own(tx: Tx, actor: Actor, claim_id: int) -> ClaimRow:
    entry = CLAIMS.get(tx, actor.circle_id, claim_id)
    actor.must(Permission.KEEP_OWN, Subject(owner=entry.household_id))
    if _given(tx, actor.circle_id, claim_id):
        raise ClaimMetError(_MET)
    return entry


def _given(tx: Tx, circle_id: int, claim_id: int) -> bool:
    standing = ALLOCATIONS.all(tx, circle_id, claim_id=claim_id, state=STANDING)
    return bool(standing)


def _alternatives(tx: Tx, actor: Actor, new: NewClaim) -> tuple[int, ...]:
    """Give what would do instead, each once and never the variety itself."""
    ends = ends_of_varieties(tx, actor.circle_id)
    wanted = tuple(
        dict.fromkeys(
            one
            for one in (ends.get(each, each) for each in new.alternatives)
            if one != new.variety_id
        )
    )
    if len(wanted) > MOST_ALTERNATIVES:
        raise AlternativesRefusedError(
            f"Tick at most {MOST_ALTERNATIVES} that would do instead.",
            "alternatives",
        )
    for one in wanted:
        VARIETIES.get(tx, actor.circle_id, one)
    return wanted


def _add(tx: Tx, actor: Actor, new: NewClaim, now: datetime) -> int:
    place_id = own_place(tx, actor, new.place_id) if new.place_id else first_place(tx, actor)
    row = claim_row(actor, new, place_id, now)
    (claim_id,) = CLAIMS.add_all(tx, actor.circle_id, [row])
    return claim_id


def claim_row(actor: Actor, new: NewClaim, place_id: int, now: datetime) -> ClaimRow:
    """Give a claim as it is kept."""
    return ClaimRow(
        0,
        household_id=actor.own_household(),
        place_id=place_id,
        variety_id=new.variety_id,
        asked=new.asked,
        choice=new.choice,
        materials=new.materials,
        no_use_after=new.no_use_after,
        alternatives=new.alternatives,
        made_at=now,
        entered_by=actor.member_id,
    )


def _change(tx: Tx, actor: Actor, there: ClaimRow, new: NewClaim, now: datetime) -> None:
    place_id = own_place(tx, actor, new.place_id) if new.place_id else there.place_id
    CLAIMS.change(
        tx,
        actor.circle_id,
        there.id,
        place_id=place_id,
        asked=new.asked,
        choice=new.choice,
        materials=new.materials,
        no_use_after=new.no_use_after,
        alternatives=new.alternatives,
        wanted_at=now,
    )


def check_claim(new: NewClaim, today: date) -> None:
    """Refuse what cannot be said of a claim."""
    if not 1 <= new.asked <= MOST_ASKED:
        raise ClaimCountRefusedError(
            f"Write how many you would like, from 1 to {MOST_ASKED}.", "asked"
        )
    if new.choice not in {1, 2, 3}:
        raise ClaimCountRefusedError("Choose first, second or third choice.", "choice")
    if not new.materials - {Material.SEED}:
        raise NothingTakenError("Tick at least one thing you can take it as.", "materials")
    if new.no_use_after is not None and new.no_use_after < today:
        raise DayPassedError("That day has passed; give a later one, or none.", "no_use_after")
