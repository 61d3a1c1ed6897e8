"""Groups and sizes of dahlias as the register and British shows number them."""

from exchange.domain.growing.plant_class import ClassSort, usual_classes
from exchange.domain.growing.variety import Species


def test_dahlia_groups_stand_under_their_numbers_of_the_register():
    groups = {
        position: label
        for sort, label, position in usual_classes(Species.DAHLIA)
        if sort is ClassSort.GROUP
    }

    assert sorted(groups) == list(range(1, 15))
    assert (groups[1], groups[4], groups[9], groups[14]) == (
        "Single",
        "Waterlily",
        "Semi-cactus",
        "Peony",
    )


def test_sizes_go_from_the_largest_to_the_smallest():
    sizes = [label for sort, label, _ in usual_classes(Species.DAHLIA) if sort is ClassSort.SIZE]

    assert sizes[0].startswith("Giant")
    assert sizes[-1].startswith("Miniature")
    assert len(sizes) == 5


def test_no_list_is_made_up_for_other_kinds():
    assert all(usual_classes(species) == () for species in Species if species is not Species.DAHLIA)
