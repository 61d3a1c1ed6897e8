"""For every form that creates there is a change, an undo, or a sentence that says why not.

The routes that create are found from the syntax tree (`tests/creating.py`), so a new one is missing from
the table until somebody says how it is mended; each line of the table is then really done.
"""

import pytest

from tests.app_fixtures import Site
from tests.builders.mended import TABLE
from tests.builders.mended.parcels import PARCELS
from tests.builders.mended.scene import Scene, created, taken_back
from tests.builders.season_kept import keep_season
from tests.creating import creating_routes

NOT_SEEN = {
    "parcels.keep_posted": "alters a parcel, and is told like something new",
    "read_in.bring": "brings rows in by a table of what each kind of row does",
    "write.send": "letters are else written by the program itself",
}
"""Routes of the table that are not found to create, each with what they are."""
WAYS = [
    pytest.param(endpoint, way, id=f"{endpoint} {way}")
    for endpoint, one in sorted(TABLE.items())
    for way in ("undo", "change", "sentence")
    if getattr(one, way)
]


@pytest.fixture(scope="module")
def kept(tmp_path_factory):
    return keep_season(tmp_path_factory.mktemp("kept"), asked=3, count=6)


@pytest.fixture
def scene(request, installation, circle):
    """Give a circle of its own; for parcels a planned season."""
    if request.param not in PARCELS:
        return Scene(installation, circle)
    here, season = request.getfixturevalue("both")
    return Scene(here, season.ring, season)


def test_every_route_that_creates_says_how_it_is_mended(here: Site):
    found = creating_routes(here.app)

    assert found.keys() - TABLE.keys() == set()
    assert TABLE.keys() - found.keys() == NOT_SEEN.keys()


def test_every_line_says_at_least_one_thing():
    assert [
        name for name, one in TABLE.items() if not (one.undo or one.change or one.sentence)
    ] == []


@pytest.mark.parametrize(("scene", "way"), WAYS, indirect=["scene"])
def test_what_was_created_is_mended(request, scene, way):
    endpoint = request.node.callspec.params["scene"]
    line = TABLE[endpoint]
    if line.prepare:
        line.prepare(scene)
    before = scene.table(line.noun)

    line.create(scene)
    after = scene.table(line.noun)
    rows = created(before, after)
    if way != "sentence":
        getattr(line, way)(scene)
    now = scene.table(line.noun)

    assert rows, "something was created"
    if way == "undo":
        assert all(taken_back(line.noun, key, before, now) for key in rows)
    elif way == "change":
        assert any(now[key] != after[key] for key in rows)
    else:
        assert line.sentence in scene.said
