"""What the pages of a share-out show the organiser: the preview, what was decided and why, what came after."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.kernel.terms import is_small, sharing_terms
from exchange.actions.people.labels import household_labels
from exchange.actions.sharing.closing_day import offered_now, too_late_for
from exchange.actions.sharing.page_changes import LaterChange, later_changes
from exchange.actions.sharing.page_share_out_lines import (
    AnswerLine,
    ChoiceLine,
    GivingLine,
    LineLookup,
    RuleLine,
    ThinLine,
    rule_lines,
)
from exchange.actions.sharing.scenarios import OtherTerm, other_terms
from exchange.actions.sharing.share_out import has_changed, remarks_on
from exchange.actions.sharing.share_out_case import given_and_received
from exchange.actions.sharing.share_out_proposal import THIN, nothing_yet
from exchange.domain.circle.circle_season import a_year_later
from exchange.domain.permissions import Permission
from exchange.domain.sharing.case import SharingTerms
from exchange.domain.sharing.states import UNCONFIRMED, ShareOutState
from exchange.records import SHARE_OUTS, TASKS, Tx
from exchange.records.claims import lacking_claims
from exchange.records.rows.running import UNDER_WAY, TaskRow
from exchange.records.rows.sharing import ShareOutRow


@dataclass(frozen=True, slots=True)
class ShareOutPage:
    """One share-out as the organiser sees it before and after confirming.

    Attributes
    ----------
    task : a working-out under way, or None
    spares, plants : listed and not all promised, and what is left of them [spares], [plants]
    claims : claims that still lack plants [claims]
    too_late : spares that must be sent before the closing day [spares]
    draw_number : shown once the closing day has come
    stale : whether the circle changed after it was worked out
    balance : households with plants given and received in all share-outs; empty where hidden
    small : whether the circle is small enough to go without ceremony
    thin : the parcels of one plant that cost most, before confirming
    others : what other terms would change, once that was tried
    later : changes after confirming, each with day and reason
    terms : what the circle has settled for its share-outs
    """

    share_out: ShareOutRow
    today: date
    task: TaskRow | None
    answers: tuple[AnswerLine, ...]
    giving: tuple[GivingLine, ...]
    rules: tuple[RuleLine, ...]
    draw_number: str
    spares: int
    plants: int
    claims: int
    too_late: int
    balance: tuple[tuple[str, int, int], ...]
    remarks: tuple[str, ...]
    choices: tuple[ChoiceLine, ...]
    thin: tuple[ThinLine, ...]
    stale: bool
    small: bool
    others: tuple[OtherTerm, ...]
    later: tuple[LaterChange, ...]
    terms: SharingTerms

    @property
    def closed(self) -> bool:
        return self.today >= self.share_out.closes_on

    @property
    def confirmed(self) -> bool:
        return self.share_out.state == ShareOutState.CONFIRMED

    @property
    def running(self) -> bool:
        return self.share_out.state in UNCONFIRMED

    @property
    def cancelled(self) -> bool:
        return self.share_out.state == ShareOutState.CANCELLED

    @property
    def worked_out(self) -> bool:
        return self.share_out.worked_at is not None

    def came_of(self, what: str) -> tuple[AnswerLine, ...]:
        """Give the claims with one outcome; the words are those of `AnswerLine.came`."""
        return tuple(one for one in self.answers if one.came == what)

    def unanswered(self) -> tuple[GivingLine, ...]:
        """Give what nobody has answered yet."""
        return tuple(one for one in self.giving if one.answered_on is None)


@dataclass(frozen=True, slots=True)
class ShareOutsPage:
    """All share-outs of the circle, the newest first, and whether one can be opened.

    Attributes
    ----------
    again : those of the past year whose day comes again, each with that day, the nearest first
    """

    share_outs: tuple[ShareOutRow, ...]
    again: tuple[tuple[ShareOutRow, date], ...]
    today: date
    may_open: bool
    small: bool


def share_outs_page(actor: Actor, now: datetime) -> ShareOutsPage:
    """Show the circle's share-outs."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        found = SHARE_OUTS.all(tx, actor.circle_id)[::-1]
        circle = circle_of(actor, tx)
    running = any(one.state in UNCONFIRMED for one in found)
    today = today_in(circle, now)
    return ShareOutsPage(found, _again(found, today), today, not running, is_small(circle))


def _again(found: tuple[ShareOutRow, ...], today: date) -> tuple[tuple[ShareOutRow, date], ...]:
    """Copy the dates of the past year's confirmed share-outs to the coming one."""
    past = [one for one in found if one.state is ShareOutState.CONFIRMED and one.closes_on < today]
    again = [(one, a_year_later(one.closes_on)) for one in past]
    taken = {one.closes_on for one in found}
    coming = [(one, day) for one, day in again if day >= today and day not in taken]
    return tuple(sorted(coming, key=lambda pair: pair[1]))


def share_out_page(actor: Actor, share_out_id: int, now: datetime) -> ShareOutPage:
    """Show one share-out with what was worked out for it."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        circle = circle_of(actor, tx)
        today, small = today_in(circle, now), is_small(circle)
        proposal = share_out.proposal or nothing_yet()
        confirmed = share_out.state == ShareOutState.CONFIRMED
        lines = LineLookup(tx, actor.circle_id)
        offered = offered_now(tx, actor.circle_id)
        return ShareOutPage(
            share_out=share_out,
            today=today,
            task=_task(tx, actor.circle_id, share_out_id),
            answers=lines.answers_since(proposal["answers"])
            if confirmed
            else lines.answers(proposal["answers"]),
            giving=lines.given(share_out_id)
            if confirmed
            else lines.giving(proposal["allocations"]),
            rules=rule_lines(proposal["rules"]),
            draw_number=share_out.draw_number if today >= share_out.closes_on else "",
            spares=len(offered),
            plants=sum(one.count - one.allocated for one in offered),
            claims=len(lacking_claims(tx, actor.circle_id)),
            too_late=0
            if share_out.state not in UNCONFIRMED
            else len(too_late_for(tx, actor.circle_id, share_out.closes_on, today)),
            balance=() if small else balance(tx, actor.circle_id),
            remarks=remarks_on(share_out),
            choices=lines.choices(share_out),
            thin=() if confirmed else lines.thin(proposal.get(THIN, ())),
            stale=_is_stale(tx, actor, share_out, now),
            small=small,
            others=other_terms(tx, actor, share_out_id),
            later=later_changes(tx, circle, share_out_id=share_out_id) if confirmed else (),
            terms=sharing_terms(circle),
        )


def balance(tx: Tx, circle_id: int) -> tuple[tuple[str, int, int], ...]:
    """Give every household's plants given and received in all share-outs."""
    given, received = given_and_received(tx, circle_id)
    labels = household_labels(tx, circle_id)
    rows = [(label, given.get(key, 0), received.get(key, 0)) for key, label in labels.items()]
    return tuple(sorted(rows))


def _task(tx: Tx, circle_id: int, share_out_id: int) -> TaskRow | None:
    tasks = TASKS.all(
        tx,
        circle_id,
        kind={"share_out", "share_out_previews"},
        subject_id=share_out_id,
        state=UNDER_WAY,
    )
    return tasks[-1] if tasks else None


def _is_stale(tx: Tx, actor: Actor, share_out: ShareOutRow, now: datetime) -> bool:
    """Say whether confirming would ask for it to be worked out again."""
    if share_out.state != ShareOutState.WORKED_OUT:
        return False
    if share_out.worked_stamp == circle_of(actor, tx).stamp:
        return False
    return has_changed(tx, actor.circle_id, share_out, now)
