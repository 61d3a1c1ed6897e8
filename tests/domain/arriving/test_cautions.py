import pytest

from exchange.domain.arriving.cautions import (
    Authority,
    Caution,
    CautionKind,
    cautions,
    plant_health_authority,
)
from exchange.domain.growing.batch import Material
from exchange.domain.growing.variety import Species
from tests.builders.arrivals import a_line


def kinds_for(*lines):
    return {caution.kind for caution in cautions(lines, "GB", "ENG")}


@pytest.mark.parametrize(
    ("country", "subdivision", "authority"),
    [
        ("GB", "ENG", Authority.APHA),
        ("GB", "", Authority.APHA),
        ("GB", "SCT", Authority.SCOTTISH_GOVERNMENT),
        ("GB", "NIR", Authority.DAERA),
        ("US", "OR", Authority.USDA_APHIS),
        ("NZ", "AUK", Authority.NATIONAL_PLANT_HEALTH),
    ],
)
def test_plant_health_is_left_to_the_authority_of_the_place(country, subdivision, authority):
    found = cautions([a_line()], country, subdivision)

    assert plant_health_authority(country, subdivision) is authority
    assert found[-1] == Caution(CautionKind.APART, authority)


def test_the_knife_is_spoken_of_where_something_is_cut():
    assert CautionKind.KNIFE not in kinds_for(a_line())
    assert CautionKind.KNIFE in kinds_for(a_line(material=Material.UNROOTED))


def test_compost_is_spoken_of_always():
    assert CautionKind.COMPOST in kinds_for(a_line(species=Species.FUCHSIA))


def test_sap_and_pets_only_where_the_plant_is_known_for_it():
    assert {CautionKind.SAP, CautionKind.PETS} <= kinds_for(a_line(species=Species.DAHLIA))
    assert not {CautionKind.SAP, CautionKind.PETS} & kinds_for(a_line(species=Species.FUCHSIA))
