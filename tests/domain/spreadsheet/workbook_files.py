"""Dirty workbooks and lists of members, wishes, stock and varieties, and what their rows mean."""

from datetime import datetime

from exchange.domain.spreadsheet.choices import RowKind
from tests.builders.workbooks import csv, ods, xlsx
from tests.domain.spreadsheet.scoring import DirtyFile


def _joined(_book, sheet):
    sheet.write_row(0, 0, ["Variety", "Whose", "How many", "Sent as"])
    sheet.merge_range(1, 1, 2, 1, "Effie Marsh")
    for at, (name, number) in enumerate((("Tin Kettle", 2), ("Rust", 3), ("1928", 4)), start=1):
        sheet.write(at, 0, name)
        sheet.write(at, 2, number)
        sheet.write(at, 3, "rooted")
    sheet.write(3, 1, "Odo Birch")


JOINED = DirtyFile(
    "joined.xlsx",
    xlsx(Spares=_joined),
    {
        "2": "Effie Marsh: gives 2 rooted dahlia Tin Kettle",
        "3": "Effie Marsh: gives 3 rooted salvia Rust",
        "4": "Odo Birch: gives 4 rooted dahlia 1928",
    },
    right=2,
)


def _worked_out(_book, sheet):
    sheet.write_row(0, 0, ["Variety", "Whose", "How many", "Sent as"])
    rows = (("Tin Kettle", 3), ("Rust", None), ("1928", "#REF!"), ("Aunt Verity", 0))
    for at, (name, value) in enumerate(rows, start=1):
        sheet.write_row(at, 0, [name, "Effie Marsh"])
        sheet.write_formula(at, 2, "=1+2", None, "" if value is None else value)
        sheet.write(at, 3, "rooted")


WORKED_OUT = DirtyFile(
    "formulas.xlsx",
    xlsx(Spares=_worked_out),
    {
        "2": "Effie Marsh: gives 3 rooted dahlia Tin Kettle",
        "3": "never worked out", "4": "failed", "5": "0, or never worked out",
    },
    right=1,
)  # fmt: skip


def _typed(book, sheet):
    day = book.add_format({"num_format": "d mmm"})
    sheet.write_row(0, 0, ["Variety", "Whose", "How many", "Sent as", "Ready from", "Send by"])
    rows = (
        ("7 Sisters", 2, datetime(2027, 4, 20), datetime(2027, 6, 1)),
        (1928, 3, datetime(2027, 4, 20), 46540),
        ("Rust", 2.5, datetime(2027, 4, 20), datetime(2027, 6, 1)),
        ("Aunt Verity", True, datetime(2027, 4, 20), datetime(2027, 6, 1)),
    )
    for at, (name, number, first, last) in enumerate(rows, start=1):
        sheet.write_row(at, 0, [name, "Odo Birch", number, "young plant"])
        sheet.write_datetime(at, 4, first, day)
        sheet.write(at, 5, last, day if isinstance(last, datetime) else None)


TYPED = DirtyFile(
    "types.xlsx",
    xlsx(Spares=_typed),
    {
        "2": "Odo Birch: gives 2 young_plant dahlia 7 Sisters 2027-04-20..2027-06-01",
        "3": "a day that is only a number", "4": "two and a half", "5": "how many",
    },
    right=1,
)  # fmt: skip


def _hidden(_book, sheet):
    sheet.write_row(0, 0, ["Variety", "Whose", "How many"])
    sheet.write_row(1, 0, ["Rust", "Effie Marsh", 9])
    sheet.hide()


WHOLE = DirtyFile(
    "our circle.xlsx",
    xlsx(
        Members=[
            ["First name", "Surname", "Town", "E-mail"],
            ["Bert", "Vole", "Penzance", "bert@example.org"],
            ["Dora", "Lamb", "", ""],
            ["Effie", "Marsh", "Inverness", "effie2@example.org"],
        ],
        Varieties=[["Variety", "Kind", "Keeps"], ["Slate Roof", "Coleus", "badly"], ["Tin Kettle", "Dahlia", ""]],
        Spares=[
            ["Variety", "Whose", "How many", "Sent as"],
            ["Slate Roof", "Bert Vole", 4, "rooted"],
            ["Tin Kettle", "Dora Lamb", 2, "rooted"],
            ["Tin Kettle", "Bert", 3, "rooted"],
        ],
        Wishes=[["Variety", "Whose", "How many"], ["Slate Roof", "Effie", 1], ["Tin Kettle", "Bert Vole", 2]],
        Old=_hidden,
    ),
    {
        "Members!2": "Bert Vole, Penzance 0, bert@example.org",
        "Members!3": "Dora Lamb",
        "Members!4": "there",
        "Varieties!2": "coleus Slate Roof (new) badly",
        "Varieties!3": "there",
        "Spares!2": "bert vole: gives 4 rooted coleus Slate Roof (new)",
        "Spares!3": "of a member without a town",
        "Spares!4": "bert vole: gives 3 rooted dahlia Tin Kettle",
        "Wishes!2": "Effie Marsh: wish 1 coleus Slate Roof (new)",
        "Wishes!3": "bert vole: wish 2 dahlia Tin Kettle",
        "Old!2": "of another year, or not",
    },
    right=7,
)  # fmt: skip
ACROSS = DirtyFile(
    "wants across.xlsx",
    xlsx(
        Wants=[
            ["Who wants what, spring"],
            ["", "Effie", "Cuthbert", "Maud", "Bert", "Total"],
            ["Tin Kettle", 2, "x", 1, 1, 4],
            ["Rust", "1 spare?", "-", "", "", 1],
            ["Ferry Light", 1, "", "", "", 1],
            ["Aunt Verity", "", "2 (or 3)", 0, "", 3],
            ["Total", 3, 3, 1, 1, 8],
        ]
    ),
    {
        "3:2": "Effie Marsh: wish 2 dahlia Tin Kettle",
        "3:3": "of how many is x", "3:4": "of which Maud", "3:5": "of nobody known",
        "4:2": "a wish or a spare", "5:2": "of which kind", "6:3": "2 or 3",
    },
    right=1,
)  # fmt: skip
ACROSS_ODS = DirtyFile(
    "spares across.ods",
    ods(
        Spares=[
            ["Variety", "Sent as", "Effie Marsh", "Odo Birch", "Notes"],
            ["Tin Kettle", "rooted", 2, "", ""],
            ["Rust", "cuttings", "", 3, ""],
            ["1928", "pot tuber", 1, 4, "promised"],
        ]
    ),
    {
        "2:3": "Effie Marsh: gives 2 rooted dahlia Tin Kettle",
        "3:4": "rooted or not", "4:3": "promised", "4:4": "promised",
    },
    right=1,
)  # fmt: skip
REPEATS_ODS = DirtyFile(
    "repeats.ods",
    ods(
        Spares=(
            '<table:table-row><table:table-cell office:value-type="string"><text:p>Variety</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Whose</text:p></table:table-cell>'
            '<table:table-cell office:value-type="string"><text:p>How many</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Sent as</text:p></table:table-cell></table:table-row>'
            '<table:table-row table:number-rows-repeated="2"><table:table-cell office:value-type="string"><text:p>Rust</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>Odo Birch</text:p></table:table-cell>'
            '<table:table-cell office:value-type="float" office:value="2"><text:p>2</text:p></table:table-cell><table:table-cell office:value-type="string"><text:p>rooted</text:p></table:table-cell></table:table-row>'
            '<table:table-row table:number-rows-repeated="1048570"><table:table-cell table:number-columns-repeated="1024"/></table:table-row>'
        )
    ),
    {"2": "once or twice", "3": "once or twice"},
)
MEMBERS = DirtyFile(
    "members.csv",
    csv(
        ("Name", "Town", "Mail", "Tel"),
        ("Bert Vole", "Ludlow", "bert@example.org", "01632 960001"),
        ("Lamb, Dora", "Penzance", "", ""),
        ("Ann & Joe Fox", "Norwich", "fox@example.org", ""),
        ("Mrs Kettle", "Norwich", "k@example.org", ""),
        ("Ida van Rooy", "Norwich", "ida@example.org", ""),
        ("Sam Reed", "Ludlwo", "sam@example.org", ""),
        ("Tom Reed", "Newport", "tom@example.org", ""),
        ("Una Moss", "Norwich", "una at example.org", ""),
        ("Effie Marsh", "Inverness", "effie2@example.org", ""),
        ("E. Marsh", "Inverness", "effie2@example.org", ""),
        ("Odo Birch", "Norwich", "odo.new@example.org", ""),
        ("Bert Vole", "Ludlow", "bert@example.org", "01632 960001"),
    ),
    {
        "2": "Bert Vole, Ludlow 0, bert@example.org",
        "3": "Dora Lamb, Penzance 0",
        "4": "two people", "5": "no first name", "6": "which is the surname", "7": "no such town",
        "8": "of two towns", "9": "no address", "10": "there", "11": "perhaps Effie",
        "12": "perhaps Odo", "13": "there",
    },
    right=1,
)  # fmt: skip
WISHES = DirtyFile(
    "wish list.csv",
    csv(
        ("Variety", "Member", "Number", "Choice"),
        ("Tin Kettle", "Effie Marsh", "1", "1st"),
        ("Rust", "Effie Marsh", "2", "second choice"),
        ("1928", "Effie Marsh", "2+", "3"),
        ("7 Sisters", "Effie Marsh", "as many as you can", "1"),
        ("Ludford Rust", "Effie Marsh", "1", "high"),
        ("Aunt Verity", "Odo Birch", "", "1"),
        ("Brass Thimble", "Odo Birch", "1", ""),
        ("Tin Kettle", "Odo Birch", "1", "1"),
        ("Tin Kettle", "Odo", "1", "2"),
    ),
    {
        "2": "Effie Marsh: wish 1 dahlia Tin Kettle",
        "3": "Effie Marsh: wish 2 salvia Rust choice 2",
        "4": "2 or more", "5": "how many", "6": "which choice", "7": "how many", "8": "which choice",
        "9": "first or second", "10": "first or second",
    },
    right=2,
)  # fmt: skip
STOCK = DirtyFile(
    "stock count.csv",
    csv(
        ("Plant", "Grower", "Count", "As", "Remarks"),
        ("Tin Kettle", "Effie Marsh", "5", "pot tubers", ""),
        ("Rust", "Effie Marsh", "3", "young plants", "raised in heat"),
        ("1928", "Effie Marsh", "2", "tubers", ""),
        ("Aunt Verity", "Effie Marsh", "0", "rooted", ""),
        ("7 Sisters", "Effie Marsh", "4", "clump", "2 rotted"),
        ("Ludford Rust", "Effie Marsh", "x", "clump", ""),
    ),
    {
        "2": "Effie Marsh: has 5 pot_tuber dahlia Tin Kettle",
        "3": "in heat, if the remark is of how they were raised",
        "4": "what sort of tubers", "6": "2 or 4", "7": "how many",
    },
    right=1,
)  # fmt: skip
VARIETIES = DirtyFile(
    "variety list.csv",
    csv(
        ("Variety", "Kind", "Keeps", "Bred by"),
        ("Slate Roof", "Coleus", "badly", "a friend"),
        ("Tin Kettle", "Dahlia", "", ""),
        ("Chapel Lantern", "Dahlia", "well", ""),
        ("Tin Kettel", "Dahlia", "", ""),
        ("Paper Moon", "Dahlia", "so-so", ""),
        ("Harl", "Tulip", "", ""),
        ("Harl and Moon", "Dahlia", "", ""),
    ),
    {
        "2": "coleus Slate Roof (new) badly",
        "3": "there",
        "4": "keeps well, or fairly as was said",
        "5": "perhaps Tin Kettle", "6": "how it keeps", "7": "what kind", "8": "one or two",
    },
    right=1,
)  # fmt: skip
UNKNOWN = DirtyFile(
    "list of 2027.csv",
    csv(("Variety", "Who", "No"), ("Tin Kettle", "Effie Marsh", "2"), ("Rust", "Odo Birch", "1")),
    {"2": "grown, given or wanted", "3": "grown, given or wanted"},
)
HEADLESS = DirtyFile(
    "spares without headings.csv",
    csv(("Tin Kettle", "Effie Marsh", "2", "rooted"), ("Rust", "Odo Birch", "1", "rooted")),
    {"1": "Effie Marsh: gives 2", "2": "Odo Birch: gives 1"},
)
SAID_WISHES = DirtyFile(
    "list said to be wishes.csv",
    csv(
        ("Variety", "Who", "No"), ("Tin Kettle", "Effie Marsh", "2"), ("Rust", "Odo Birch", "lots")
    ),
    {"2": "Effie Marsh: wish 2 dahlia Tin Kettle", "3": "how many"},
    right=1,
    kinds={"list said to be wishes": RowKind.CLAIMS},
)
WORKBOOK_FILES = (
    JOINED, WORKED_OUT, TYPED, WHOLE, ACROSS, ACROSS_ODS, REPEATS_ODS, MEMBERS, WISHES, STOCK,
    VARIETIES, UNKNOWN, HEADLESS, SAID_WISHES,
)  # fmt: skip
