"""Packed workbooks: what holds far more than it says, or than any list does, is refused unopened."""

import subprocess
import sys
import zipfile
from io import BytesIO

import pytest

from exchange.sheets.packed_file import MOST_PARTS, packed_anew, unpacked
from exchange.sheets.refused_file import UnreadableFileError
from tests.builders.workbooks import packed, xlsx
from tests.house import ROOT

MOST_MEMORY_MB = 100
MEASURE = """
import sys
from exchange.sheets.any_file import read_sheets
from exchange.sheets.refused_file import UnreadableFileError
try:
    read_sheets("a.xlsx", open(sys.argv[1], "rb").read())
except UnreadableFileError as refused:
    print(refused)
with open("/proc/self/status") as status:
    print(next(int(line.split()[1]) / 1024 for line in status if line.startswith("VmHWM")))
"""


def bomb(megabytes=900):
    """Give a workbook of under 1 MB with one sheet of that size."""
    file = BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as made:
        made.writestr("xl/workbook.xml", "<workbook/>")
        with made.open("xl/worksheets/sheet1.xml", "w") as part:
            for _each in range(megabytes):
                part.write(b" " * 1024 * 1024)
    return file.getvalue()


def lying(content, says=1000):
    """Give a packed file whose parts say that they are small, in both places where they say so."""
    file = bytearray(content)
    with zipfile.ZipFile(BytesIO(content)) as packed_file:
        for one in packed_file.infolist():
            size = one.file_size.to_bytes(4, "little")
            for mark in (b"PK\x01\x02", b"PK\x03\x04"):
                at = file.find(mark)
                while at >= 0:
                    offset = at + (24 if mark == b"PK\x01\x02" else 22)
                    if file[offset : offset + 4] == size:
                        file[offset : offset + 4] = min(one.file_size, says).to_bytes(4, "little")
                    at = file.find(mark, at + 4)
    return bytes(file)


@pytest.mark.parametrize("make", [bomb, lambda: lying(bomb())], ids=["bomb", "lying bomb"])
def test_a_bomb_is_refused_in_little_memory(make, tmp_path):
    content = make()
    (tmp_path / "bomb.xlsx").write_bytes(content)

    answer = subprocess.run(
        [sys.executable, "-c", MEASURE, tmp_path / "bomb.xlsx"],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip

    sentence, memory = answer.stdout.splitlines()
    assert len(content) < 1024 * 1024
    assert "spreadsheet" in sentence
    assert float(memory) < MOST_MEMORY_MB


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (packed({f"part{at}.xml": "" for at in range(MOST_PARTS + 1)}), "far larger"),
        (packed({"a.xml": "a" * 3_000_000}), "far larger"),
        (xlsx(One=[["a"]])[:-40], "damaged"),
        (b"PK\x03\x04" + b"\0" * 200, "damaged"),
    ],
)
def test_what_holds_too_much_or_is_damaged_is_refused(content, sentence):
    with pytest.raises(UnreadableFileError, match=sentence):
        unpacked(content)


def test_two_parts_of_one_name_are_refused():
    file = BytesIO()
    with zipfile.ZipFile(file, "w") as made:
        made.writestr("xl/workbook.xml", "<a/>")
        with pytest.warns(UserWarning, match="Duplicate name"):
            made.writestr("xl/workbook.xml", "<b/>")

    with pytest.raises(UnreadableFileError, match="damaged"):
        unpacked(file.getvalue())


def test_parts_are_packed_anew_as_they_were():
    parts = unpacked(xlsx(One=[["a", 1]]))

    assert unpacked(packed_anew(parts)) == parts
