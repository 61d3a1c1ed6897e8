"""Where something is created and mended: a site, its people, and what every table holds."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import select
from werkzeug.test import TestResponse

from exchange.records.tables import Base
from tests.app_fixtures import Ring, Site, Visitor

Row = Mapping[str, Any]
TAKEN_BACK = ("withdrawn_at", "revoked_at", "removed_at", "left_at", "undone_at", "thrown_away_at")
"""Columns that are filled when a row is taken back and stays for the history."""
ENDED = {"share_out": {"cancelled"}, "allocation": {"refused", "declined"}}
"""States of rows that are taken back and stay for the history."""
OF_THE_CLOCK = {"changed_at"}
"""Columns that tell when a row was last touched."""


@dataclass
class Scene:
    """A site and its people; a press that is refused ends the test."""

    here: Site
    ring: Ring
    more: Any = None
    said: str = ""
    visitors: dict[str, Visitor] = field(default_factory=dict)

    def visitor(self, name: str) -> Visitor:
        if name not in self.visitors:
            self.visitors[name] = Visitor(self.here, self.ring[name])
        return self.visitors[name]

    def press(
        self, who: str, path: str, sent: Mapping[str, Any] | None = None, **more: Any
    ) -> TestResponse:
        """Post a form, and see that it is taken."""
        answer = self.visitor(who).post(path, dict(sent or {}), **more)
        assert answer.status_code in (200, 303), (path, answer.status_code, answer.text)
        return answer

    def read(self, who: str, path: str) -> str:
        """Give a page as plain words, with spaces for the ties between them."""
        page = self.visitor(who).get(path, follow_redirects=True)
        assert page.status_code == 200, (path, page.status_code)
        return page.text.replace("\u00a0", " ")

    def table(self, noun: str) -> dict[int, Row]:
        """Give the circle's rows of a table by their ids."""
        table = Base.metadata.tables[noun]
        query = select(table).where(table.c.circle_id == self.ring.circle_id)
        with self.here.house.books.reading() as tx:
            return {row["id"]: dict(row) for row in tx._session.execute(query).mappings()}

    def last(self, noun: str) -> int:
        """Give the id of the newest row."""
        return max(self.table(noun))


Deed = Callable[[Scene], object]


@dataclass(frozen=True)
class Mended:
    """How what a route creates is mended.

    Attributes
    ----------
    noun : the table in which it creates, or whose rows it alters
    create : presses the form that creates
    undo : takes it back: the row is gone, marked as taken back, or as it was before
    change : corrects it: the row is another one than after creating
    sentence : what a page says of why it can be neither; `create` keeps that page in `said`
    prepare : what has to be there before it can be created
    """

    noun: str
    create: Deed
    undo: Deed | None = None
    change: Deed | None = None
    sentence: str = ""
    prepare: Deed | None = None


def created(before: Mapping[int, Row], after: Mapping[int, Row]) -> set[int]:
    """Give the rows that are new or another than before."""
    return {key for key, row in after.items() if before.get(key) != row}


def taken_back(noun: str, key: int, before: Mapping[int, Row], now: Mapping[int, Row]) -> bool:
    """Say whether a row that was created or altered is as if it had not been."""
    if key not in now:
        return True
    row = now[key]
    if key in before:
        return all(
            row[name] == old for name, old in before[key].items() if name not in OF_THE_CLOCK
        )
    if any(row.get(name) is not None for name in TAKEN_BACK):
        return True
    return row.get("state") in ENDED.get(noun, set())
