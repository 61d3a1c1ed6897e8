"""What was answered on a file's page; an answer that is none of those offered says nothing."""

from collections.abc import Iterable
from datetime import date

from werkzeug.datastructures import MultiDict

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.spreadsheet.choices import LEFT_OUT, FileChoices, RowKind, SheetChoices
from exchange.domain.spreadsheet.heads import ColumnHead
from exchange.domain.spreadsheet.sheet import MOST_COLUMNS, MOST_SHEETS
from exchange.web.frame.query import one_of

MOST_ROWS_ANSWERED = 200
"""Most rows and names answered for in one press (judgement) [rows]."""

LONGEST_ANSWER = 120
OF_A_ROW = (
    "what", "count", "material", "raised", "whose", "choice", "ready_from", "send_by", "may_go",
    "first_name", "surname", "town", "town_key", "email", "keeps",
)  # fmt: skip
Sent = MultiDict[str, str]


def choices_sent(sent: Sent) -> FileChoices:
    """Read the answers of a file's page."""
    return FileChoices(
        encoding=sent.get("encoding", ""),
        delimiter=sent.get("delimiter", ""),
        sheets={
            name: _sheet(sent, f"s{at}")
            for at in range(MOST_SHEETS)
            if (name := sent.get(f"s{at}.name", ""))
        },
        names=dict(_pairs(sent, "n")),
        people=dict(_pairs(sent, "p")),
        rows=_out(sent)
        | {
            key: {
                name: said
                for name in OF_A_ROW
                if (said := sent.get(f"r{at}.{name}", "").strip()[:LONGEST_ANSWER])
            }
            for at in range(MOST_ROWS_ANSWERED)
            if (key := sent.get(f"r{at}.key", ""))
        },
    )


def _out(sent: Sent) -> dict[str, dict[str, str]]:
    """Give the rows ticked to be left out, and those whose tick was taken off."""
    ticked = sent.getlist("out")[:MOST_ROWS_ANSWERED]
    return {key: {"what": LEFT_OUT} for key in ticked if key}


def _pairs(sent: Sent, of: str) -> Iterable[tuple[str, str]]:
    for at in range(MOST_ROWS_ANSWERED):
        key, said = sent.get(f"{of}{at}.key", ""), sent.get(f"{of}{at}", "")
        if key and said:
            yield key, said[:LONGEST_ANSWER]


def _sheet(sent: Sent, of: str) -> SheetChoices:
    def said(name: str) -> str:
        return sent.get(f"{of}.{name}", "").strip()

    columns = {
        str(at): head
        for at in range(MOST_COLUMNS)
        if (head := one_of(ColumnHead, said(f"c{at}"))) and said(f"c{at}") != said(f"c{at}.was")
    }
    kept = {
        str(at): head
        for at in range(MOST_COLUMNS)
        if said(f"c{at}.said") and (head := one_of(ColumnHead, said(f"c{at}")))
    }
    return SheetChoices(
        kind=one_of(RowKind, said("kind")),
        head_row=int(said("head_row")) if _short_number(said("head_row")) else None,
        columns={**kept, **columns},
        species=one_of(Species, said("species")),
        material=one_of(Material, said("material")),
        raised=one_of(Raised, said("raised")),
        ready_from=_day(said("ready_from")),
        send_by=_day(said("send_by")),
        whose=said("whose"),
        day_first={"day": True, "month": False}.get(said("day_first")),
        fill_down=said("fill_down") == "yes",
        mark_means=int(said("mark_means")) if _short_number(said("mark_means")) else None,
    )


def _short_number(text: str) -> bool:
    return text.isdecimal() and len(text) < 5


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
