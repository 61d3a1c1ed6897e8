"""What is said of a spreadsheet that is read in: what columns and rows are, and what is the matter with them."""

from collections.abc import Collection, Sequence

from exchange.domain.spreadsheet.choices import RowKind
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.row import RowDoubt, RowRead, RowState, RowWhy
from exchange.words.kernel.phrase import counted, listed

HEADS = {
    ColumnHead.OTHER: "We do not know; nothing of it is kept",
    ColumnHead.NOT_READ: "Nothing that matters; leave it out",
    ColumnHead.NAME: "The variety",
    ColumnHead.SPECIES: "The kind of plant",
    ColumnHead.COUNT: "How many",
    ColumnHead.MATERIAL: "What it is sent as",
    ColumnHead.RAISED: "How raised",
    ColumnHead.WHOSE: "Whose, the member’s name",
    ColumnHead.CHOICE: "Which choice",
    ColumnHead.READY_FROM: "Ready from",
    ColumnHead.SEND_BY: "Send by",
    ColumnHead.NOTE: "A note",
    ColumnHead.KEEPS: "How it keeps",
    ColumnHead.MUST_NOT_BE_LOST: "Why it must not be lost",
    ColumnHead.FIRST_NAME: "First name",
    ColumnHead.SURNAME: "Surname",
    ColumnHead.FULL_NAME: "First name and surname",
    ColumnHead.TOWN: "Town or postal district",
    ColumnHead.EMAIL: "E-mail address",
    ColumnHead.TELEPHONE: "Telephone",
    ColumnHead.MEMBER: "A member’s own column",
}
KINDS = {
    RowKind.MEMBERS: "Members, one a row",
    RowKind.VARIETIES: "Varieties, one a row",
    RowKind.STOCK: "What members grow, one a row",
    RowKind.SPARES: "Spares, one a row",
    RowKind.CLAIMS: "What members would like, one a row",
    RowKind.STOCK_ACROSS: "What members grow: varieties down, members across",
    RowKind.SPARES_ACROSS: "Spares: varieties down, members across",
    RowKind.CLAIMS_ACROSS: "What members would like: varieties down, members across",
    RowKind.NOTHING: "Nothing for the circle; leave it out",
}
ENCODINGS = {
    "utf-8": "Unicode (UTF-8)",
    "cp1252": "Windows, western Europe",
    "cp1250": "Windows, central Europe",
    "mac_roman": "Old Macintosh",
    "utf-16": "Unicode (UTF-16)",
}
_ONE_OF = {
    RowKind.MEMBERS: ("member", "members"),
    RowKind.VARIETIES: ("variety", "varieties"),
    RowKind.STOCK: ("count of plants", "counts of plants"),
    RowKind.SPARES: ("spare", "spares"),
    RowKind.CLAIMS: ("wish", "wishes"),
}
_ASKED = {
    RowDoubt.COLUMNS: "which of two columns is meant",
    RowDoubt.WHAT: "whether it is to go in",
    RowDoubt.NAME: "which variety it is",
    RowDoubt.SPECIES: "what kind of plant it is",
    RowDoubt.WHOSE: "whose it is",
    RowDoubt.COUNT: "how many",
    RowDoubt.MATERIAL: "what it is sent as",
    RowDoubt.RAISED: "how they were raised",
    RowDoubt.CHOICE: "which choice it is",
    RowDoubt.READY_FROM: "from when it is ready",
    RowDoubt.SEND_BY: "by when to send it",
    RowDoubt.MAY_GO: "whether the last plant may go",
    RowDoubt.PERSON: "which is the first name and which the surname",
    RowDoubt.TOWN: "which town is meant",
    RowDoubt.EMAIL: "what the e-mail address is",
    RowDoubt.KEEPS: "how it keeps",
}
_WHYS = {
    RowWhy.TOTAL: "It adds up the others.",
    RowWhy.HEADING: "The headings once more.",
    RowWhy.NONE_LEFT: "It says there are none.",
    RowWhy.PROMISED: "Some of these may be promised.",
    RowWhy.REPEATED: "Another row says the same, or nearly.",
    RowWhy.UNCERTAIN: "Some words may change what is meant.",
    RowWhy.MERGED: "Its cells are joined with the row above. Tick “an empty cell means the same as above”, or fill them in.",
    RowWhy.ERROR: "A formula in it has failed.",
    RowWhy.UNFINISHED: "A formula in it was never worked out. Open the file, save it, and hand it in again.",
    RowWhy.TOO_LONG: "A cell, or the name in it, is too long to be right.",
    RowWhy.TOO_WIDE: "It has more cells than there are headings.",
    RowWhy.NO_NAME: "There is no name on it.",
    RowWhy.COUNT: "The number is none that can be right.",
    RowWhy.SEED: "Seed does not come true to a name, so it cannot be listed as a variety.",
    RowWhy.NO_PLACE: "It is not known where this member grows. Give their town first.",
    RowWhy.WINDOW: "The days for sending have passed, or the last is before the first.",
    RowWhy.TWO_PEOPLE: "It seems to name two people. Give each a row.",
    RowWhy.EARLIER: "It went in before.",
    RowWhy.STANDS: "The circle has it already.",
    RowWhy.LIKE_ANOTHER: "The circle has something like it already.",
    RowWhy.CHOSEN: "You left it out.",
    RowWhy.MEMBER_FIRST: "The row of this member has to be settled first.",
}


def asked(doubts: Collection[RowDoubt]) -> str:
    """Name what is asked about a row: "please say how many and whose it is"."""
    return f"please say {listed([words for one, words in _ASKED.items() if one in doubts])}"


def why(one: RowWhy) -> str:
    """Say in a sentence what is the matter with a row."""
    return _WHYS.get(one, "")


def matter(row: RowRead, doubts: Collection[RowDoubt]) -> str:
    """Say what is the matter with a row, and what is asked of it by itself."""
    parts = [why(row.why)]
    if row.state is RowState.ASKED and doubts:
        parts.append(f"{asked(doubts)}.".capitalize())
    elif row.doubts:
        parts.append("What its sheet does not say yet is asked above.")
    return " ".join(part for part in parts if part)


def lot(kind: RowKind, number: int) -> str:
    """Give "3 spares"."""
    return counted(number, *_ONE_OF[kind])


def lots(counts: Sequence[tuple[RowKind, int]]) -> str:
    """Give "10 members, 25 spares and 40 wishes"."""
    return listed([lot(kind, number) for kind, number in counts])


def rows(number: int) -> str:
    """Give "29 rows"."""
    return counted(number, "row", "rows")


def went_in(number: int) -> str:
    """Say what a press brought in."""
    return f"{rows(number)} went in." if number else "The rows are being brought in."


def sure(head: ColumnHead, *, chosen: bool) -> str:
    """Say how sure it is what a column holds."""
    if chosen:
        return "you said so"
    return "please look" if head is ColumnHead.OTHER else "by its heading"
