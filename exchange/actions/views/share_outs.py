"""What the pages of a share-out show: the preview, what was decided and why."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.actor import Actor, circle_of, today_in
from exchange.actions.share_out_case import given_and_received
from exchange.actions.terms_kept import is_small
from exchange.actions.views.holders import household_labels
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission
from exchange.records import CLAIMS, SHARE_OUTS, SPARES, TASKS, VARIETIES, Tx
from exchange.records.values import ClaimEntry, ShareOutEntry, Task
from exchange.words import plants


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """What a claim gets, and why.

    Attributes
    ----------
    standing : "met", "part" or "unmet"
    obstacle : what stood in the way, empty where the rules decided
    """

    claim: ClaimEntry
    variety: Variety
    household: str
    given: int
    standing: str
    obstacle: str
    sentence: str

    @property
    def came(self) -> str:
        """Give what came of the claim: "met", "part", "others", "hindered" or "nobody"."""
        if self.standing != "unmet":
            return self.standing
        if not self.obstacle:
            return "others"
        return "nobody" if self.obstacle == "nobody_offers" else "hindered"


@dataclass(frozen=True, slots=True)
class GivingLine:
    """Plants of a spare to a claim."""

    sent_as: str
    variety: Variety
    count: int
    sender: str
    receiver: str


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule, its value and how sure it is."""

    number: int
    name: str
    value: int | None
    bound: int | None
    status: str


@dataclass(frozen=True, slots=True)
class ShareOutPage:
    """One share-out as the organiser sees it before and after confirming.

    Attributes
    ----------
    task : a working-out under way, or None
    draw_number : shown once the closing day has come
    stale : whether the circle changed after it was worked out
    balance : households with plants given and received in all share-outs; empty where hidden
    """

    share_out: ShareOutEntry
    today: date
    task: Task | None
    answers: tuple[AnswerLine, ...]
    giving: tuple[GivingLine, ...]
    rules: tuple[RuleLine, ...]
    draw_number: str
    spares: int
    claims: int
    balance: tuple[tuple[str, int, int], ...]

    @property
    def closed(self) -> bool:
        return self.today >= self.share_out.closes_on

    def came_of(self, what: str) -> tuple[AnswerLine, ...]:
        """Give the claims of which the same came; the words are those of `AnswerLine.came`."""
        return tuple(one for one in self.answers if one.came == what)


@dataclass(frozen=True, slots=True)
class ShareOutsPage:
    """All share-outs of the circle, the newest first, and whether one can be opened."""

    share_outs: tuple[ShareOutEntry, ...]
    today: date
    may_open: bool


def share_outs_page(actor: Actor, now: datetime) -> ShareOutsPage:
    """Show the circle's share-outs."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        found = SHARE_OUTS.all(tx, actor.circle_id)[::-1]
        today = today_in(circle_of(actor, tx), now)
    running = any(one.state != "confirmed" for one in found)
    return ShareOutsPage(found, today, not running)


def share_out_page(actor: Actor, share_out_id: int, now: datetime) -> ShareOutPage:
    """Show one share-out with what was worked out for it."""
    actor.must(Permission.RUN_SHARE_OUT)
    with actor.books.reading() as tx:
        share_out = SHARE_OUTS.get(tx, actor.circle_id, share_out_id)
        circle = circle_of(actor, tx)
        today = today_in(circle, now)
        proposal = share_out.proposal or {"answers": [], "allocations": [], "rules": []}
        tasks = TASKS.all(
            tx,
            actor.circle_id,
            kind="share_out",
            subject_id=share_out_id,
            state={"waiting", "running"},
        )
        claims = CLAIMS.all(tx, actor.circle_id, withdrawn_at=None, set_aside=False)
        spares = SPARES.all(tx, actor.circle_id, withdrawn_at=None, set_aside_for=None)
        return ShareOutPage(
            share_out,
            today,
            tasks[-1] if tasks else None,
            _answers(tx, actor.circle_id, proposal["answers"]),
            _giving(tx, actor.circle_id, proposal["allocations"]),
            tuple(_rule(one) for one in proposal["rules"]),
            share_out.draw_number if today >= share_out.closes_on else "",
            len(spares),
            len(claims),
            _balance(tx, actor.circle_id) if not is_small(circle) else (),
        )


def _rule(one: dict[str, object]) -> RuleLine:
    value, bound = one["value"], one["bound"]
    return RuleLine(
        int(str(one["rule"])),
        str(one["name"]),
        value if isinstance(value, int) else None,
        bound if isinstance(bound, int) else None,
        str(one["status"]),
    )


def _answers(tx: Tx, circle_id: int, answers: list[dict[str, object]]) -> tuple[AnswerLine, ...]:
    claims, varieties = CLAIMS.by_id(tx, circle_id), VARIETIES.by_id(tx, circle_id)
    labels = household_labels(tx, circle_id)
    lines = []
    for one in answers:
        claim = claims[int(str(one["claim_id"]))]
        reason = one["reason"]
        obstacle = reason.get("obstacle") if isinstance(reason, dict) else None
        lines.append(
            AnswerLine(
                claim,
                varieties[claim.variety_id],
                labels.get(claim.household_id, ""),
                int(str(one["given"])),
                str(one["standing"]),
                str(obstacle or ""),
                str(one["sentence"]),
            )
        )
    order = {"unmet": 0, "part": 1, "met": 2}
    lines.sort(key=lambda line: (order[line.standing], line.variety.name, line.claim.id))
    return tuple(lines)


def _giving(tx: Tx, circle_id: int, allocations: list[dict[str, int]]) -> tuple[GivingLine, ...]:
    claims, varieties = CLAIMS.by_id(tx, circle_id), VARIETIES.by_id(tx, circle_id)
    spares, labels = SPARES.by_id(tx, circle_id), household_labels(tx, circle_id)
    lines = []
    for one in allocations:
        spare, claim = spares[one["spare_id"]], claims[one["claim_id"]]
        lines.append(
            GivingLine(
                plants.sent_as(spare.material, spare.raised, one["count"]),
                varieties[spare.variety_id],
                one["count"],
                labels.get(spare.household_id, ""),
                labels.get(claim.household_id, ""),
            )
        )
    lines.sort(key=lambda line: (line.sender, line.variety.name, line.receiver))
    return tuple(lines)


def _balance(tx: Tx, circle_id: int) -> tuple[tuple[str, int, int], ...]:
    given, received = given_and_received(tx, circle_id)
    labels = household_labels(tx, circle_id)
    rows = [(label, given.get(key, 0), received.get(key, 0)) for key, label in labels.items()]
    return tuple(sorted(rows))
