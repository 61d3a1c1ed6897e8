"""What is said of a spreadsheet that is read in: what columns and rows are, and what is the matter with them."""

from collections.abc import Collection, Sequence

from exchange.domain.spreadsheet.choices import Kind
from exchange.domain.spreadsheet.heads import Head
from exchange.domain.spreadsheet.row import Doubt, RowRead, State, Why
from exchange.words.kernel.phrase import counted, listed

HEADS = {
    Head.OTHER: "We do not know; nothing of it is kept",
    Head.NOT_READ: "Nothing that matters; leave it out",
    Head.NAME: "The variety",
    Head.SPECIES: "The kind of plant",
    Head.COUNT: "How many",
    Head.MATERIAL: "What it is sent as",
    Head.RAISED: "How raised",
    Head.WHOSE: "Whose, the member’s name",
    Head.CHOICE: "Which choice",
    Head.READY_FROM: "Ready from",
    Head.SEND_BY: "Send by",
    Head.NOTE: "A note",
    Head.KEEPS: "How it keeps",
    Head.MUST_NOT_BE_LOST: "Why it must not be lost",
    Head.FIRST_NAME: "First name",
    Head.SURNAME: "Surname",
    Head.FULL_NAME: "First name and surname",
    Head.TOWN: "Town or postal district",
    Head.EMAIL: "E-mail address",
    Head.TELEPHONE: "Telephone",
    Head.MEMBER: "A member’s own column",
}
KINDS = {
    Kind.MEMBERS: "Members, one a row",
    Kind.VARIETIES: "Varieties, one a row",
    Kind.STOCK: "What members grow, one a row",
    Kind.SPARES: "Spares, one a row",
    Kind.CLAIMS: "What members would like, one a row",
    Kind.STOCK_ACROSS: "What members grow: varieties down, members across",
    Kind.SPARES_ACROSS: "Spares: varieties down, members across",
    Kind.CLAIMS_ACROSS: "What members would like: varieties down, members across",
    Kind.NOTHING: "Nothing for the circle; leave it out",
}
ENCODINGS = {
    "utf-8": "Unicode (UTF-8)",
    "cp1252": "Windows, western Europe",
    "cp1250": "Windows, central Europe",
    "mac_roman": "Old Macintosh",
    "utf-16": "Unicode (UTF-16)",
}
_ONE_OF = {
    Kind.MEMBERS: ("member", "members"),
    Kind.VARIETIES: ("variety", "varieties"),
    Kind.STOCK: ("count of plants", "counts of plants"),
    Kind.SPARES: ("spare", "spares"),
    Kind.CLAIMS: ("wish", "wishes"),
}
_ASKED = {
    Doubt.COLUMNS: "which of two columns is meant",
    Doubt.WHAT: "whether it is to go in",
    Doubt.NAME: "which variety it is",
    Doubt.SPECIES: "what kind of plant it is",
    Doubt.WHOSE: "whose it is",
    Doubt.COUNT: "how many",
    Doubt.MATERIAL: "what it is sent as",
    Doubt.RAISED: "how they were raised",
    Doubt.CHOICE: "which choice it is",
    Doubt.READY_FROM: "from when it is ready",
    Doubt.SEND_BY: "by when to send it",
    Doubt.MAY_GO: "whether the last plant may go",
    Doubt.PERSON: "which is the first name and which the surname",
    Doubt.TOWN: "which town is meant",
    Doubt.EMAIL: "what the e-mail address is",
    Doubt.KEEPS: "how it keeps",
}
_WHYS = {
    Why.TOTAL: "It adds up the others.",
    Why.HEADING: "The headings once more.",
    Why.NONE_LEFT: "It says there are none.",
    Why.PROMISED: "Some of these may be promised.",
    Why.REPEATED: "Another row says nearly the same.",
    Why.UNCERTAIN: "Some words may change what is meant.",
    Why.MERGED: "Its cells are joined with the row above. Tick “an empty cell means the same as above”, or fill them in.",
    Why.ERROR: "A formula in it has failed.",
    Why.UNFINISHED: "A formula in it was never worked out. Open the file, save it, and hand it in again.",
    Why.TOO_LONG: "A cell, or the name in it, is too long to be right.",
    Why.TOO_WIDE: "It has more cells than there are headings.",
    Why.NO_NAME: "There is no name on it.",
    Why.COUNT: "The number is none that can be right.",
    Why.SEED: "Seed does not come true to a name, so it cannot be listed as a variety.",
    Why.NO_PLACE: "It is not known where this member grows. Give their town first.",
    Why.WINDOW: "The days for sending have passed, or the last is before the first.",
    Why.TWO_PEOPLE: "It seems to name two people. Give each a row.",
    Why.EARLIER: "It went in before.",
    Why.STANDS: "The circle has it already.",
    Why.LIKE_ANOTHER: "The circle has something like it already.",
    Why.CHOSEN: "You left it out.",
    Why.MEMBER_FIRST: "The row of this member has to be settled first.",
}


def asked(doubts: Collection[Doubt]) -> str:
    """Name what is asked about a row: "please say how many and whose it is"."""
    return f"please say {listed([words for one, words in _ASKED.items() if one in doubts])}"


def why(one: Why) -> str:
    """Say in a sentence what is the matter with a row."""
    return _WHYS.get(one, "")


def matter(row: RowRead) -> str:
    """Say what is the matter with a row, and what is asked."""
    parts = [why(row.why)]
    if row.state is State.ASKED and row.doubts:
        parts.append(f"{asked(row.doubts)}.".capitalize())
    return " ".join(part for part in parts if part)


def lot(kind: Kind, number: int) -> str:
    """Give "3 spares"."""
    return counted(number, *_ONE_OF[kind])


def lots(counts: Sequence[tuple[Kind, int]]) -> str:
    """Give "10 members, 25 spares and 40 wishes"."""
    return listed([lot(kind, number) for kind, number in counts])


def rows(number: int) -> str:
    """Give "29 rows"."""
    return counted(number, "row", "rows")


def went_in(number: int) -> str:
    """Say what a press brought in."""
    return f"{rows(number)} went in." if number else "The rows are being brought in."


def sure(head: Head, *, chosen: bool) -> str:
    """Say how sure it is what a column holds."""
    if chosen:
        return "you said so"
    return "please look" if head is Head.OTHER else "by its heading"
