"""Sentences behind a claim's answer: what would have given way, what would change it. No other household is named."""

from collections.abc import Mapping, Sequence

from exchange.domain.sharing.changes import ChangeKind, Counterfactual
from exchange.domain.sharing.explanation import WhatIf
from exchange.domain.sharing.reason import ClaimOutcome, Rule
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted, listed
from exchange.words.sharing.asker import YOU, Asker
from exchange.words.sharing.spares import choice

_TOO = {
    Rule.MUST_NOT_BE_LOST: "a variety that must not be lost would have been less safe",
    Rule.ONE_EACH: "fewer first plants would have been given",
    Rule.FAIR: "it would have been shared out less evenly",
    Rule.WISHES: "wishes would have been met less well",
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


def had_sentence(had: WhatIf, asker: Asker = YOU) -> str:
    """Say who would have lost, and what would have given way, had the claim been given one plant more."""
    start = f"Had {asker.you} had " + ("one more" if had.reason.given else "it")
    if had.reason.standing is ClaimOutcome.MET:
        return "All that was asked for was given."
    if not had.possible:
        return f"{start}, something would have had to be different: no sharing out gives it as things stand."
    told = (_most(had, asker), _others_lose(had), _own_lose(had, asker), _gives_way(had))
    return f"{start}, {listed([one for one in told if one])}."


def _most(had: WhatIf, asker: Asker) -> str:
    if not had.beyond:
        return ""
    whose = asker.you
    return f"{whose} would have had more than the {had.beyond} of it that a household has at first"


def _others_lose(had: WhatIf) -> str:
    """Say the worst that would have come to another household."""
    for households, what in (
        (had.with_nothing, "would have been given nothing at all"),
        (had.with_none_of_it, "would have had none of it"),
        (had.with_none, "would have gone without a variety altogether"),
        (had.with_less, "would have had fewer plants"),
        (had.with_fewer, "would have had fewer of a variety"),
    ):
        if households:
            who = "another household" if households == 1 else f"{households} other households"
            return f"{who} {what}"
    return ""


def _own_lose(had: WhatIf, asker: Asker) -> str:
    if not had.own_less:
        return ""
    plants = counted(had.own_less, "plant", "plants")
    return f"{asker.your} other claims would have had {plants} fewer"


def _gives_way(had: WhatIf) -> str:
    if had.beyond:
        return ""
    if had.rule is None or had.rule is Rule.DRAW:
        return "all rules would have been met as well; the draw number decided"
    return _TOO[had.rule]


def change_sentences(
    changes: Sequence[Counterfactual],
    named: Mapping[int, str],
    *,
    every: bool,
    asker: Asker = YOU,
) -> list[str]:
    """Say what would have brought the claim more.

    Parameters
    ----------
    named : by id, the varieties that could be taken instead
    every : whether all there is to try was tried
    """
    if changes:
        return [_change(one, named, asker) for one in changes]
    if every:
        return [
            f"No single thing {asker.you} could change would have brought more, all else equal."
        ]
    return ["Nothing that was tried would have brought more, but not everything was tried."]


def _change(one: Counterfactual, named: Mapping[int, str], asker: Asker) -> str:
    shelter = "" if one.shelter is None else f" {plants.in_shelter(one.shelter)}"
    return _CHANGES[one.kind].format(
        more=counted(one.more, "plant more", "plants more"),
        material=plants.material(one.material, 2) if one.material else "",
        day=dates.day(one.until) if one.until else "",
        shelter=shelter,
        choice=choice(one.choice or 1),
        your=asker.your,
        asked=counted(one.asked or 0, "plant", "plants"),
        variety=named.get(one.variety_id or 0, "another variety"),
    )


_CHANGES = {
    ChangeKind.MATERIAL: "Taking {material} too would have brought {more}.",
    ChangeKind.LATER: "Taking it until {day} would have brought {more}.",
    ChangeKind.TRAY: "Room for one seed tray more{shelter} would have brought {more}.",
    ChangeKind.HARDENED: "Hardened off first by the sender, it would have brought {more}.",
    ChangeKind.CHOICE: "As {your} {choice} it would have brought {more}.",
    ChangeKind.ASKED: "Asking for {asked} would have brought {more}.",
    ChangeKind.ALTERNATIVE: "Taking {variety} instead, if need be, would have brought {more}.",
}


def carried_over(count: int, asker: Asker = YOU) -> str:
    """Say that what a claim still lacks counts in the next share-out."""
    plants = counted(count, "plant", "plants")
    claim = f"{asker.your} claim for {plants} stays open and counts in the next share-out."
    return claim[0].upper() + claim[1:]
