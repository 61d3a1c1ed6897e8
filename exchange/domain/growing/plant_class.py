"""Groups and sizes in which societies class the varieties of one kind."""

from dataclasses import KW_ONLY, dataclass
from enum import StrEnum

from exchange.domain.growing.variety import Species


class ClassSort(StrEnum):
    """What a class tells of a variety: the form of its flower or plant, or how large it is."""

    GROUP = "group"
    SIZE = "size"


@dataclass(frozen=True, slots=True)
class PlantClass:
    """A group or a size.

    Attributes
    ----------
    society : whose scheme it is of, since societies differ; may be empty
    position : its place in that scheme, from 1 on
    """

    id: int
    _: KW_ONLY
    species: Species
    sort: ClassSort
    label: str
    society: str = ""
    position: int = 1


USUAL_SOCIETY = "National Dahlia Society"
_DAHLIA_GROUPS = (
    "Single",
    "Anemone",
    "Collerette",
    "Waterlily",
    "Decorative",
    "Ball",
    "Pompon",
    "Cactus",
    "Semi-cactus",
    "Miscellaneous",
    "Fimbriated",
    "Single orchid",
    "Double orchid",
    "Peony",
)
_DAHLIA_SIZES = (
    "Giant (over 250 mm)",
    "Large (200 to 250 mm)",
    "Medium (150 to 200 mm)",
    "Small (100 to 150 mm)",
    "Miniature (up to 100 mm)",
)


def usual_classes(species: Species) -> tuple[tuple[ClassSort, str, int], ...]:
    """Give the groups and sizes most societies use for a kind; none where they have no common list.

    The dahlia groups follow the numbering of the international register of dahlia names
    (https://singwikicode.blogspot.com/2015/06/horticultural-classification-dahlia.html, read 26 November 2026);
    the sizes, by the width of the bloom, are those of British shows
    (https://bhhs.bigginhillvillage.co.uk/different-types-of-dahlia, read 26 November 2026).
    """
    if species is not Species.DAHLIA:
        return ()
    return tuple(
        (sort, label, position)
        for sort, labels in ((ClassSort.GROUP, _DAHLIA_GROUPS), (ClassSort.SIZE, _DAHLIA_SIZES))
        for position, label in enumerate(labels, start=1)
    )
