"""A reader of the sentences behind claims: it takes the printed English and the result, and says what is not so.

It shares no code with what writes them: it finds out by itself (`world`) what could have come to whom, who was given what,
who put what higher, what is scarce, and how many parcels there are.
"""

import re
from collections import Counter

from exchange.words.kernel import dates

COUNTS = re.compile(
    r"(?P<n>\d+)(?: of (?P<all>\d+))?\xa0(?P<noun>plants?) (?P<verb>was offered|were offered|offered could come to you)"
)
OTHERS = re.compile(r"and (?P<k>\d+)\xa0other (?P<noun>households?) asked; (?P<rest>.*)\.")
OWN = re.compile(r"(?P<own>\d+)\xa0(?P<noun>plants?) went to another claim of yours, (?P<rest>.*)")
START = "In part only"


def untrue(world, claim, sentence):
    """Say what in a sentence about a claim is not so; nothing when all of it is."""
    given = world.got[claim.id]
    if sentence == "Met in full.":
        return [] if given >= claim.asked else ["not met in full"]
    faults = [] if given < claim.asked else ["it is met in full"]
    part = sentence.startswith((START, "Only "))
    if part != (given > 0):
        faults.append("in part, or not")
    if re.search(r"\bonly 0\b|\b0\xa0plants? (?:was|were)", sentence, re.IGNORECASE):
        faults.append("no plants are told of as some")
    told = sentence.removeprefix(f"{START}. ")
    for wall, holds in WALLS.items():
        if re.fullmatch(wall, told):
            return faults + ([] if holds(world, claim, told) else [told])
    return faults + _of_plants(world, claim, sentence.removeprefix(f"{START}: "))


def _of_plants(world, claim, told):
    """Follow a sentence on where plants went."""
    could = world.of_claim(claim).get("", [])
    ids = {one.id for one in could}
    here = [one for one in world.allocations if one.spare_id in ids]
    home = {one.id: one.household_id for one in world.case.claims}
    own = sum(
        one.count
        for one in here
        if home[one.claim_id] == claim.household_id and one.claim_id != claim.id
    )
    won = [one for one in here if home[one.claim_id] != claim.household_id]
    left = sum(one.count for one in could) - sum(one.count for one in here)
    if told in (
        "All that could come to you went to another claim of yours.",
        "what else could come to you went to another claim of yours.",
    ):
        return [] if own and not won and not left else [told]
    faults = _numbers(world, claim, told.removeprefix("Only "), could)
    if told.startswith("Only "):
        mine = sum(one.count for one in here if one.claim_id == claim.id)
        return faults + ([] if mine == sum(one.count for one in could) else [told])
    found = OTHERS.search(told)
    if not found:
        return [*faults, f"no such sentence: {told}"]
    asked = {one.household_id for one in world.case.claims if one.variety_id == claim.variety_id}
    asked |= {who for (who, kind), count in world.of.items() if kind == claim.variety_id and count}
    others = len(asked - {claim.household_id})
    if int(found["k"]) != others or (found["noun"] == "household") != (others == 1):
        faults.append(f"{others} others asked")
    rest = found["rest"]
    mine = OWN.fullmatch(rest)
    if (int(mine["own"]) if mine else 0) != own and not rest.endswith("left for this claim"):
        faults.append(f"{own} went to another claim of one's own")
    rest = mine["rest"] if mine else rest
    if left or not won:
        faults.append("it did not all go to others")
    return faults + _where(world, claim, rest, won, sum(one.count for one in could))


def _numbers(world, claim, told, could):
    found = COUNTS.match(told)
    if not found:
        return [f"no such sentence: {told}"]
    number, every = sum(one.count for one in could), 0
    for one in world.case.spares:
        if one.variety_id == claim.variety_id and one.household_id not in world.gone:
            every += one.count * (one.household_id != claim.household_id)
    faults = [] if int(found["n"]) == number else [f"{number} could have come"]
    if int(found["all"] or found["n"]) != every:
        faults.append(f"{every} were offered")
    counted = int(found["all"] or found["n"])
    if (found["noun"] == "plant") != (counted == 1):
        faults.append("singular and plural")
    if not found["all"] and (found["verb"] == "was offered") != (counted == 1):
        faults.append("was and were")
    return faults


def _where(world, claim, rest, won, offered):
    """Hold where plants went against the result."""
    if rest in ("none was left for this claim", "no more was left for this claim"):
        return []
    subject, _, where = rest.partition(" went ")
    some = world.got[claim.id] or offered > sum(one.count for one in won)
    faults = (
        [] if subject == ("the rest" if some else "it" if offered == 1 else "they") else [subject]
    )
    home = {one.id: one.household_id for one in world.case.claims}
    winners = Counter()
    for one in won:
        winners[home[one.claim_id]] += one.count
    for pattern, number, holds in PLACES:
        if re.fullmatch(pattern, where):
            if number and (number == 1) != (len(winners) == 1):
                faults.append("singular and plural")
            return faults if holds(world, claim, won, winners) else [*faults, where]
    return [*faults, f"no such place: {where}"]


def _higher(world, claim, won, _winners):
    return all(
        world.claims[one.claim_id].choice < claim.choice
        and world.claims[one.claim_id].variety_id == claim.variety_id
        for one in won
    )


def _none_yet(world, claim, _won, winners):
    kind = claim.variety_id
    return world.of[claim.household_id, kind] >= 1 and all(
        world.of[one, kind] == 1 for one in winners
    )


def _less(world, claim, _won, winners):
    mine = world.plants(claim.household_id)
    return all(world.plants(one) - 1 < mine for one in winners)


def _scarcer(world, claim, winners):
    mine = world.plants(claim.household_id, world.scarce)
    return [
        claim.variety_id in world.scarce and world.plants(one, world.scarce) - 1 < mine
        for one in winners
    ]


def _sooner(world, claim, winners):
    return [world.begins(one) < world.begins(claim.household_id) for one in winners]


def _no_more(world, claim, _won, winners):
    mine = world.of[claim.household_id, claim.variety_id]
    return mine > 0 and all(world.of[one, claim.variety_id] <= mine for one in winners)


def _new_places(world, claim, won, _winners):
    kind = claim.variety_id
    stood = world.keeps(kind)
    came = Counter()
    for one in world.allocations:
        if world.spares[one.spare_id].variety_id == kind:
            came[world.claims[one.claim_id].place_id] += one.count
    there = {world.claims[one.claim_id].place_id for one in won}
    mine = claim.place_id in stood or came[claim.place_id] > 0
    return (
        world.varieties[kind].must_not_be_lost
        and mine
        and all(one not in stood and came[one] == 1 for one in there)
    )


def _safer(world, claim, won, _winners):
    kind = claim.variety_id
    there = {world.claims[one.claim_id].place_id for one in won}
    mine = world.loses(kind, claim.place_id)
    return world.varieties[kind].must_not_be_lost and all(
        world.loses(kind, one) < mine for one in there
    )


def _costs(number):
    def holds(world, claim, won, _winners):
        now = world.parcels(world.allocations)[number]
        return all(world.parcels(world.moved(one, claim))[number] > now for one in won)

    return holds


def _equal(world, claim, one):
    """Say whether nothing would be worse or better by one plant more here and one less there, save the draw."""
    other, kind = world.claims[one.claim_id], claim.variety_id
    me, them = claim.household_id, other.household_id
    if (other.choice, other.variety_id) != (claim.choice, kind):
        return False
    if kind in world.scarce:
        if (world.of[me, kind] == 0) != (world.of[them, kind] == 1):
            return False
        mine = world.begins(me) + world.plants(me, world.scarce)
        if mine != world.begins(them) + world.plants(them, world.scarce) - 1:
            return False
    if world.parcels(world.moved(one, claim)) != world.parcels(world.allocations):
        return False
    return world.lot(claim.id) < world.lot(other.id)


PLACES = (
    ("to a member who had put it higher among their wishes", 1, _higher),
    ("to members who had put it higher among their wishes", 2, _higher),
    ("to a household that had none of it yet", 1, _none_yet),
    ("to households that had none of it yet", 2, _none_yet),
    ("to a household that had been given less", 1, _less),
    ("to households that had been given less", 2, _less),
    ("to a household that had been given less of what is scarce", 1, lambda w, c, _, n: all(_scarcer(w, c, n))),
    ("to households that had been given less of what is scarce", 2, lambda w, c, _, n: all(_scarcer(w, c, n))),
    ("to a household that comes earlier for what it gave and received", 1, lambda w, c, _, n: all(_sooner(w, c, n))),
    ("to households that come earlier for what they gave and received", 2, lambda w, c, _, n: all(_sooner(w, c, n))),
    (
        "to households that had been given less of what is scarce or come earlier for what they gave and received",
        2,
        lambda w, c, _, n: all(map(max, _scarcer(w, c, n), _sooner(w, c, n))),
    ),
    ("to a household that has no more of it than you", 1, _no_more),
    ("to households that have no more of it than you", 2, _no_more),
    ("where there was none of it, as it must not be lost", 0, _new_places),
    ("where it is safer, as it must not be lost", 0, _safer),
    ("so that fewer parcels are needed", 0, _costs(0)),
    ("so that less postage is needed", 0, _costs(1)),
    ("by the draw number, since all was equal", 0, lambda w, c, won, _: all(_equal(w, c, one) for one in won)),
    ("to others by the rules, some of them by the draw number", 0, lambda w, c, won, _: any(_equal(w, c, one) for one in won)),
    ("to others by the rules in their order", 0, lambda _w, _c, _won, _n: True),
)  # fmt: skip


def _nearest(wall):
    """Say whether a wall is the nearest of those between the spares of a variety and a claim."""
    order = ("left", "own", "held", "material", "days", "border", "shelter", "room", "apart", "")

    def holds(world, claim, _told):
        met = world.of_claim(claim)
        return bool(met) and max(met, key=order.index) == wall

    return holds


def _shelter(world, claim, told):
    if not _nearest("shelter")(world, claim, told):
        return False
    days = [world.first_fit(one, claim) for one in world.of_claim(claim)["shelter"]]
    known = [one for one in days if one is not None]
    if not known:
        return told.endswith("would stand.")
    fits = min(known)
    return told.endswith(f" before about {fits.day}\N{NO-BREAK SPACE}{dates.month(fits)}.")


def _room(world, claim, _told):
    """What is left of what could have come has no room now, or where nothing is left, all of it; or it never had."""
    met = world.of_claim(claim)
    near = met.get("") or met.get("room", [])
    near = [one for one in near if world.sent[one.id] < one.count] or near
    return bool(near) and all(world.wall(one, claim, world.free_after) == "room" for one in near)


WALLS = {
    r"Nobody offers it\.": lambda world, claim, _: not world.of_claim(claim),
    r"Whoever offered or claimed it has left the circle\.": _nearest("left"),
    r"The only plants offered are your own household’s\.": _nearest("own"),
    r"It is held back: the variety may be protected\. Ask .+\.": _nearest("held"),
    r"It is offered, but not as anything ticked in the claim\.": _nearest("material"),
    r"It is offered, but on no day on which it could be posted and would still be of use\.": _nearest(
        "days"
    ),
    r"A border lies between\. .+": _nearest("border"),
    r"There is no shelter for it where it would stand.*\.": _shelter,
    r"There is no room left for it where it would stand\.": _room,
    r"The organiser keeps these two apart, and has said why\.": _nearest("apart"),
}
