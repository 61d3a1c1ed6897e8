"""What the page of one claim's answer shows its member and the organiser."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.labels import household_names
from exchange.actions.sharing.claim_decision import ClaimDecision, Had, decision_of, may_see
from exchange.actions.sharing.explanation import is_under_way
from exchange.actions.sharing.not_sent import not_sent_of
from exchange.actions.sharing.page_changes import LaterChange, later_changes
from exchange.actions.sharing.reserve import with_the_reserve
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.draw import order_of_ties
from exchange.domain.sharing.instance import case_from
from exchange.domain.sharing.outcome import NAMES
from exchange.domain.sharing.reason import ClaimOutcome, Rule
from exchange.domain.sharing.states import STANDING
from exchange.records import ALLOCATIONS, CLAIMS, SPARES, VARIETIES, Tx
from exchange.records.rows.growing import ClaimRow
from exchange.words.growing import plants
from exchange.words.kernel.phrase import counted
from exchange.words.sharing import explanation as words
from exchange.words.sharing.asker import GONE, YOU, Asker
from exchange.words.sharing.reasons import retold


@dataclass(frozen=True, slots=True)
class ClaimWhyPage:
    """One claim and why it came out as it did.

    Attributes
    ----------
    asker : whose claim it is: "you" to its own household, by name to the organiser
    instead : varieties given that are not the one asked for, as the claim allowed
    given : plants that stand now [plants]
    sentence : in front, naming no other household; empty before any decision
    figures : (word, what), behind a fold
    had : what would have been, None until asked for
    named : by id, the varieties that could be taken instead
    under_way : it was asked for and is being worked out
    looked_at : only the organiser sees it yet
    lacks : plants the claim still asks for, which count in the next share-out [plants]
    """

    claim: ClaimRow
    variety: Variety
    asker: Asker
    given: int
    instead: tuple[Variety, ...]
    sentence: str
    figures: tuple[tuple[str, str], ...]
    had: Had | None
    named: Mapping[int, str]
    under_way: bool
    share_out_name: str
    decided_on: date | None
    looked_at: bool
    later: tuple[LaterChange, ...]
    lacks: int


def claim_why_page(actor: Actor, claim_id: int, now: datetime) -> ClaimWhyPage:
    """Show what was decided of a claim, and why."""
    with actor.books.reading() as tx:
        may_see(tx, actor, claim_id)
        claim = CLAIMS.get(tx, actor.circle_id, claim_id)
        decision = decision_of(tx, actor, claim_id, ahead=actor.organiser)
        circle = circle_of(actor, tx)
        given, instead = _given(tx, actor, claim)
        asker = _asker(tx, actor, claim)
        later = later_changes(tx, circle, claim_id=claim_id)
        decided = decision.share_out.confirmed_at if decision else None
        return ClaimWhyPage(
            claim=claim,
            variety=VARIETIES.get(tx, actor.circle_id, claim.variety_id),
            asker=asker,
            given=given,
            instead=instead,
            sentence=_said(tx, actor, decision, asker),
            figures=_figures(decision, today_in(circle, now)) if decision else (),
            had=decision.had if decision else None,
            named=_named(tx, actor, decision),
            under_way=is_under_way(tx, actor, claim_id),
            share_out_name=decision.share_out.name if decision else "",
            decided_on=today_in(circle, decided) if decided else None,
            looked_at=decision is not None and decision.answer is None,
            later=later,
            lacks=_lacks(claim, given),
        )


def _asker(tx: Tx, actor: Actor, claim: ClaimRow) -> Asker:
    if claim.household_id == actor.household_id:
        return YOU
    names = household_names(tx, actor.circle_id)
    return Asker(names.get(claim.household_id, GONE))


def _said(tx: Tx, actor: Actor, decision: ClaimDecision | None, asker: Asker) -> str:
    """Give the reason as it was told, or since: that what was given is not sent."""
    if decision is None:
        return ""
    looked_at = with_the_reserve(tx, actor.circle_id)
    since = not_sent_of(tx, actor.circle_id, looked_at, {decision.claim_id})
    if decision.answer is None or decision.claim_id not in since:
        return retold(decision.sentence, decision.reason, asker)
    return since[decision.claim_id][1]


def _named(tx: Tx, actor: Actor, decision: ClaimDecision | None) -> dict[int, str]:
    changes = decision.had.changes if decision and decision.had else ()
    wanted = {one.variety_id for one in changes if one.variety_id is not None}
    varieties = VARIETIES.by_id(tx, actor.circle_id)
    found = [varieties[one] for one in sorted(wanted) if one in varieties]
    return {one.id: plants.variety(one.species, one.name) for one in found}


def _given(tx: Tx, actor: Actor, claim: ClaimRow) -> tuple[int, tuple[Variety, ...]]:
    standing = ALLOCATIONS.all(tx, actor.circle_id, claim_id=claim.id, state=STANDING)
    kinds = {SPARES.get(tx, actor.circle_id, one.spare_id).variety_id for one in standing}
    instead = tuple(
        VARIETIES.get(tx, actor.circle_id, kind) for kind in sorted(kinds - {claim.variety_id})
    )
    return sum(one.count for one in standing), instead


def _lacks(claim: ClaimRow, given: int) -> int:
    if claim.withdrawn_at is not None or claim.set_aside:
        return 0
    return max(0, claim.asked - given)


def _figures(decision: ClaimDecision, today: date) -> tuple[tuple[str, str], ...]:
    reason = decision.reason
    households = ("household", "households")
    figures = [
        ("Asked for", counted(reason.asked, "plant", "plants")),
        ("Given", counted(reason.given, "plant", "plants")),
        ("Others who asked for it", counted(reason.others, *households)),
        ("Offered that could come to it", counted(reason.offered, "plant", "plants")),
    ]
    if reason.rule is not None and reason.sure and reason.standing is not ClaimOutcome.MET:
        figures.append(("Decided by", words.rule_name(reason.rule)))
        figures += _rule_figures(decision, reason.rule)
    return (*figures, *_had_figures(decision), *_draw_figures(decision, today))


def _rule_figures(decision: ClaimDecision, rule: Rule) -> list[tuple[str, str]]:
    if rule is Rule.DRAW:
        return []
    rules = (decision.share_out.proposal or {}).get("rules", ())
    for one in rules:
        if one["name"] == NAMES[rule - 1] and one["value"] is not None:
            text = "{value}; no sharing out could better {bound}; {sure}".format(
                value=one["value"], bound=one["bound"], sure=one["status"]
            )
            return [("The rule reached", text)]
    return []


def _had_figures(decision: ClaimDecision) -> list[tuple[str, str]]:
    had = decision.had.what_if if decision.had else None
    if had is None or not had.possible or had.rule is None:
        return []
    households = ("household", "households")
    return [
        ("Would have given way first", words.rule_name(had.rule)),
        ("By so much", str(had.falls_by)),
        ("Would have had fewer plants", counted(had.with_less, *households)),
        ("Would have gone without a variety", counted(had.with_none, *households)),
    ]


def _draw_figures(decision: ClaimDecision, today: date) -> list[tuple[str, str]]:
    share_out = decision.share_out
    if share_out.working is None or today < share_out.closes_on:
        return []
    case = case_from(share_out.working["case"])
    kinds = {one.id: one.variety_id for one in case.claims}
    rivals = tuple(one for one, kind in kinds.items() if kind == kinds[decision.claim_id])
    place = order_of_ties(share_out.draw_number, rivals).index(decision.claim_id) + 1
    text = f"{place} of {len(rivals)} for this variety; it counts only where all else is equal"
    return [
        ("Number of the claim", str(decision.claim_id)),
        ("Place in the draw", text),
    ]
