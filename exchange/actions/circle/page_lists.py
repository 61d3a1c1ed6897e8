"""The circle's lists, for the organiser: for a spreadsheet, as plain text and on paper."""

from dataclasses import dataclass

from exchange.actions.circle.list_rows import ROWS
from exchange.actions.kernel.actor import Actor
from exchange.domain.permissions import Permission
from exchange.sheets.csv_file import Cell, csv_bytes
from exchange.sheets.xlsx_file import xlsx_bytes
from exchange.words.circle import lists as words


@dataclass(frozen=True, slots=True)
class CircleList:
    """A list with the heads of its columns."""

    name: str
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    @property
    def csv(self) -> bytes:
        return csv_bytes(self.heads, self.rows)

    @property
    def xlsx(self) -> bytes:
        return xlsx_bytes(self.title, self.heads, self.rows)

    @property
    def text(self) -> str:
        return words.as_text(self.heads, self.rows)


def circle_list(actor: Actor, name: str) -> CircleList:
    """Give a list of the circle by its name, such as "spares".

    Raises
    ------
    KeyError
        When there is no such list.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        rows = ROWS[name](tx, actor.circle_id)
    plain = tuple(
        tuple(words.plain(cell) if isinstance(cell, str) else cell for cell in row) for row in rows
    )
    return CircleList(name, words.TITLES[name], words.HEADS[name], plain)
