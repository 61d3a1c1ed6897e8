import pytest

from exchange.reference.gazetteer import alike, folded, search

# positions from memory of an atlas, to a tenth of a degree
TOWNS = [
    ("Ludlow", 52.37, -2.72, "Shropshire", "ENG", "Europe/London"),
    ("Totnes", 50.43, -3.69, "Devon", "ENG", "Europe/London"),
    ("Stornoway", 58.21, -6.39, "Western Isles", "SCT", "Europe/London"),
    ("Westport", 53.80, -9.52, "Mayo", "", "Europe/Dublin"),
    ("Zwolle", 52.51, 6.09, "Overijssel", "", "Europe/Amsterdam"),
    ("Armagh", 54.35, -6.65, "Armagh", "NIR", "Europe/London"),
]


@pytest.mark.parametrize(("name", "latitude", "longitude", "county", "part", "zone"), TOWNS)
def test_towns_lie_where_they_lie(name, latitude, longitude, county, part, zone):
    found = search(name)[0]

    assert (found.town, found.county, found.subdivision, found.zone) == (name, county, part, zone)
    assert found.latitude == pytest.approx(latitude, abs=0.05)
    assert found.longitude == pytest.approx(longitude, abs=0.05)


def test_the_county_tells_towns_of_one_name_apart():
    found = [town for town in search("newport", most=20) if town.town == "Newport"]

    assert len(found) == 8
    assert len({(town.county, town.country) for town in found}) == 8
    assert "Essex" in {town.county for town in found}


def test_a_county_after_a_comma_narrows_the_search():
    assert [town.county for town in search("Newport, Essex")] == ["Essex"]


def test_a_postal_district_is_its_centre_named_by_the_nearest_town():
    found = search("SY8")[0]

    assert (found.town, found.district) == ("Ludlow", "SY8")
    assert found.latitude == pytest.approx(52.365, abs=0.001)
    assert found.longitude == pytest.approx(-2.695, abs=0.001)


@pytest.mark.parametrize("typed", ["sy8 1aa", "SY81AA", " Sy8 ", "SY8 1AA"])
def test_of_a_postcode_only_the_district_is_used(typed):
    assert search(typed) == search("SY8")


def test_a_district_nobody_knows_finds_nothing():
    assert search("ZZ99") == ()


def test_accents_capitals_and_hyphens_do_not_matter():
    assert folded("Saint-Germain É") == folded("saint germain e")
    assert search("kings lynn")[0].town == "King's Lynn"


@pytest.mark.parametrize("typed", ["St Ives", "St. Ives", "Saint Ives"])
def test_saint_is_written_either_way(typed):
    assert {town.county for town in search(typed)} >= {"Cornwall", "Cambridgeshire"}


def test_names_that_begin_with_the_words_follow_the_exact_name():
    names = [town.town for town in search("stoke", most=30)]

    assert names[0] == "Stoke"
    assert "Stoke-on-Trent" in names


def test_a_search_can_keep_to_one_country():
    assert {town.country for town in search("newport", country="IE", most=20)} == {"IE"}


def test_nothing_typed_finds_nothing():
    assert search("  ") == ()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Ludlo", "Ludlow"),
        ("Ldulow", "Ludlow"),
        ("Shrewsbery", "Shrewsbury"),
        ("Abergaveny", "Abergavenny"),
        ("Leominister, Herefordshire", "Leominster"),
        ("Ludlow, Shropshyre", "Ludlow"),
        ("bishops casle", "Bishop's Castle"),
    ],
)
def test_a_misspelt_town_is_found_by_likeness(typed, meant):
    assert alike(typed)[0].town == meant


def test_what_is_like_no_town_finds_none():
    assert alike("Xyzzyton") == alike("") == ()


def test_the_county_and_the_country_narrow_what_is_alike():
    everywhere = {town.county for town in alike("Newprt", most=9)}

    assert {"Essex", "Mayo"} <= everywhere
    assert {town.county for town in alike("Newprt, Essex")} == {"Essex"}
    assert {town.country for town in alike("Newprt", "IE", most=9)} == {"IE"}
