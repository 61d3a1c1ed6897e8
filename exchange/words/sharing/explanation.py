"""Sentences behind a claim's answer: what would have given way, what would change it. Nobody is named."""

from collections.abc import Sequence

from exchange.domain.sharing.explanation import ChangeKind, Counterfactual, WhatIf
from exchange.domain.sharing.reason import ClaimOutcome, Rule
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted

_FELL = {
    Rule.MUST_NOT_BE_LOST: "a variety that must not be lost would have been less safe",
    Rule.ONE_EACH: "fewer households would have had a first plant",
    Rule.FAIR: "a household with less would have had less still",
    Rule.WISHES: "a wish put higher by somebody would have gone unmet",
    Rule.FEWEST_PARCELS: "more parcels would have been needed",
    Rule.POSTAGE: "more postage would have been needed",
}
_NAMES = {
    Rule.MUST_NOT_BE_LOST: "what must not be lost",
    Rule.ONE_EACH: "one each first",
    Rule.FAIR: "fair over households",
    Rule.WISHES: "first choices first",
    Rule.FEWEST_PARCELS: "fewest parcels",
    Rule.POSTAGE: "least postage",
    Rule.DRAW: "the draw number",
}


def rule_name(rule: Rule) -> str:
    """Give "rule 2, one each first"; the draw is no rule."""
    if rule is Rule.DRAW:
        return _NAMES[rule]
    return f"rule {rule.value}, {_NAMES[rule]}"


def had_sentence(had: WhatIf) -> str:
    """Say what would have given way, had the claim been given one plant more."""
    start = "Had you had it" if not had.reason.given else "Had you had one more"
    if had.reason.standing is ClaimOutcome.MET:
        return "You were given all you asked for."
    if not had.possible:
        return f"{start}, something would have had to be different: no sharing out gives it as things stand."
    return f"{start}, {_given_way(had)}."


def _given_way(had: WhatIf) -> str:
    if had.with_none:
        return "a member who had none would have gone without"
    if had.rule is None or had.rule is Rule.DRAW:
        return "all rules would have been met as well; the draw number decided"
    return _FELL[had.rule]


def change_sentences(changes: Sequence[Counterfactual]) -> list[str]:
    """Say what would have brought the claim more."""
    if not changes:
        return ["Nothing you could change by yourself would have brought more, all else equal."]
    return [_change(one) for one in changes]


def _change(one: Counterfactual) -> str:
    more = counted(one.more, "plant more", "plants more")
    return _CHANGES[one.kind].format(
        more=more,
        material=plants.material(one.material, 2) if one.material else "",
        day=dates.day(one.until) if one.until else "",
    )


_CHANGES = {
    ChangeKind.MATERIAL: "Taking {material} too would have brought {more}.",
    ChangeKind.LATER: "Taking it until {day} would have brought {more}.",
    ChangeKind.TRAY: "Room for one seed tray more would have brought {more}.",
    ChangeKind.HARDENED: "Hardened off first by the sender, it would have brought {more}.",
}


def carried_over(count: int, *, own: bool = True) -> str:
    """Say that what a claim still lacks counts in the next share-out; "your" only to whose claim it is."""
    return "{whose} for {plants} stays open and counts in the next share-out.".format(
        whose="Your claim" if own else "The claim", plants=counted(count, "plant", "plants")
    )
