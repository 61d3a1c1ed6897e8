"""Claims of an earlier season: asked about by letter, and lapsed where nobody answers; one press revives them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.letters import write
from exchange.actions.kernel.links import Purpose, make_link
from exchange.actions.people.household_members import members_of
from exchange.actions.sharing.claims import ASKED_AGAIN_AFTER, is_old, record_still_wanted
from exchange.actions.sharing.page_spare import open_share_out
from exchange.actions.sharing.rest_of_claim import end_rest
from exchange.domain.permissions import Permission
from exchange.records import CLAIMS, VARIETIES, Tx, circles
from exchange.records.claims import lacking_claims
from exchange.records.rows.growing import ClaimRow
from exchange.words.kernel.letters import LetterReader
from exchange.words.sharing import old_claims as words

LAPSES_AFTER = timedelta(days=30)
"""How long after it was asked about an old claim lapses without an answer (judgement) [d]."""


@dataclass(frozen=True, slots=True)
class OldClaims:
    """What was done about old claims [claims]."""

    asked: int = 0
    lapsed: int = 0


@dataclass(frozen=True, slots=True)
class OldClaim:
    """A claim that is asked about, or has lapsed, in words."""

    claim: ClaimRow
    text: str


def look_at_old_claims(actor: Actor, now: datetime) -> OldClaims:
    """Ask about claims of an earlier season, and let those lapse whose question was not answered.

    While a share-out is open or under review nothing lapses, for it may still meet them.
    """
    actor.must(Permission.RUN_CLOCK)
    with actor.books.writing() as tx:
        claims = lacking_claims(tx, actor.circle_id)
        due = [one for one in claims if is_old(one, now) and not is_asked(one)]
        asked = [one for home in _by_household(due) for one in _ask(tx, actor, home, now)]
        late = (
            []
            if open_share_out(tx, actor.circle_id)
            else [one for one in claims if is_late(one, now)]
        )
        for home in _by_household(late):
            _lapse(tx, actor, {one: claims[one] for one in home}, now)
        return OldClaims(len(asked), len(late))


def is_asked(entry: ClaimRow) -> bool:
    """Say whether a claim was asked about, and not said to stand since."""
    return entry.questioned_at is not None and entry.questioned_at > (
        entry.wanted_at or entry.made_at
    )


def is_late(entry: ClaimRow, now: datetime) -> bool:
    """Say whether the answer about an old claim is overdue."""
    asked_at = entry.questioned_at
    return is_asked(entry) and asked_at is not None and asked_at <= now - LAPSES_AFTER


def lapsed_claims(tx: Tx, actor: Actor, now: datetime) -> tuple[ClaimRow, ...]:
    """Give the household's claims that lapsed within a season and were not made anew."""
    anew = {one.variety_id for one in _lacking(tx, actor)}
    own = CLAIMS.all(tx, actor.circle_id, household_id=actor.own_household())
    return tuple(
        one
        for one in own
        if one.lapsed_at is not None
        and one.lapsed_at > now - ASKED_AGAIN_AFTER
        and one.variety_id not in anew
    )


def old_claims(tx: Tx, actor: Actor, now: datetime) -> tuple[OldClaim, ...]:
    """Give what a link asks a household: claims that wait for an answer, and those that lapsed without one."""
    asked = [one for one in _lacking(tx, actor) if is_asked(one)]
    return _told(tx, actor, [*asked, *lapsed_claims(tx, actor, now)])


def record_all_wanted(tx: Tx, actor: Actor, now: datetime) -> int:
    """Let every claim stand that `old_claims` gives, within the act of a link; give how many [claims]."""
    there = old_claims(tx, actor, now)
    for one in there:
        record_still_wanted(tx, actor, one.claim, now)
    return len(there)


def _lacking(tx: Tx, actor: Actor) -> list[ClaimRow]:
    everything = lacking_claims(tx, actor.circle_id)
    return [one for one in everything if one.household_id == actor.own_household()]


def _ask(tx: Tx, actor: Actor, claims: list[ClaimRow], now: datetime) -> list[ClaimRow]:
    """Ask a household; where nobody is left to be asked, nothing is."""
    if not _write(tx, actor, claims, now, lapsed=False):
        return []
    for one in claims:
        CLAIMS.change(tx, actor.circle_id, one.id, questioned_at=now)
    return claims


def _lapse(tx: Tx, actor: Actor, claims: Mapping[ClaimRow, int], now: datetime) -> None:
    """Let what the claims of a household lack lapse [claim -> plants]."""
    ended = [
        end_rest(tx, actor, one, lacks, withdrawn_at=now, lapsed_at=now)
        for one, lacks in claims.items()
    ]
    for one in ended:
        note(tx, actor, "let a claim lapse", f"claim {one.id}", now)
    _write(tx, actor, ended, now, lapsed=True)


def _write(tx: Tx, actor: Actor, claims: list[ClaimRow], now: datetime, *, lapsed: bool) -> bool:
    """Write to each member of a household, each with a link of their own."""
    circle = circles.get(tx, actor.circle_id)
    lines = [one.text for one in _told(tx, actor, claims)]
    members = members_of(tx, actor.circle_id, claims[0].household_id)
    for member in members:
        reader = LetterReader(member.first_name, circle.name)
        link = make_link(tx, actor.house, member, Purpose.STILL_WANTED, now)
        letter = (
            words.lapsed(reader, lines, link)
            if lapsed
            else words.still_wanted(reader, lines, LAPSES_AFTER.days, link)
        )
        kind = "claim_lapsed" if lapsed else "still_wanted"
        write(tx, actor.house, member, letter, f"{kind}:{member.id}:{now.isoformat()}", now)
    return bool(members)


def _told(tx: Tx, actor: Actor, claims: Iterable[ClaimRow]) -> tuple[OldClaim, ...]:
    varieties, lacks = VARIETIES.by_id(tx, actor.circle_id), lacking_claims(tx, actor.circle_id)
    return tuple(
        OldClaim(
            one,
            words.claim_line(
                lacks.get(one, one.asked), varieties[one.variety_id], one.made_at.date()
            ),
        )
        for one in claims
    )


def _by_household(claims: Iterable[ClaimRow]) -> list[list[ClaimRow]]:
    homes: dict[int, list[ClaimRow]] = {}
    for one in claims:
        homes.setdefault(one.household_id, []).append(one)
    return list(homes.values())
