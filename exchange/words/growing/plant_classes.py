"""Groups and sizes in words."""

from exchange.domain.growing.plant_class import ClassSort, PlantClass

SORTS = {ClassSort.GROUP: "group", ClassSort.SIZE: "size"}


def class_words(one: PlantClass) -> str:
    """Give "4 Waterlily" of a group, which growers call by number too, and "Giant (over 250 mm)" of a size."""
    return f"{one.position} {one.label}" if one.sort is ClassSort.GROUP else one.label


def class_fact(one: PlantClass) -> tuple[str, str]:
    """Give a class as a fact: ("Group", "4 Waterlily")."""
    return sort_words(one), class_words(one)


def sort_words(one: PlantClass) -> str:
    """Give "Group" or "Size"."""
    return SORTS[one.sort].capitalize()
