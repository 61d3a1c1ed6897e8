"""Circles that exist: filled databases of earlier revisions upgrade without loss, and still work."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from exchange.actions.kernel.actor import member_actor
from exchange.actions.kernel.links import Purpose, open_link
from exchange.actions.posting.calendars import CalendarKind, calendar_at, new_address
from exchange.actions.posting.replan import replan
from exchange.actions.sharing.claim_decision import decision_of
from exchange.domain.sharing.instance import FORM
from exchange.domain.sharing.working import OTHER_FORM
from exchange.records import ANSWERS, MEMBERS, PARCELS, SHARE_OUTS, Books
from exchange.records.columns import to_plain
from exchange.records.upgrade import differences, newest, revision, upgrade
from tests.app_fixtures import Site, Visitor, site
from tests.records.kept_circles.kept import KeptCircle, kept_circles
from tests.records.kept_circles.raw import Rows, digest_of, tables_of
from tests.records.kept_circles.summary import read_in

Tables = Mapping[str, Rows]

RENAMED_TABLES: dict[str, str] = {}
"""Tables by the name they had in a kept database, where it has changed since."""
RENAMED: dict[tuple[str, str], str] = {}
"""Columns, by table and name as they were kept, that have been renamed since."""
KEPT_FORM = 2
"""The form of workings in the kept databases; survival and the days of shelters were figured otherwise."""
GONE: dict[tuple[str, str], str] = {}
"""Columns, by table and name as they were kept, that no longer exist, and why nothing is lost by it."""


@dataclass(frozen=True)
class Upgraded:
    """A kept circle brought to the newest shape: rows before and after, and its installation."""

    kept: KeptCircle
    before: Tables
    after: Tables
    unlike: list[str]
    here: Site

    @property
    def circle_id(self) -> int:
        return self.kept.summary["circle"]

    @property
    def organiser(self):
        return member_actor(self.here.house, self.circle_id, self.kept.summary["organiser"])

    def visitor(self) -> Visitor:
        with self.here.house.books.reading() as tx:
            member = MEMBERS.get(tx, self.circle_id, self.kept.summary["organiser"])
        return Visitor(self.here, member)


@contextmanager
def brought_up_to_date(kept: KeptCircle, folder: Path) -> Iterator[Upgraded]:
    with kept.unpacked(folder) as address:
        books = Books(address)
        assert revision(books) == kept.revision
        before = tables_of(books.engine)
        upgrade(books)
        after, unlike = tables_of(books.engine), differences(books)
        assert revision(books) == newest()
        books.close()
        _same_salt(folder, kept.summary["secrets"]["password salt"])
        with site(folder, address, public_url="http://circle.example") as here:
            here.clock.at = datetime.fromisoformat(kept.summary["now"])
            yield Upgraded(kept, before, after, unlike, here)


@pytest.fixture(scope="module", params=kept_circles())
def upgraded(request, tmp_path_factory):
    """Give one that all tests look at, and none changes."""
    with brought_up_to_date(request.param, tmp_path_factory.mktemp("kept")) as made:
        yield made


@pytest.fixture(params=kept_circles())
def own(request, tmp_path):
    """Give one of the test's own."""
    with brought_up_to_date(request.param, tmp_path) as made:
        yield made


def _same_salt(folder, salt):
    """Passwords are hashed with a secret of the installation, which moves with its folder."""
    secrets = folder / "secrets"
    secrets.mkdir(mode=0o700)
    (secrets / "password_salt").write_text(salt)
    (secrets / "password_salt").chmod(0o600)


def lost(before: Tables, after: Tables) -> list[str]:
    """List what was there and is missing or different now."""
    return [
        sentence
        for table, rows in before.items()
        for sentence in _lost_rows(table, rows, after.get(RENAMED_TABLES.get(table, table)))
    ]


def _lost_rows(table: str, rows: Rows, now: Rows | None) -> Iterator[str]:
    if now is None:
        yield f"the table {table}"
        return
    for row_id, row in rows.items():
        if row_id not in now:
            yield f"row {row_id} of {table}"
            continue
        for column, value in row.items():
            if (table, column) in GONE:
                continue
            name = RENAMED.get((table, column), column)
            if name not in now[row_id]:
                yield f"the column {column} of {table}"
            elif now[row_id][name] != value:
                yield f"{column} of row {row_id} of {table}: {value!r} is {now[row_id][name]!r}"


def test_the_kept_database_is_what_was_kept(upgraded):
    told = upgraded.kept.summary["tables"]

    assert {name: len(rows) for name, rows in upgraded.before.items()} == {
        name: one["rows"] for name, one in told.items()
    }
    for name, rows in upgraded.before.items():
        assert digest_of(rows) == told[name]["digest"], name


def test_every_table_of_it_holds_something(upgraded):
    assert [name for name, rows in upgraded.before.items() if not rows] == []


def test_no_row_and_no_value_is_lost(upgraded):
    assert lost(upgraded.before, upgraded.after) == []


def test_its_shape_is_that_of_the_tables(upgraded):
    assert upgraded.unlike == []


@pytest.mark.parametrize(
    "what",
    ["plans", "share_outs", "tasks", "letters", "links", "diary", "calendars", "events"],
)
def test_the_program_reads_in_it_what_was_read_then(upgraded, what):
    summary = upgraded.kept.summary
    now = datetime.fromisoformat(summary["now"])

    read = read_in(upgraded.here.house, upgraded.circle_id, summary["secrets"], now)

    assert summary["read"][what]
    assert read[what] == _as_told_now(what, summary["read"][what])


def _as_told_now(what, then):
    """Workings of an earlier form, whose figures were others, are no longer checked, and said not to be."""
    if what != "share_outs":
        return then
    unchecked = {"verdicts": [[0, OTHER_FORM]]}
    return {
        name: one | (unchecked if one["verdicts"] and KEPT_FORM != FORM else {})
        for name, one in then.items()
    }


def test_what_was_worked_out_on_a_claim_is_still_told(upgraded):
    with upgraded.here.house.books.reading() as tx:
        asked = [one for one in ANSWERS.all(tx, upgraded.circle_id) if "had" in one.reason]
        decisions = [
            decision_of(tx, upgraded.organiser, one.claim_id, ahead=False) for one in asked
        ]

    assert len(asked) == 2
    for answer, decision in zip(asked, decisions, strict=True):
        assert decision is not None
        assert decision.had is not None
        assert _holds(to_plain(decision.had.what_if), answer.reason["had"]["what_if"])


def _holds(now, then):
    """Say whether all that was kept then reads as it did; fields that came since may stand beside it."""
    match then:
        case dict():
            return all(name in now and _holds(now[name], one) for name, one in then.items())
        case list():
            return len(now) == len(then) and all(map(_holds, now, then))
    return now == then


def test_an_invitation_of_then_still_opens(upgraded):
    secrets, now = upgraded.kept.summary["secrets"], upgraded.here.now()

    opened = open_link(
        upgraded.here.house,
        secrets["invitation"],
        Purpose.INVITATION,
        lambda circle: circle.created_at + timedelta(days=1),
    )

    assert opened.member.first_name == "Hester"
    assert now > opened.circle.created_at


def test_its_pages_are_shown(upgraded):
    visitor = upgraded.visitor()
    with upgraded.here.house.books.reading() as tx:
        parcels = [one for one in PARCELS.all(tx, upgraded.circle_id) if one.plan]
        share_outs = SHARE_OUTS.all(tx, upgraded.circle_id)
    paths = [
        "/todo",
        "/parcels",
        *(f"/parcels/{one.id}" for one in parcels[:2]),
        *(f"/share-out/{one.id}" for one in share_outs),
        "/calendars",
    ]

    for path in paths:
        assert visitor.get(path, follow_redirects=True).status_code == 200, path
    assert parcels[0].code in visitor.get(f"/parcels/{parcels[0].id}").text


def test_the_password_of_then_lets_in(own):
    secrets = own.kept.summary["secrets"]
    visitor = Visitor(own.here)

    answer = visitor.post("/sign-in", {key: secrets[key] for key in ("email", "password")})

    assert answer.status_code == 302, answer.text


def test_it_is_planned_again_and_a_new_calendar_tells_the_days(own):
    organiser, now = own.organiser, own.here.now()

    planned = replan(organiser, now).plan.parcels
    token = new_address(organiser, CalendarKind.DISPATCH, now).address.split("/")[-2]
    served = calendar_at(own.here.house, token, "", now)

    with own.here.house.books.reading() as tx:
        kept = {one.code: one.plan for one in PARCELS.all(tx, own.circle_id)}
    assert planned
    assert [to_plain(one) for one in planned] == [kept[one.code] for one in planned]
    assert served is not None
    assert b"BEGIN:VEVENT" in served.body


TWO_ROWS: Tables = {"spare": {1: {"id": 1, "count": 2}, 2: {"id": 2, "count": 5}}}


@pytest.mark.parametrize(
    ("after", "sentence"),
    [
        ({}, "the table spare"),
        ({"spare": {1: {"id": 1, "count": 2}}}, "row 2 of spare"),
        ({"spare": {1: {"id": 1}, 2: {"id": 2, "count": 5}}}, "the column count of spare"),
        (
            {"spare": {1: {"id": 1, "count": 2}, 2: {"id": 2, "count": 4}}},
            "count of row 2 of spare: 5 is 4",
        ),
    ],
)
def test_a_loss_is_noticed(after: Any, sentence):
    assert lost(TWO_ROWS, after) == [sentence]
    assert lost(TWO_ROWS, TWO_ROWS) == []
