"""What the rows of a file mean beside what was understood: read right, asked, refused, left out, silently wrong."""

from collections import Counter
from dataclasses import dataclass, field
from datetime import date

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Keeps, Species, Variety
from exchange.domain.spreadsheet.choices import FileChoices, RowKind, SheetChoices
from exchange.domain.spreadsheet.known import KnownCircle, KnownMember, TownRead
from exchange.domain.spreadsheet.reading import read_file
from exchange.domain.spreadsheet.row import RowState
from exchange.sheets.any_file import read_sheets
from exchange.sheets.refused_file import UnreadableFileError

TODAY = date(2027, 4, 5)
_VARIETIES = (
    ("dahlia", "Tin Kettle"), ("dahlia", "Chapel Lantern"), ("pelargonium", "Brass Thimble"),
    ("fuchsia", "Aunt Verity"), ("dahlia", "Ludford Rust"), ("salvia", "Rust"), ("dahlia", "7 Sisters"),
    ("dahlia", "Ferry Light"), ("pelargonium", "Ferry Light"), ("dahlia", "Larksong 3"),
    ("dahlia", "Café Noir"), ("dahlia", "1928"),
)  # fmt: skip
_MEMBERS = ("Winnie Pellow", "Effie Marsh", "Cuthbert Dale", "Maud Hart", "Maud Finch", "Odo Birch")
_TOWNS = {"Ludlow": 1, "Penzance": 1, "Norwich": 1, "Inverness": 1, "Newport": 2}


def _town(text):
    number = _TOWNS.get(text, 0)
    towns = tuple((f"{text} {at}", text) for at in range(number))
    return TownRead(towns[0][0] if number == 1 else "", towns)


CIRCLE = KnownCircle(
    today=TODAY,
    varieties=tuple(
        Variety(at, Species(kind), name, Keeps.FAIRLY)
        for at, (kind, name) in enumerate(_VARIETIES, start=1)
    ),
    members=tuple(
        KnownMember(at, 100 + at, name.split()[0], name, f"{name.split()[0].lower()}{at}@example.org")
        for at, name in enumerate(_MEMBERS, start=1)
    ),
    town=_town,
)  # fmt: skip
SAID = SheetChoices(raised=Raised.COOL, ready_from=date(2027, 4, 12), send_by=date(2027, 5, 24))
"""What a secretary says of every sheet before anything else: the days and how plants were raised."""


@dataclass(frozen=True)
class DirtyFile:
    """A file and what its rows mean.

    Attributes
    ----------
    means : of each row of each sheet that is an entry, what it means, as `told` tells it
        ["sheet!row" or "row" where there is one sheet -> meaning]
    kinds : what the sheets are said to hold where they do not say so themselves
    right : which rows are read right; all others that mean something are asked about or refused
    """

    name: str
    content: bytes
    means: dict[str, str] = field(default_factory=dict)
    right: int = 0
    kinds: dict[str, RowKind] = field(default_factory=dict)
    refused: str = ""

    def __str__(self):
        return self.name


def choices_for(sheets, kinds):
    return FileChoices(
        sheets={
            one.name: SheetChoices(
                kind=kinds.get(one.name),
                raised=SAID.raised,
                ready_from=SAID.ready_from,
                send_by=SAID.send_by,
            )
            for one in sheets
        }
    )


def read(file):
    """Give the rows of a file as they are understood."""
    sheets = read_sheets(file.name, file.content).sheets
    return read_file(sheets, choices_for(sheets, file.kinds), CIRCLE)


def told(row, names):
    """Tell what a row would make, field by field."""
    said = row.said
    if row.kind is RowKind.MEMBERS:
        parts = [said["name"], said.get("town_key", ""), said.get("email", "")]
        return ", ".join(part for part in parts if part)
    meant = said["variety"]
    variety = (
        names[meant] if meant in names else f"{meant.removeprefix('new:')} {said['name']} (new)"
    )
    if row.kind is RowKind.VARIETIES:
        return f"{variety} {said.get('keeps', '')}".strip()
    whose = said["whose"].removeprefix("file:")
    who = names.get(f"member {whose}", whose)
    count = said["count"]
    if row.kind.of_a_row is RowKind.CLAIMS:
        choice = "" if said["choice"] == "1" else f" choice {said['choice']}"
        return f"{who}: wish {count} {variety}{choice}"
    days = ""
    if row.kind.of_a_row is RowKind.SPARES:
        usual = (SAID.ready_from.isoformat(), SAID.send_by.isoformat())
        window = (said["ready_from"], said["send_by"])
        days = "" if window == usual else f" {window[0]}..{window[1]}"
    what = "has" if row.kind.of_a_row is RowKind.STOCK else "gives"
    material = Material(said["material"]).value
    raised = "" if said["raised"] == Raised.COOL else f" {said['raised']}"
    return f"{who}: {what} {count} {material}{raised} {variety}{days}"


NAMES = {
    str(one.id): f"{one.species.value} {one.name}" for one in CIRCLE.varieties
} | {f"member {one.id}": one.full_name for one in CIRCLE.members}  # fmt: skip


def score(file):
    """Count the rows of a file: right, asked, refused, left out well, and each that is silently wrong."""
    try:
        reading = read(file)
    except UnreadableFileError:
        return Counter(refused=max(1, len(file.means))), []
    means = {key if "!" in key else f"{reading.sheets[0].name}!{key}": what for key, what in file.means.items()}  # fmt: skip
    counts, wrong = Counter(), []
    for row in reading.rows:
        meaning = means.pop(row.key, "")
        if row.state is RowState.ASKED:
            counts["asked"] += 1
        elif row.state is RowState.REFUSED:
            counts["refused"] += 1
        elif row.state is RowState.READY:
            if told(row, NAMES) == meaning:
                counts["right"] += 1
            else:
                wrong.append((row.key, told(row, NAMES), meaning))
        elif meaning and meaning != "there":
            wrong.append((row.key, row.state.value, meaning))
        else:
            counts["left out"] += 1
    kinds = {one.name: one.layout.kind for one in reading.sheets}
    for key, meaning in means.items():
        if kinds[key.split("!")[0]] is None:
            counts["asked"] += 1
        elif meaning != "there":
            wrong.append((key, "not read", meaning))
    return counts, wrong
