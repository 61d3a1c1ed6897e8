"""The letter in which each household reads what a share-out gave it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.letters import goes_by_mail, write
from exchange.actions.kernel.links import Purpose, make_link
from exchange.actions.posting.parcel_lines import (
    all_that_comes,
    all_that_goes,
    what_comes,
    what_goes,
)
from exchange.records import (
    ALLOCATIONS,
    ANSWERS,
    CLAIMS,
    MEMBERS,
    SPARES,
    VARIETIES,
    Tx,
    circles,
    letters,
)
from exchange.records.rows.growing import ClaimRow, SpareRow
from exchange.records.rows.sharing import ShareOutRow
from exchange.words.growing import plants
from exchange.words.kernel.letters import LetterReader, ShareOutResult, share_out_result
from exchange.words.sharing.explanation import carried_over
from exchange.words.sharing.share_out_after import given_later


def tell_results(tx: Tx, actor: Actor, share_out: ShareOutRow, now: datetime) -> None:
    """Write every member of the circle what the share-out gave their household."""
    circle = circles.get(tx, actor.circle_id)
    results = results_by_household(tx, actor.circle_id, share_out.id)
    link = f"{actor.house.public_url}/claims"
    for member in MEMBERS.all(tx, actor.circle_id, left_at=None):
        result = results.get(member.household_id)
        if result is None:
            continue
        key = f"share_out:{share_out.id}:{member.id}"
        if letters.with_key(tx, key) is not None:
            continue
        # A sender answers for all of it on one page, so the link is about no single parcel.
        answer = (
            make_link(tx, actor.house, member, Purpose.SENDER_ANSWER, now) if result.to_send else ""
        )
        letter = share_out_result(
            LetterReader(member.first_name, circle.name), result, link, answer
        )
        write(tx, actor.house, member, letter, key, now)


@dataclass(frozen=True, slots=True)
class LettersToGo:
    """How many letters confirming writes: those that are mailed, and those handed over by hand [letters]."""

    by_mail: int
    by_hand: int

    @property
    def all_together(self) -> int:
        return self.by_mail + self.by_hand


def letters_to_go(tx: Tx, actor: Actor, proposal: Mapping[str, Any]) -> LettersToGo:
    """Count the letters that `tell_results` will write once this proposal is confirmed."""
    spares, claims = SPARES.by_id(tx, actor.circle_id), CLAIMS.by_id(tx, actor.circle_id)
    touched = {spares[one["spare_id"]].household_id for one in proposal["allocations"]}
    touched |= {claims[one["claim_id"]].household_id for one in proposal["allocations"]}
    for one in proposal["answers"]:
        claim = claims[one["claim_id"]]
        if is_told(claim.asked, one["given"], one["sentence"]):
            touched.add(claim.household_id)
    to = MEMBERS.all(tx, actor.circle_id, household_id=touched, left_at=None)
    mailed = sum(goes_by_mail(actor.house, one) for one in to)
    return LettersToGo(mailed, len(to) - mailed)


def is_told(asked: int, given: int, sentence: str) -> bool:
    """Say whether a letter tells why a claim was not met."""
    return given < asked and bool(sentence)


def results_by_household(tx: Tx, circle_id: int, share_out_id: int) -> dict[int, ShareOutResult]:
    """Give what a confirmed share-out gave and asks of every household it touched."""
    varieties = VARIETIES.by_id(tx, circle_id)
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    given: dict[int, list[tuple[int, SpareRow, ClaimRow]]] = {}
    to_send: dict[int, list[tuple[int, SpareRow]]] = {}
    for one in ALLOCATIONS.all(tx, circle_id, share_out_id=share_out_id):
        spare, claim = spares[one.spare_id], claims[one.claim_id]
        given.setdefault(claim.household_id, []).append((one.count, spare, claim))
        to_send.setdefault(spare.household_id, []).append((one.count, spare))
    not_given: dict[int, list[str]] = {}
    for answer in ANSWERS.all(tx, circle_id, share_out_id=share_out_id):
        claim = claims[answer.claim_id]
        if is_told(claim.asked, answer.given, answer.reason["sentence"]):
            variety = varieties[claim.variety_id]
            name = plants.variety(variety.species, variety.name)
            lacks = claim.asked - answer.given
            text = f"{name}: {answer.reason['sentence']} {carried_over(lacks)}"
            not_given.setdefault(claim.household_id, []).append(text)
    touched = sorted({*given, *to_send, *not_given})
    return {
        household_id: ShareOutResult(
            all_that_comes(given.get(household_id, ()), varieties),
            tuple(not_given.get(household_id, ())),
            all_that_goes(to_send.get(household_id, ()), varieties),
        )
        for household_id in touched
    }


def tell_later(tx: Tx, actor: Actor, allocation_ids: Sequence[int], now: datetime) -> None:
    """Write to both ends of each allocation made after the share-out was confirmed."""
    circle = circles.get(tx, actor.circle_id)
    varieties = VARIETIES.by_id(tx, actor.circle_id)
    link = f"{actor.house.public_url}/claims"
    for allocation_id in allocation_ids:
        one = ALLOCATIONS.get(tx, actor.circle_id, allocation_id)
        spare = SPARES.get(tx, actor.circle_id, one.spare_id)
        claim = CLAIMS.get(tx, actor.circle_id, one.claim_id)
        comes = (what_comes(one.count, spare, claim, varieties),)
        goes = (what_goes(one.count, spare, varieties),)
        ends = ((claim.household_id, comes, ()), (spare.household_id, (), goes))
        for household_id, given, to_send in ends:
            for member in MEMBERS.all(tx, actor.circle_id, household_id=household_id, left_at=None):
                reader = LetterReader(member.first_name, circle.name)
                letter = given_later(reader, given, to_send, link)
                key = f"given_later:{allocation_id}:{member.id}"
                write(tx, actor.house, member, letter, key, now)
