"""Fifteen dirty text files of our own making, and what their rows mean."""

from tests.builders.workbooks import csv
from tests.domain.spreadsheet.scoring import DirtyFile

PLAIN = DirtyFile(
    "spares plain.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as"),
        ("Tin Kettle", "Effie Marsh", "3", "rooted"),
        ("Brass Thimble", "Odo", "2", "young plants"),
        ("", "", "", ""),
        ("chapel  lantern", "CUTHBERT DALE", "12", "Pot tuber"),
    ),
    {
        "2": "Effie Marsh: gives 3 rooted dahlia Tin Kettle",
        "3": "Odo Birch: gives 2 young_plant pelargonium Brass Thimble",
        "5": "Cuthbert Dale: gives 12 pot_tuber dahlia Chapel Lantern",
    },
    right=3,
)
SEMICOLONS = DirtyFile(
    "spares from germany.csv",
    csv(
        ("Name", "Whose", "Qty", "Sent as"),
        ("„Café Noir“", "Odo Birch", "2", "division"),
        ("‘Tin Kettle’", "Effie Marsh", "1,5", "rooted"),
        ("Tin Kettle, red", "Effie Marsh", "2", "rooted"),
        delimiter=";",
        encoding="cp1252",
    ),
    {
        "2": "Odo Birch: gives 2 division dahlia Café Noir",
        "3": "nobody knows how many",
        "4": "Effie Marsh: gives 2 rooted dahlia Tin Kettle",
    },
    right=1,
)
MARKED = DirtyFile(
    "spares marked.csv",
    "\ufeffPlant,Grower,No.,As\r\nTin Kettle,Effie Marsh,2,rooted cuttings\r\n".encode(),
    {"2": "Effie Marsh: gives 2 rooted dahlia Tin Kettle"},
    right=1,
)
TABS = DirtyFile(
    "my spares.txt",
    csv(
        ("Variety", "Member", "Quantity", "Sent as"),
        ("Café Noir", "Maud Finch", "4", "clumps"),
        delimiter="\t",
        encoding="utf-16",
    ),
    {"2": "Maud Finch: gives 4 clump dahlia Café Noir"},
    right=1,
)
SEPARATED = DirtyFile(
    "offers.csv",
    b"sep=;\nVariety;Whose;How many;Sent as\nTin Kettle;Effie Marsh;2;rooted\n",
    {"3": "Effie Marsh: gives 2 rooted dahlia Tin Kettle"},
    right=1,
)
ONE_COLUMN = DirtyFile(
    "names.csv",
    b"Variety\nTin Kettle\nTin Kettel\nOrchard Bell\n",
    {"2": "there", "3": "perhaps Tin Kettle", "4": "a new one, of some kind"},
)
AROUND = DirtyFile(
    "spring list.csv",
    csv(
        ("Our spares, spring 2027", "", "", ""),
        ("as of 1 April", "", "", ""),
        (),
        ("Variety", "Whose", "How many", "Sent as"),
        ("Tin Kettle", "Effie Marsh", "3", "rooted"),
        ("Variety", "Whose", "How many", "Sent as"),
        ("Aunt Verity", "Odo Birch", "1", "rooted"),
        ("Total", "", "4", ""),
        ("thank you all!", "", "", ""),
    ),
    {
        "5": "Effie Marsh: gives 3 rooted dahlia Tin Kettle",
        "7": "Odo Birch: gives 1 rooted fuchsia Aunt Verity",
    },
    right=1,
)
NUMBERS = DirtyFile(
    "spares numbers.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as"),
        *(
            (name, "Effie Marsh", number, "rooted")
            for name, number in (
                ("Tin Kettle", "ca. 3"),
                ("Chapel Lantern", "2-3"),
                ("Ludford Rust", "x2"),
                ("Rust", "half a dozen"),
                ("Brass Thimble", "2 St."),
                ("Aunt Verity", ""),
                ("7 Sisters", "?"),
                ("Larksong 3", "none"),
                ("Café Noir", "-4"),
                ("1928", "2.5"),
            )
        ),
    ),
    {
        "2": "about 3",
        "3": "2 or 3",
        "4": "Effie Marsh: gives 2 rooted dahlia Ludford Rust",
        "5": "Effie Marsh: gives 6 rooted salvia Rust",
        "6": "Effie Marsh: gives 2 rooted pelargonium Brass Thimble",
        "7": "nobody knows",
        "8": "nobody knows",
        "10": "nobody knows",
        "11": "nobody knows",
    },
    right=3,
)
IN_NAMES = DirtyFile(
    "spares in names.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as"),
        ("Tin Kettle (2)", "Effie Marsh", "3", "rooted"),
        ("3 x Brass Thimble", "Effie Marsh", "", "rooted"),
        ("Dahlia 'Chapel Lantern'", "Effie Marsh", "2", "rooted"),
        ("Chapel Lantern and Tin Kettle", "Effie Marsh", "2", "rooted"),
        ("Tin Kettle unrooted", "Effie Marsh", "2", "rooted"),
        ("LARKSONG 3", "Effie Marsh", "2", "rooted"),
        ("Larksong", "Effie Marsh", "2", "rooted"),
        ("1928", "Effie Marsh", "2", "rooted"),
    ),
    {
        "2": "2 or 3 of Tin Kettle",
        "3": "3 of Brass Thimble",
        "4": "Effie Marsh: gives 2 rooted dahlia Chapel Lantern",
        "5": "two plants of two kinds, or two of each",
        "6": "rooted or not",
        "7": "Effie Marsh: gives 2 rooted dahlia Larksong 3",
        "8": "perhaps Larksong 3",
        "9": "Effie Marsh: gives 2 rooted dahlia 1928",
    },
    right=3,
)
NEAR_NAMES = DirtyFile(
    "spares near names.csv",
    csv(
        ("Variety", "Kind", "Whose", "How many", "Sent as"),
        ("Tin Kettel", "Dahlia", "Odo Birch", "2", "rooted"),
        ("Ferry Light", "", "Odo Birch", "2", "rooted"),
        ("Ferry Light", "Pelargonium", "Odo Birch", "2", "rooted"),
        ("Tin Kettle", "Fuchsia", "Odo Birch", "2", "rooted"),
        ("Tin Kettle", "Dalia", "Odo Birch", "3", "young plant"),
        ("Orchard Bell", "Dahlia", "Odo Birch", "2", "rooted"),
        ("Orchard Bells", "Dahlia", "Odo Birch", "2", "rooted"),
        ("Harl", "Begonia", "Odo Birch", "2", "rooted"),
        ("Slate Roof", "Coleus", "Odo Birch", "2", "rooted"),
    ),
    {
        "2": "perhaps Tin Kettle",
        "3": "one of two kinds",
        "4": "Odo Birch: gives 2 rooted pelargonium Ferry Light",
        "5": "a fuchsia of a dahlia's name, or a slip",
        "6": "a word for the kind that is not known",
        "7": "Odo Birch: gives 2 rooted dahlia Orchard Bell (new)",
        "8": "perhaps Orchard Bell",
        "9": "of which kind of begonia",
        "10": "Odo Birch: gives 2 rooted coleus Slate Roof (new)",
    },
    right=3,
)
PEOPLE = DirtyFile(
    "spares people.csv",
    csv(
        ("Variety", "From", "How many", "Sent as"),
        ("Tin Kettle", "Maud", "2", "rooted"),
        ("Tin Kettle", "Maud Hart", "2", "rooted"),
        ("Chapel Lantern", "M. Hart", "2", "rooted"),
        ("Tin Kettle", "effie", "2", "rooted"),
        ("Tin Kettle", "Bert", "2", "rooted"),
        ("Tin Kettle", "", "2", "rooted"),
        ("Tin Kettle", "Effie and Odo", "2", "rooted"),
        ("Tin Kettle", "odo6@example.org", "2", "rooted"),
    ),
    {
        "2": "one of two",
        "3": "Maud Hart: gives 2 rooted dahlia Tin Kettle",
        "4": "perhaps Maud Hart",
        "5": "Effie Marsh: gives 2 rooted dahlia Tin Kettle",
        "6": "nobody known",
        "7": "nobody said",
        "8": "two people",
        "9": "Odo Birch: gives 2 rooted dahlia Tin Kettle",
    },
    right=3,
)
TWO_COUNTS = DirtyFile(
    "spares two columns.csv",
    csv(
        ("Variety", "Whose", "Stock", "Spares", "Sent as"),
        ("Tin Kettle", "Effie Marsh", "9", "2", "rooted"),
        ("Aunt Verity", "Odo Birch", "3", "3", "rooted"),
    ),
    {
        "2": "Effie Marsh: gives 2 rooted dahlia Tin Kettle",
        "3": "Odo Birch: gives 3 rooted fuchsia Aunt Verity",
    },
)
DAYS = DirtyFile(
    "spares days.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as", "Ready from", "Send by"),
        ("Tin Kettle", "Effie Marsh", "2", "rooted", "4/5/2027", "20/5/2027"),
        ("Rust", "Effie Marsh", "2", "rooted", "2027-04-20", "3/6/2027"),
        ("Aunt Verity", "Effie Marsh", "2", "rooted", "20 April 2027", "1 June 2027"),
        ("1928", "Effie Marsh", "2", "rooted", "", "31/5/27"),
        ("7 Sisters", "Effie Marsh", "2", "rooted", "mid May", "30/6/2027"),
        ("Ludford Rust", "Effie Marsh", "2", "rooted", "2027-05-20", "2027-05-01"),
    ),
    {
        "2": "the 4th of May or the 5th of April",
        "3": "Effie Marsh: gives 2 rooted salvia Rust 2027-04-20..2027-06-03",
        "4": "Effie Marsh: gives 2 rooted fuchsia Aunt Verity 2027-04-20..2027-06-01",
        "5": "Effie Marsh: gives 2 rooted dahlia 1928 2027-04-12..2027-05-31",
        "6": "no day",
        "7": "days that cannot be",
    },
    right=3,
)
PROMISED = DirtyFile(
    "spares promised.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as", "Notes", "Promised to"),
        ("Tin Kettle", "Effie Marsh", "2", "rooted", "strong plants", ""),
        ("Rust", "Effie Marsh", "2", "rooted", "these are promised", ""),
        ("1928", "Effie Marsh", "2", "rooted", "", "Odo"),
        ("Aunt Verity", "Effie Marsh", "4", "rooted", "I keep 2", ""),
        ("7 Sisters", "Effie Marsh", "4", "rooted", "2 of them weak", ""),
    ),
    {"2": "Effie Marsh: gives 2 rooted dahlia Tin Kettle", "3": "none", "4": "none", "5": "2?", "6": "?"},
    right=1,
)  # fmt: skip
REPEATED = DirtyFile(
    "spares repeated.csv",
    csv(
        ("Variety", "Whose", "How many", "Sent as"),
        ("Tin Kettle", "Effie Marsh", "2", "rooted"),
        ("Tin Kettle", "Effie Marsh", "2", "rooted"),
        ("Rust", "Effie Marsh", "2", "rooted"),
        ("Rust", "Effie", "5", "rooted"),
        ("Rust", "Effie", "5", "young plant"),
        ("", "Effie", "5", "young plant"),
        ("Rust", "Odo", "5000", "rooted"),
        ("Rust", "Odo", "4", "seed"),
    ),
    {
        "2": "once or twice", "3": "once or twice", "4": "2 or 5 or 7", "5": "2 or 5 or 7",
        "6": "Effie Marsh: gives 5 young_plant salvia Rust", "7": "no name", "8": "too many", "9": "seed",
    },
    right=1,
)  # fmt: skip
OPEN_QUOTE = DirtyFile(
    "spares quote.csv",
    b'Variety,Whose,How many,Sent as\n"Tin Kettle,Effie Marsh,2,rooted\nRust,Effie Marsh,2,rooted\n',
    refused="never closed",
)
TEXT_FILES = (
    PLAIN, SEMICOLONS, MARKED, TABS, SEPARATED, ONE_COLUMN, AROUND, NUMBERS, IN_NAMES, NEAR_NAMES,
    PEOPLE, TWO_COUNTS, DAYS, PROMISED, REPEATED, OPEN_QUOTE,
)  # fmt: skip
