"""What was read of a text beside what was expected of it, line by line."""

from dataclasses import dataclass
from pathlib import Path

from exchange.domain.growing.names import fold
from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What
from exchange.domain.sharing.box.reading import read_lines

TEXTS = Path(__file__).parent / "texts"
KNOWN = tuple((TEXTS / "known.names").read_text(encoding="utf-8").splitlines())
_FOLDED = frozenset(map(fold, KNOWN))
TAB = "⇥"
"""Stands for a tab in the texts, so that no editor changes it."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What is expected of a line: "?" must be asked, "-" is not said."""

    what: str
    count: str
    material: str
    raised: str
    name: str


def text_and_expected(path: Path) -> tuple[str, dict[int, Expected]]:
    """Read a text and, by number of the line, what is expected of it; other lines are no spares."""
    text, _rule, table = path.read_text(encoding="utf-8").partition("\n====\n")
    rows = [[cell.strip() for cell in row.split("|")] for row in table.strip().splitlines()]
    return text.replace(TAB, "\t"), {int(row[0]): Expected(*row[1:]) for row in rows}


def scored(path: Path) -> list[tuple[int, str]]:
    """Say of every line: "right", "left out", "asked", "refused" or "wrong: ..." """
    text, expected = text_and_expected(path)
    read = {one.number: one for one in read_lines(text, KNOWN)}
    numbers = sorted({*read, *expected})
    return [(number, score(read.get(number), expected.get(number))) for number in numbers]


def score(read: BoxEntry | None, expected: Expected | None) -> str:
    """Judge one line; only what is wrong without being asked about is wrong."""
    if expected is None:
        return _of_no_spare(read)
    if read is None:
        return "wrong: missing"
    if read.fault:
        return "refused"
    if read.what is What.OUT:
        return "wrong: left out"
    wrong = [
        name
        for name, doubt, said, wanted in _fields(read, expected)
        if doubt not in read.doubts and said != wanted
    ]
    if wrong:
        return "wrong: " + ", ".join(wrong)
    if read.doubts or fold(read.name) != fold(expected.name):
        return "asked"
    return "right"


def _of_no_spare(read: BoxEntry | None) -> str:
    if read is None or read.what is What.OUT:
        return "left out"
    return "asked" if BoxDoubt.WHAT in read.doubts else "wrong: no spare"


def _fields(read: BoxEntry, expected: Expected) -> list[tuple[str, BoxDoubt, str, str]]:
    count = str(read.count) if expected.count != "-" else "-"
    fields = [
        ("what", BoxDoubt.WHAT, read.what.value, expected.what),
        ("count", BoxDoubt.COUNT, count, expected.count),
    ]
    if read.what is What.SPARE:
        material = read.material.value if read.material else "nothing"
        fields.append(("material", BoxDoubt.MATERIAL, material, expected.material))
        raised = read.raised.value if read.raised else "-"
        fields.append(("raised", BoxDoubt.RAISED, raised, expected.raised))
    # A name the circle does not know is always asked about.
    if fold(read.name) in _FOLDED:
        fields.append(("name", BoxDoubt.NAME, fold(read.name), fold(expected.name)))
    return fields


def counts() -> dict[str, int]:
    """Count the lines of all texts by how they were read."""
    found: dict[str, int] = {}
    for path in sorted(TEXTS.glob("*.txt")):
        for _number, said in scored(path):
            kind = said.partition(":")[0]
            found[kind] = found.get(kind, 0) + 1
    return found


if __name__ == "__main__":
    print(counts())
