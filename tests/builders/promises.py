"""A reader of what would have been: it does what a printed promise says, or counts who loses by a plant more."""

import re
from collections import Counter
from dataclasses import replace
from datetime import date

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.room import POTS_A_TRAY
from exchange.domain.growing.shelter import Shelter, ShelterKind

MORE = r" would have brought (?P<more>\d+)\xa0plants? more\."
MATERIALS = {
    "unrooted cuttings": Material.UNROOTED,
    "rooted cuttings": Material.ROOTED,
    "young plants": Material.YOUNG_PLANT,
    "pot tubers": Material.POT_TUBER,
    "divisions": Material.DIVISION,
}
SHELTERS = {
    "in the propagator": ShelterKind.PROPAGATOR,
    "indoors": ShelterKind.INDOORS,
    "in the heated greenhouse": ShelterKind.HEATED,
    "in the frost-free greenhouse": ShelterKind.FROST_FREE,
    "in the cold greenhouse or frame": ShelterKind.COLD,
    "in the open ground": ShelterKind.OPEN_GROUND,
}
CHOICES = {"first choice": 1, "second choice": 2, "third choice": 3}
MONTHS = ("April", "May", "June", "July")


def applied(case, claim, sentence):
    """Give the plants more that a sentence promises, and the case in which what it says was done."""
    for pattern, change in PROMISES:
        found = re.fullmatch(pattern + MORE, sentence)
        if found:
            return int(found["more"]), change(case, claim, found)
    raise AssertionError(f"no such promise: {sentence}")


def day_of(text):
    """Give the day that "Tue 4 May" is."""
    number, month = text.split("\xa0")[-2:] if "\xa0" in text else text.split(" ")[-2:]
    return date(2027, 4 + MONTHS.index(month), int(number))


def _with(case, claim, **more):
    changed = replace(claim, **more)
    return replace(case, claims=tuple(changed if one is claim else one for one in case.claims))


def _material(case, claim, found):
    return _with(case, claim, materials=claim.materials | {MATERIALS[found["what"]]})


def _later(case, claim, found):
    return _with(case, claim, no_use_after=day_of(found["day"]))


def _room(case, claim, found):
    kind = SHELTERS[found["where"]]
    here = [one for one in case.shelters if (one.place_id, one.kind) == (claim.place_id, kind)]
    if not here:
        more = Shelter(claim.place_id, kind, POTS_A_TRAY)
        return replace(case, shelters=(*case.shelters, more))
    more = replace(here[0], room_pots=here[0].room_pots + POTS_A_TRAY)
    return replace(case, shelters=tuple(more if one is here[0] else one for one in case.shelters))


def _hardened(case, claim, _found):
    takes = {claim.variety_id, *claim.alternatives}
    return replace(
        case,
        spares=tuple(
            replace(one, raised=Raised.HARDENED)
            if one.variety_id in takes and one.household_id != claim.household_id
            else one
            for one in case.spares
        ),
    )


def _instead(case, claim, found):
    kind = next(one.id for one in case.varieties if one.name == found["name"])
    return _with(case, claim, alternatives=(*claim.alternatives, kind))


PROMISES = (
    (r"Taking (?P<what>[a-z ]+) too", _material),
    (r"Taking it until (?P<day>.+)", _later),
    (r"Room for one seed tray more (?P<where>[a-z -]+)", _room),
    (r"Hardened off first by the sender, it", _hardened),
    (
        r"As your (?P<what>\w+ choice) it",
        lambda case, claim, found: _with(case, claim, choice=CHOICES[found["what"]]),
    ),
    (
        r"Asking for (?P<n>\d+)\xa0plants?",
        lambda case, claim, found: _with(case, claim, asked=int(found["n"])),
    ),
    (r"Taking .*‘(?P<name>.+)’ instead, if need be,", _instead),
)

LOSES = re.compile(
    r"(?P<who>another household|\d+ other households) would have (?P<what>[a-z ]+?)(?=\.|,| and )"
)
OWN = re.compile(r"your other claims would have had (?P<n>\d+)\xa0plants? fewer")


def untrue_of_one_more(case, claim, was, would, sentence):
    """Say what in a "Had you had it" sentence is not so of the share-out as it was and would have been."""
    home = {one.id: one.household_id for one in case.claims}
    kind = {one.id: one.variety_id for one in case.spares}

    def plants(allocations):
        total = Counter()
        for one in allocations:
            total[home[one.claim_id], kind[one.spare_id]] += one.count
        return total

    def of_claim(allocations):
        return sum(one.count for one in allocations if one.claim_id == claim.id)

    had, have = plants(was), plants(would)
    mine = claim.household_id
    faults = [] if of_claim(would) > of_claim(was) else ["no plant more"]
    if sentence.startswith("Had you had one more, ") != (of_claim(was) > 0):
        faults.append("it or one more")
    now, then = Counter(), Counter()
    for total, those in ((now, was), (then, would)):
        for one in those:
            if home[one.claim_id] == mine and one.claim_id != claim.id:
                total[one.claim_id] += one.count
    fewer = sum((now - then).values())
    told = OWN.search(sentence)
    if (int(told["n"]) if told else 0) != fewer:
        faults.append(f"{fewer} plants fewer of one's own")
    others = {who for who, _ in had} - {mine}
    all_of = {who: sum(n for key, n in had.items() if key[0] == who) for who in others}
    left = {who: sum(n for key, n in have.items() if key[0] == who) for who in others}
    lost = {key for key in had if key[0] != mine and not have[key]}
    by_kind = {
        "been given nothing at all": {who for who in others if not left[who]},
        "had none of it": {who for who, which in lost if which == claim.variety_id},
        "gone without a variety altogether": {who for who, _ in lost},
        "had fewer plants": {who for who in others if left[who] < all_of[who]},
        "had fewer of a variety": {
            key[0] for key in had if key[0] != mine and have[key] < had[key]
        },
    }
    worst = next(((what, who) for what, who in by_kind.items() if who), None)
    told = LOSES.search(sentence)
    if worst is None or told is None:
        return faults + ([] if worst is None and told is None else [f"loses: {worst}"])
    what, who = worst
    number = 1 if told["who"] == "another household" else int(told["who"].split()[0])
    return faults + ([] if (told["what"], number) == (what, len(who)) else [f"loses: {worst}"])
