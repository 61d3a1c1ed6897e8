import pytest

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Keeps, Species
from exchange.words.growing import plants


def plain(text):
    return text.replace("\u00a0", " ")


def test_plants_are_counted_named_and_told_how_raised():
    text = plants.so_many(3, Material.ROOTED, Species.DAHLIA, "Chapel Lantern", Raised.IN_HEAT)

    assert plain(text) == "3 rooted cuttings of Dahlia ‘Chapel Lantern’, raised in heat"


def test_resting_plants_were_not_raised_in_anything():
    text = plants.so_many(1, Material.POT_TUBER, Species.DAHLIA, "Old Sluice", Raised.IN_HEAT)

    assert plain(text) == "1 pot tuber of Dahlia ‘Old Sluice’"


def test_a_plant_of_no_known_kind_is_named_alone():
    assert plants.variety(Species.OTHER, "Ferry Bell") == "‘Ferry Bell’"


@pytest.mark.parametrize("kind", Material)
def test_one_and_many_differ(kind):
    assert plants.material(kind, 1) != plants.material(kind, 2)


def test_every_value_has_its_word():
    for values, word in (
        (Raised, plants.raised),
        (Keeps, plants.keeps),
        (ShelterKind, plants.shelter),
        (ShelterKind, plants.in_shelter),
    ):
        assert all(word(value).strip() for value in values)
        assert len({word(value) for value in values}) == len(values)
