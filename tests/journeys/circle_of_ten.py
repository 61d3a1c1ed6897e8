"""A circle of ten of our own invention: its people, 25 spares and 40 claims, for journeys that start from nothing."""

ORGANISER = "Ada Orchard"
PEOPLE = (
    ("Morag Ross", "Oban"),
    ("Alan Pugh", "Bangor, Gwynedd"),
    ("Hob Tarn", "Kendal, Cumbria"),
    ("Effie Lorn", "Inverness"),
    ("Cuthbert Quay", "Penzance"),
    ("Tamsin Fell", "Norwich"),
    ("Odo Marsh", "Totnes"),
    ("Winnie Combe", "Shrewsbury"),
    ("Ismay Dale", "Ripon"),
)
"""Nine members beside the organiser, each with a town."""

_SENT_AS = ("rooted", "young plants", "pot tubers")
_FIRST = ("Amber", "Brindle", "Copper", "Dusky", "Ember")
_SECOND = ("Harrow", "Kettle", "Lantern", "Sexton", "Turnstile")
VARIETIES = tuple(f"{first} {second}" for first in _FIRST for second in _SECOND)
"""Twenty-five dahlias."""

SPARES = tuple(
    (PEOPLE[at % len(PEOPLE)][0], 2 + at % 3, _SENT_AS[at % 3], name)
    for at, name in enumerate(VARIETIES)
)
"""Owner, number, what it is sent as, and the variety; one spare of each."""

CLAIMS = tuple(
    (PEOPLE[(at // 25 + at + 4) % len(PEOPLE)][0], VARIETIES[at % len(VARIETIES)], 1 + at // 25)
    for at in range(40)
)
"""Who would like one of what, and as which choice; nobody asks for what they offer."""


def spare_lines() -> str:
    """Give the spares as one would paste them, each member's under the name."""
    return _under_names(
        (owner, f"{count} {sent_as} Dahlia {name}") for owner, count, sent_as, name in SPARES
    )


def claim_lines() -> str:
    """Give the claims as one would paste them, each member's under the name."""
    ranks = {1: "first", 2: "second"}
    return _under_names(
        (who, f"I would like 1 Dahlia {name}, {ranks[rank]} choice") for who, name, rank in CLAIMS
    )


def _under_names(pairs):
    lines = {}
    for who, line in pairs:
        lines.setdefault(who, []).append(line)
    return "\n".join("\n".join([f"{who}:", *one]) for who, one in lines.items())
