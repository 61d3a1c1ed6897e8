"""The lines of a share-out's page: what claims get, who gives what, rules, the organiser's choices."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from exchange.actions.people.labels import household_labels, household_names
from exchange.actions.sharing.claim_decision import told_of
from exchange.actions.sharing.not_sent import not_sent_of
from exchange.actions.sharing.reserve import with_the_reserve
from exchange.actions.sharing.share_out_proposal import ChoiceKind, choices_of
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.reason import Obstacle
from exchange.domain.sharing.thin import ThinParcel
from exchange.records import ALLOCATIONS, CLAIMS, PLACES, SPARES, VARIETIES, Tx
from exchange.records.columns import from_plain
from exchange.records.rows.growing import ClaimRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.growing import plants
from exchange.words.growing.together import Plants, kind
from exchange.words.posting.ways import postage
from exchange.words.sharing.asker import GONE
from exchange.words.sharing.share_out import lost_by_leaving_out
from exchange.words.sharing.share_out_after import answer_words


@dataclass(frozen=True, slots=True)
class AnswerLine:
    """What a claim gets, and why.

    Attributes
    ----------
    standing : "met", "part" or "unmet"; "unsent" where what was given is not sent and nothing was instead
    obstacle : what stood in the way, empty where the rules decided
    """

    claim: ClaimRow
    variety: Variety
    household: str
    given: int
    standing: str
    obstacle: str
    sentence: str

    @property
    def came(self) -> str:
        """Give the outcome of the claim: "met", "part", "unsent", "others", "hindered" or "nobody"."""
        if self.standing != "unmet":
            return self.standing
        if self.obstacle in ("", Obstacle.FEWER):
            return "others"
        return "nobody" if self.obstacle == "nobody_offers" else "hindered"


@dataclass(frozen=True, slots=True)
class GivingLine:
    """Plants of a spare to a claim.

    Attributes
    ----------
    asked_for : the variety the claim named, where another that it allows is given; else None
    answer : what the sender or receiver has said since; empty before confirming
    answered_on : when
    parts : of plants of one kind from several spares or to several claims, shown as one line; else empty
    """

    spare_id: int
    claim_id: int
    sent_as: str
    variety: Variety
    count: int
    sender: str
    receiver: str
    asked_for: Variety | None = None
    answer: str = ""
    answered_on: date | None = None
    parts: tuple["GivingLine", ...] = ()

    @property
    def each(self) -> tuple["GivingLine", ...]:
        """Give it by spare and claim."""
        return self.parts or (self,)


@dataclass(frozen=True, slots=True)
class ThinLine:
    """A parcel of one plant, before confirming.

    Attributes
    ----------
    postage : what it costs, empty where no tariff was typed in
    lost : what leaving it out would lose
    """

    giving: GivingLine
    postage: str
    lost: str


@dataclass(frozen=True, slots=True)
class RuleLine:
    """One rule, its value and how sure it is.

    Attributes
    ----------
    beyond : whether of the second pass, beyond the most of a contested variety
    """

    number: int
    name: str
    value: int | None
    bound: int | None
    status: str
    beyond: bool = False


@dataclass(frozen=True, slots=True)
class ChoiceLine:
    """A choice of the organiser.

    Attributes
    ----------
    count : plants that are to go; 0 for two kept apart [plants]
    """

    giving: GivingLine
    count: int
    reason: str
    made_on: date


class LineLookup:
    """What many lines look up, read once."""

    def __init__(self, tx: Tx, circle_id: int) -> None:
        self.tx, self.circle_id = tx, circle_id
        self.claims, self.spares = CLAIMS.by_id(tx, circle_id), SPARES.by_id(tx, circle_id)
        self.varieties = VARIETIES.by_id(tx, circle_id)
        self.labels = household_labels(tx, circle_id)
        self.names = household_names(tx, circle_id)

    def answers(self, answers: list[dict[str, Any]]) -> tuple[AnswerLine, ...]:
        """Give one line per claim as it was answered, those not met first."""
        return _in_order([self._answer(one) for one in answers])

    def answers_since(self, answers: list[dict[str, Any]]) -> tuple[AnswerLine, ...]:
        """Do the same after confirming; what was given and is not sent after all is not called met."""
        looked_at = with_the_reserve(self.tx, self.circle_id)
        not_sent = not_sent_of(self.tx, self.circle_id, looked_at)
        return _in_order([_since(self._answer(one), not_sent) for one in answers])

    def _answer(self, one: dict[str, Any]) -> AnswerLine:
        claim = self.claims[one["claim_id"]]
        return AnswerLine(
            claim,
            self.varieties[claim.variety_id],
            self.labels.get(claim.household_id, ""),
            one["given"],
            one["standing"],
            str(one["reason"].get("obstacle") or ""),
            self._said(claim, one),
        )

    def _said(self, claim: ClaimRow, one: dict[str, Any]) -> str:
        """Give the reason as the organiser reads it, with the household's names."""
        name = self.names.get(claim.household_id, GONE)
        return told_of(one["reason"], one["sentence"], name)

    def giving(self, allocations: list[dict[str, int]]) -> tuple[GivingLine, ...]:
        """Give what would be given, by sender."""
        return self._together(
            [self.line(one["spare_id"], one["claim_id"], one["count"]) for one in allocations]
        )

    def given(self, share_out_id: int) -> tuple[GivingLine, ...]:
        """Give what was given, with what its ends have said since."""
        return self._together(
            [
                self.line(
                    one.spare_id,
                    one.claim_id,
                    one.count,
                    answer_words(one.state),
                    one.answered_at.date() if one.answered_at else None,
                )
                for one in ALLOCATIONS.all(self.tx, self.circle_id, share_out_id=share_out_id)
            ]
        )

    def line(
        self,
        spare_id: int,
        claim_id: int,
        count: int,
        answer: str = "",
        answered_on: date | None = None,
    ) -> GivingLine:
        """Give one line of a spare and a claim."""
        spare, claim = self.spares[spare_id], self.claims[claim_id]
        other = claim.variety_id != spare.variety_id
        return GivingLine(
            spare_id,
            claim_id,
            plants.sent_as(spare.material, spare.raised, count),
            self.varieties[spare.variety_id],
            count,
            self.labels.get(spare.household_id, ""),
            self.labels.get(claim.household_id, ""),
            self.varieties[claim.variety_id] if other else None,
            answer,
            answered_on,
        )

    def _together(self, lines: Iterable[GivingLine]) -> tuple[GivingLine, ...]:
        """Give one line for plants of a kind from one to another of which the same was said, by sender."""
        found: dict[object, list[GivingLine]] = {}
        for one in lines:
            spare = self.spares[one.spare_id]
            plants_of_it = Plants(spare.variety_id, spare.material, spare.raised, one.count)
            receiver = self.claims[one.claim_id].household_id
            said = one.answer, one.answered_on
            key = kind(plants_of_it), spare.household_id, receiver, said
            found.setdefault(key, []).append(one)
        return _by_sender([self._added_up(parts) for parts in found.values()])

    def _added_up(self, parts: list[GivingLine]) -> GivingLine:
        if len(parts) == 1:
            return parts[0]
        count, spare = sum(one.count for one in parts), self.spares[parts[0].spare_id]
        sent_as = plants.sent_as(spare.material, spare.raised, count)
        return replace(parts[0], count=count, sent_as=sent_as, asked_for=None, parts=tuple(parts))

    def thin(self, parcels: Iterable[dict[str, Any]]) -> tuple[ThinLine, ...]:
        """Give the parcels of one plant that cost most, the dearest first."""
        places = PLACES.by_id(self.tx, self.circle_id)
        found = []
        for one in (from_plain(ThinParcel, part) for part in parcels):
            country = places[self.spares[one.spare_id].place_id].country
            said = "" if one.postage is None else postage(one.postage, country)
            line = self.line(one.spare_id, one.claim_id, 1)
            found.append(ThinLine(line, said, lost_by_leaving_out(one.rule, one.choice)))
        return tuple(found)

    def choices(self, share_out: ShareOutRow) -> tuple[ChoiceLine, ...]:
        """Give the organiser's choices."""
        return tuple(
            ChoiceLine(
                self.line(one.spare_id, one.claim_id, one.count),
                one.count if one.kind is ChoiceKind.PIN else 0,
                one.reason,
                one.made_on,
            )
            for one in choices_of(share_out)
        )


def _in_order(lines: list[AnswerLine]) -> tuple[AnswerLine, ...]:
    order = {"unmet": 0, "unsent": 1, "part": 2, "met": 3}
    return tuple(
        sorted(lines, key=lambda one: (order[one.standing], one.variety.name, one.claim.id))
    )


def _since(line: AnswerLine, not_sent: Mapping[int, tuple[int, str]]) -> AnswerLine:
    """Give a line with what is not sent taken off; more than the share-out gave is never taken."""
    if line.claim.id not in not_sent or not line.given:
        return line
    plants, sentence = not_sent[line.claim.id]
    left = max(0, line.given - plants)
    return replace(line, given=left, standing="part" if left else "unsent", sentence=sentence)


def rule_lines(rules: list[dict[str, Any]]) -> tuple[RuleLine, ...]:
    """Give one line per rule."""
    return tuple(
        RuleLine(
            one["rule"],
            one["name"],
            one["value"],
            one["bound"],
            one["status"],
            one.get("pass", 1) == 2,
        )
        for one in rules
    )


def _by_sender(lines: list[GivingLine]) -> tuple[GivingLine, ...]:
    return tuple(sorted(lines, key=lambda one: (one.sender, one.variety.name, one.receiver)))
