"""Kinds of plant, what they are sent as and how raised, as choices of forms."""

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.words.growing import plants

SENT_AS = [
    (one.value, plants.material(one).capitalize())
    for one in (
        Material.ROOTED,
        Material.UNROOTED,
        Material.YOUNG_PLANT,
        Material.POT_TUBER,
        Material.DIVISION,
        Material.CLUMP,
        Material.STOOL,
        Material.RHIZOME,
    )
]
RAISED = [(one.value, plants.raised(one).removeprefix("raised ").capitalize()) for one in Raised]
KINDS = [
    (one.value, plants.species(one) or "Another kind of plant")
    for one in (*(one for one in Species if one is not Species.OTHER), Species.OTHER)
]
NEW_KINDS = [one for one in KINDS if one[0] != Species.BEGONIA.value]
"""Kinds for a new name: of a begonia it is asked which."""
NEW = "new"
