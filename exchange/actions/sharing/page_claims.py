"""What the page of claims shows: one's own, and for growers what nobody offers."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.posting.parcel_lines import what_comes
from exchange.actions.sharing.asked_together import of_one_kind
from exchange.actions.sharing.claim_obstacles import CannotBeMet, cannot_be_met_now
from exchange.actions.sharing.claims import claim_version, is_old
from exchange.actions.sharing.form_choices import choices_of_household
from exchange.actions.sharing.not_sent import not_sent_of
from exchange.actions.sharing.old_claims import LAPSES_AFTER, is_asked, lapsed_claims
from exchange.actions.sharing.page_spare import SpareLine, open_share_out, spares_of_variety
from exchange.actions.sharing.reserve import with_the_reserve
from exchange.actions.sharing.sender_answer import ToAnswer, asked_of_sender
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, ANSWERS, BATCHES, CLAIMS, SPARES, VARIETIES, Tx
from exchange.records.claims import open_claims
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.records.rows.sharing import AllocationRow, ClaimAnswerRow, ShareOutRow
from exchange.records.varieties import standing_varieties, variety_meant_by


@dataclass(frozen=True, slots=True)
class Coming:
    """Plants of one kind given to a claim, whoever sends them.

    Attributes
    ----------
    allocation_id : the first of them; who declines it declines the line
    what : "1 rooted cutting of ...", and in place of what where it is not the variety asked for
    """

    allocation_id: int
    count: int
    what: str


@dataclass(frozen=True, slots=True)
class ClaimLine:
    """One claim.

    Attributes
    ----------
    given : plants promised to it so far [plants]
    answer : what the last share-out said of it, or None
    reason : why, as a sentence, empty before a share-out
    offered : whether anybody lists the variety now
    old : it is of an earlier season, and it is asked whether it still stands
    lapses_after : the day after which it lapses unless that is answered, once a letter has asked
    stuck : what is said where nothing offered can meet it, or None
    """

    claim: ClaimRow
    variety: Variety
    alternatives: tuple[Variety, ...]
    given: int
    answer: ClaimAnswerRow | None
    reason: str
    offered: bool
    coming: tuple[Coming, ...]
    old: bool = False
    lapses_after: date | None = None
    stuck: CannotBeMet | None = None

    @property
    def version(self) -> str:
        return claim_version(self.claim)


@dataclass(frozen=True, slots=True)
class LapsedLine:
    """A claim that lapsed because nobody said that it stands."""

    claim: ClaimRow
    variety: Variety


@dataclass(frozen=True, slots=True)
class UnmetWish:
    """A variety that is claimed and not offered enough.

    Attributes
    ----------
    asked : plants asked for by open claims [plants]
    offered : plants left on the list [plants]
    mine : whether the reader's household grows it
    """

    variety: Variety
    asked: int
    offered: int
    mine: bool


@dataclass(frozen=True, slots=True)
class ClaimPage:
    """What somebody sees before claiming a variety.

    Attributes
    ----------
    there : the household's open claim on it, or None
    offers : what others offer of it
    others : varieties offered now that might do instead
    wishes_before : the household's other open claims, as (choice, name)
    """

    variety: Variety
    there: ClaimRow | None
    offers: tuple[SpareLine, ...]
    others: tuple[Variety, ...]
    wishes_before: tuple[tuple[int, str], ...]
    places: tuple[tuple[int, str], ...]
    share_out: ShareOutRow | None

    @property
    def version(self) -> str:
        return claim_version(self.there)


@dataclass(frozen=True, slots=True)
class ClaimsPage:
    """A household's claims, the wishes nobody can meet, and what it is asked to send."""

    lines: tuple[ClaimLine, ...]
    wishes: tuple[UnmetWish, ...]
    share_out: ShareOutRow | None
    to_send: tuple[ToAnswer, ...]
    today: date
    lapsed: tuple[LapsedLine, ...] = ()


def claims_page(actor: Actor, now: datetime) -> ClaimsPage:
    """Show the household's claims and the wishes nobody in the circle can meet."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        everything = CLAIMS.all(tx, actor.circle_id, withdrawn_at=None)
        own = [one for one in everything if one.household_id == actor.household_id]
        today = today_in(circle_of(actor, tx), now)
        waiting = [one for one in everything if (one.no_use_after or today) >= today]
        return ClaimsPage(
            _lines(tx, actor.circle_id, own, now),
            _wishes(tx, actor, waiting, today),
            open_share_out(tx, actor.circle_id),
            tuple(one for one in asked_of_sender(tx, actor) if not one.agreed),
            today,
            tuple(
                LapsedLine(one, VARIETIES.get(tx, actor.circle_id, one.variety_id))
                for one in lapsed_claims(tx, actor, now)
            ),
        )


def claim_form(actor: Actor, variety_id: int, now: datetime) -> ClaimPage:
    """Show what can be claimed of a variety, and the household's open claim on it."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        variety = variety_meant_by(tx, actor.circle_id, variety_id)
        own = [
            one
            for one in open_claims(tx, actor.circle_id)
            if one.household_id == actor.household_id
        ]
        there = next((one for one in own if one.variety_id == variety_id), None)
        varieties = VARIETIES.by_id(tx, actor.circle_id)
        kept = set(there.alternatives) if there else set()
        return ClaimPage(
            variety,
            there,
            spares_of_variety(tx, actor, variety_id, now),
            _instead(tx, actor, variety, kept),
            tuple(
                sorted(
                    (one.choice, varieties[one.variety_id].name)
                    for one in own
                    if one.variety_id != variety_id
                )
            ),
            choices_of_household(tx, actor, now).places,
            open_share_out(tx, actor.circle_id),
        )


def _instead(tx: Tx, actor: Actor, variety: Variety, kept: set[int]) -> tuple[Variety, ...]:
    """Give varieties of the same kind that others offer, and those ticked before."""
    offered = {
        spare.variety_id
        for spare in SPARES.all(tx, actor.circle_id, withdrawn_at=None, set_aside_for=None)
        if spare.household_id != actor.household_id and spare.count > spare.allocated
    }
    return tuple(
        one
        for one in standing_varieties(tx, actor.circle_id)
        if one.id != variety.id
        and (one.id in kept or (one.id in offered and one.species is variety.species))
    )


def _sentence(answer: ClaimAnswerRow | None) -> str:
    return str(answer.reason.get("sentence", "")) if answer else ""


def _lines(tx: Tx, circle_id: int, claims: list[ClaimRow], now: datetime) -> tuple[ClaimLine, ...]:
    varieties, spares = VARIETIES.by_id(tx, circle_id), SPARES.by_id(tx, circle_id)
    offered = {
        one.variety_id
        for one in spares.values()
        if one.withdrawn_at is None and one.set_aside_for is None
    }
    ids = {one.id for one in claims}
    not_sent = not_sent_of(tx, circle_id, with_the_reserve(tx, circle_id), ids)
    answers = {one.claim_id: one for one in ANSWERS.all(tx, circle_id, claim_id=ids)}
    standing: dict[int, list[AllocationRow]] = {}
    for one in ALLOCATIONS.all(tx, circle_id, claim_id=ids, state=STANDING):
        standing.setdefault(one.claim_id, []).append(one)
    waiting = [one for one in claims if one.id not in standing and not one.set_aside]
    stuck = cannot_be_met_now(tx, circle_id, waiting, now)
    return tuple(
        ClaimLine(
            one,
            varieties[one.variety_id],
            tuple(varieties[other] for other in one.alternatives if other in varieties),
            sum(part.count for part in standing.get(one.id, ())),
            answers.get(one.id),
            not_sent[one.id][1] if one.id in not_sent else _sentence(answers.get(one.id)),
            one.variety_id in offered,
            tuple(
                _coming(line, spares[line[0].spare_id], one, varieties)
                for line in of_one_kind(standing.get(one.id, ()), spares)
            ),
            is_old(one, now) and sum(part.count for part in standing.get(one.id, ())) < one.asked,
            _lapses_after(one),
            stuck.get(one.id),
        )
        for one in sorted(claims, key=lambda entry: (entry.choice, entry.id))
    )


def _coming(
    line: Sequence[AllocationRow],
    spare: SpareRow,
    claim: ClaimRow,
    varieties: Mapping[int, Variety],
) -> Coming:
    count = sum(part.count for part in line)
    return Coming(line[0].id, count, what_comes(count, spare, claim, varieties))


def _lapses_after(entry: ClaimRow) -> date | None:
    if entry.questioned_at is None or not is_asked(entry):
        return None
    return (entry.questioned_at + LAPSES_AFTER).date()


def _wishes(tx: Tx, actor: Actor, claims: list[ClaimRow], today: date) -> tuple[UnmetWish, ...]:
    circle_id = actor.circle_id
    varieties = VARIETIES.by_id(tx, circle_id)
    own = BATCHES.all(tx, circle_id, household_id=actor.own_household())
    grown = {batch.variety_id for batch in own if batch.plants}
    given = Counter[int]()
    for part in ALLOCATIONS.all(tx, circle_id, state=STANDING):
        given[part.claim_id] += part.count
    asked, offered = Counter[int](), Counter[int]()
    for one in claims:
        if not one.set_aside:
            asked[one.variety_id] += max(0, one.asked - given[one.id])
    for spare in SPARES.all(tx, circle_id, withdrawn_at=None):
        if spare.set_aside_for is None and not spare.held and spare.send_by >= today:
            offered[spare.variety_id] += spare.count - spare.allocated
    short = [
        UnmetWish(varieties[key], plants, offered[key], key in grown)
        for key, plants in asked.items()
        if plants > offered[key]
    ]
    short.sort(key=lambda wish: (not wish.mine, wish.offered - wish.asked, wish.variety.name))
    return tuple(short)
