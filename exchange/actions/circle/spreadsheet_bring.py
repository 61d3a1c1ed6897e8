"""Rows of a spreadsheet brought in, all or none, and taken back as a whole."""

from dataclasses import replace
from datetime import datetime

from exchange.actions.circle.spreadsheet_kept import (
    AT_ONCE,
    BRING,
    READ,
    SpreadsheetRefusedError,
    choices_of,
    file_here,
    merged,
    reading_of,
    ready_in,
    ready_version,
)
from exchange.actions.circle.spreadsheet_rows import recorder_for
from exchange.actions.circle.spreadsheet_undo import (
    COUNTED,
    joined,
    last_ids,
    made_since,
    remove_made,
)
from exchange.actions.kernel.actor import Actor, note
from exchange.actions.kernel.tasks import Watch, ask
from exchange.domain.permissions import Permission
from exchange.domain.spreadsheet.choices import LEFT_OUT, FileChoices, RowKind
from exchange.domain.spreadsheet.row import RowRead, RowState
from exchange.records import MEMBERS, SPREADSHEETS, Tx
from exchange.records.columns import to_plain
from exchange.records.rows.running import SpreadsheetRow

MOST_MEMBERS = 500
"""Most members that one file brings in at a time; each is looked for among all others (judgement) [people]."""


def bring_in(actor: Actor, file_id: int, opened: str, said: FileChoices, now: datetime) -> int:
    """Bring in all rows that are ready, or none; of a long file, ask for the task. Gives how many.

    Parameters
    ----------
    opened : the version of the rows that were shown
    said : what was answered beside them; rows it leaves out stay out, rows it settles wait for the next press

    Raises
    ------
    SpreadsheetRefusedError
        When others are ready by now.
    SheetRowRefusedError
        Naming the row that cannot go in.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        file = file_here(tx, actor, file_id)
        rows = ready_in(file)
        if not rows:
            raise SpreadsheetRefusedError("No row is ready to go in yet.")
        if opened != ready_version(rows):
            raise SpreadsheetRefusedError(
                "The rows have changed since this page was opened. Look at them again."
            )
        file = _with_answers(tx, actor, file, said)
        if len(rows) > AT_ONCE:
            ask(tx, actor, BRING, file_id, now)
            return 0
        wanted = _wanted(file, rows)
        record_rows(tx, actor, file, wanted, now)
    return len(wanted)


def _with_answers(tx: Tx, actor: Actor, file: SpreadsheetRow, said: FileChoices) -> SpreadsheetRow:
    choices = to_plain(merged(choices_of(file), said))
    SPREADSHEETS.change(tx, actor.circle_id, file.id, choices=choices)
    return replace(file, choices=choices)


def _wanted(file: SpreadsheetRow, rows: tuple[RowRead, ...]) -> tuple[RowRead, ...]:
    """Give the rows that nobody has left out since they were shown."""
    members = sum(one.kind is RowKind.MEMBERS for one in rows)
    if members > MOST_MEMBERS:
        raise SpreadsheetRefusedError(
            f"These are {members} members; bring in at most {MOST_MEMBERS} at a time. Nothing was brought in."
        )
    answers = choices_of(file).rows
    wanted = tuple(one for one in rows if answers.get(one.key, {}).get("what") != LEFT_OUT)
    if not wanted:
        raise SpreadsheetRefusedError("Every row is left out; nothing was brought in.")
    return wanted


def bring_in_long(actor: Actor, file_id: int, watch: Watch, now: datetime) -> int:
    """Bring in the rows of a long file, as a task, for whoever handed it in; gives how many."""
    watch.go_on("bringing the rows in", 0.1)
    with actor.books.writing() as tx:
        file = file_here(tx, actor, file_id)
        if file.handed_in_by is None:
            raise SpreadsheetRefusedError("Whoever handed this file in is not in the circle.")
        member = MEMBERS.get(tx, actor.circle_id, file.handed_in_by)
        asking = replace(
            actor, member_id=member.id, household_id=member.household_id, organiser=member.organiser
        )
        asking.must(Permission.RUN_CIRCLE)
        rows = _wanted(file, ready_in(file))
        record_rows(tx, asking, file, rows, now)
    return len(rows)


def record_rows(
    tx: Tx, actor: Actor, file: SpreadsheetRow, rows: tuple[RowRead, ...], now: datetime
) -> None:
    """Keep rows of a file, and what they made, within an act."""
    answers = choices_of(file).rows
    may_go = frozenset(key for key, one in answers.items() if one.get("may_go"))
    last = last_ids(tx, actor)
    counted = recorder_for(tx, actor, may_go, now).keep(rows)
    made = joined(file.made, made_since(tx, actor, last) | {COUNTED: counted})
    went_in = {**file.went_in, **{one.key: one.sha for one in rows}}
    waits = any(
        one.state in {RowState.READY, RowState.ASKED, RowState.REFUSED} and one.key not in went_in
        for one in reading_of(file).rows
    )
    SPREADSHEETS.change(tx, actor.circle_id, file.id, made=made, went_in=went_in, brought_in_at=now)
    if waits:
        ask(tx, actor, READ, file.id, now)
    note(tx, actor, "brought a spreadsheet in", f"{file.name}: {len(rows)} rows", now)


def take_back(actor: Actor, file_id: int, now: datetime) -> None:
    """Take back everything a file brought, as a whole.

    Raises
    ------
    BuiltOnError
        When something was built on one of its rows.
    """
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.writing() as tx:
        file = file_here(tx, actor, file_id)
        if not file.made:
            raise SpreadsheetRefusedError("Nothing of this file is in.")
        remove_made(tx, actor, file.made)
        SPREADSHEETS.change(tx, actor.circle_id, file.id, made={}, went_in={}, brought_in_at=None)
        if file.content:
            ask(tx, actor, READ, file.id, now)
        note(tx, actor, "took a spreadsheet back", file.name, now)
