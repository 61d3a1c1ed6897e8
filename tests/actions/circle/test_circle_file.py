"""The file of a circle: documented, written whole or not at all, and of earlier versions too."""

import json
import lzma
import re
import stat
from datetime import UTC, datetime
from io import BytesIO

import pytest
from sqlalchemy import JSON, Boolean, Date, DateTime, Float, Integer, Text, select

from exchange.actions.circle import circle_file
from exchange.actions.circle.circle_file import (
    ExportRefusedError,
    ImportRefusedError,
    export_circle,
    import_circle,
)
from exchange.actions.kernel.actor import NotAllowedError
from exchange.actions.kernel.services import open_house
from exchange.records import Books
from exchange.records.tables import Base
from exchange.records.upgrade import newest, revision
from exchange.records.whole_circle import _tables_in, to_json
from exchange.settings import Settings
from tests.app_fixtures import NOW, a_house, ring
from tests.house import ROOT
from tests.records.kept_circles.kept import FOLDER
from tests.records.kept_circles.raw import tables_of
from tests.records.test_kept_circles import lost

DOCUMENT = (ROOT / "docs" / "circle_file.md").read_text(encoding="utf-8")
KINDS = {
    Boolean: "yes or no",
    Date: "day",
    DateTime: "instant",
    Float: "figure",
    Integer: "number",
    JSON: "JSON",
    Text: "text",
}


@pytest.fixture
def house(tmp_path):
    (tmp_path / "data").mkdir()
    with a_house(tmp_path / "data") as made:
        yield made


@pytest.fixture
def circle(house):
    return ring(house)


@pytest.fixture
def empty(tmp_path):
    """Give a house whose database has no tables yet."""
    (tmp_path / "new").mkdir()
    made = open_house(Settings(data_folder=tmp_path / "new"), str)
    yield made
    made.books.close()


@pytest.fixture
def whole(circle):
    stream = BytesIO()
    export_circle(circle.actor("Winnie"), stream, NOW)
    return json.loads(stream.getvalue())


def taken_in(house, whole):
    return import_circle(house, BytesIO(json.dumps(whole).encode()))


def test_a_circle_is_taken_in_as_it_was(circle, house, empty, tmp_path):
    written = export_circle(circle.actor("Winnie"), tmp_path / "ours.json", NOW)

    read = import_circle(empty, tmp_path / "ours.json")

    assert read == written
    assert read.circle == "The Lowmoor Circle"
    assert tables_of(empty.books.engine) == tables_of(house.books.engine)


def test_the_file_is_private_and_says_what_it_is(circle, tmp_path):
    export_circle(circle.actor("Winnie"), tmp_path / "ours.json", NOW)

    whole = json.loads((tmp_path / "ours.json").read_text(encoding="utf-8"))
    assert stat.S_IMODE((tmp_path / "ours.json").stat().st_mode) == 0o600
    assert whole.pop("tables")
    assert whole == {
        "format": "growers-circle",
        "form": 1,
        "revision": newest(),
        "made_at": NOW.isoformat(),
        "circle": "The Lowmoor Circle",
    }


def test_another_circle_of_the_installation_is_not_in_it(house, circle, empty):
    ring(house, "The Overfell Ring", ("Ismay",), "Tarn")
    stream = BytesIO()

    export_circle(circle.actor("Winnie"), stream, NOW)

    assert "Tarn" not in stream.getvalue().decode()


def test_only_the_organiser_has_it(circle, tmp_path):
    with pytest.raises(NotAllowedError):
        export_circle(circle.actor("Effie"), tmp_path / "ours.json", NOW)


def test_a_file_that_is_there_is_left_as_it_is(circle, tmp_path):
    (tmp_path / "there").write_text("mine")

    with pytest.raises(ExportRefusedError, match="already"):
        export_circle(circle.actor("Winnie"), tmp_path / "there", NOW)

    assert (tmp_path / "there").read_text() == "mine"


def test_without_room_nothing_is_left(circle, tmp_path, monkeypatch):
    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(circle_file.os, "fsync", full)

    with pytest.raises(ExportRefusedError, match="No space left"):
        export_circle(circle.actor("Winnie"), tmp_path / "ours.json", NOW)

    assert not (tmp_path / "ours.json").exists()


def test_nothing_is_taken_in_beside_another_circle(house, whole):
    with pytest.raises(ImportRefusedError, match="hold something already"):
        taken_in(house, whole)


@pytest.mark.parametrize(
    ("spoil", "sentence"),
    [
        (lambda whole: whole.update(format="letter"), "does not hold a circle"),
        (lambda whole: whole.update(form=2), "newer version"),
        (lambda whole: whole.update(revision="9999"), "newer version"),
        (lambda whole: whole.pop("tables"), "not whole"),
        (lambda whole: whole["tables"].update(member={}), "not whole"),
        (lambda whole: whole["tables"].update(member=[7]), "not whole"),
        (lambda whole: whole["tables"].update(circle=[]), "exactly the one circle"),
        (lambda whole: whole["tables"]["member"][0].pop("email"), "does not fit"),
    ],
)
def test_what_is_no_whole_circle_is_refused(empty, whole, spoil, sentence):
    spoil(whole)

    with pytest.raises(ImportRefusedError, match=sentence):
        taken_in(empty, whole)


@pytest.mark.parametrize("content", [b"", b"Dear all", b"\xff\xfe", b"[]", b'{"a": 1'])
def test_another_file_is_refused(empty, content):
    with pytest.raises(ImportRefusedError, match=r"not JSON|does not hold a circle"):
        import_circle(empty, BytesIO(content))


def test_after_a_refusal_the_mended_file_is_taken_in(empty, whole):
    spoilt = json.loads(json.dumps(whole))
    spoilt["tables"]["member"][0].pop("email")
    with pytest.raises(ImportRefusedError):
        taken_in(empty, spoilt)

    assert taken_in(empty, whole).circle == "The Lowmoor Circle"


def test_a_file_of_an_earlier_version_is_brought_up_to_date_without_loss(empty, tmp_path):
    old = tmp_path / "old.sqlite"
    old.write_bytes(lzma.decompress((FOLDER / "0004.sqlite.xz").read_bytes()))
    books = Books(f"sqlite:///{old}")
    with books.engine.begin() as connection:
        members = "SELECT id FROM member WHERE circle_id = 1"
        for table in reversed(_tables_in(connection).values()):
            other = {
                "account": "id < 0",
                "one_time_link": f"member_id NOT IN ({members})",
                "circle": "id <> 1",
            }.get(table.name, "circle_id <> 1")
            connection.exec_driver_sql(f"DELETE FROM {table.name} WHERE {other}")  # noqa: S608 - our own tables and texts
        rows = {
            name: [
                {column: to_json(_in_utc(value)) for column, value in row.items()}
                for row in connection.execute(select(table)).mappings()
            ]
            for name, table in _tables_in(connection).items()
        }
    before = tables_of(books.engine)
    books.close()
    head = {"format": "growers-circle", "form": 1, "revision": "0004"}

    taken_in(empty, {**head, "circle": rows["circle"][0]["name"], "tables": rows})

    assert revision(empty.books) == newest()
    assert lost(before, tables_of(empty.books.engine)) == []
    assert len(before["parcel"]) > 10


def _in_utc(value):
    return value.replace(tzinfo=UTC) if isinstance(value, datetime) else value


def documented():
    """Read the columns of each table and what they hold from the guide."""
    rows = re.findall(r"^\| `(\w+)` \| [A-Z].*? \| (`.*) \|$", DOCUMENT, re.MULTILINE)
    return {
        name: dict(re.findall(r"`(\w+)` ([a-zA-Z ]+?)(?: or null)?(?:,|$)", columns))
        for name, columns in rows
    }


def test_every_table_and_column_is_documented_with_what_it_holds():
    ours = {
        table.name: {column.name: kind_of(column.type) for column in table.c}
        for table in Base.metadata.sorted_tables
    }

    assert documented() == ours


def kind_of(column_type):
    base = getattr(column_type, "impl", column_type)
    return next(word for kind, word in KINDS.items() if isinstance(base, kind))
