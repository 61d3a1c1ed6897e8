"""A working compared with the records of its circle: the draw number, the case, and what was given."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from exchange.actions.kernel.actor import Actor
from exchange.actions.sharing.check_working import Checked, check_file, read_working
from exchange.actions.sharing.share_out_case import share_out_case
from exchange.domain.permissions import Permission
from exchange.domain.sharing.draw import shown_at_opening
from exchange.domain.sharing.instance import case_values
from exchange.domain.sharing.states import UNCONFIRMED, ShareOutState
from exchange.records import ALLOCATIONS, CLAIMS, SHARE_OUTS, SPARES, Tx
from exchange.records.columns import to_plain
from exchange.records.households import ends_of_households
from exchange.records.rows.sharing import ShareOutRow
from exchange.records.varieties import ends_of_varieties

Working = Mapping[str, Any]
SPARE_STAYS = ("household_id", "place_id", "variety_id")
CLAIM_STAYS = ("household_id", "variety_id")
"""What a spare and a claim that were given or promised plants keep for good, unless it was merged into another."""


def check_with_records(actor: Actor, path: Path, now: datetime) -> Checked:
    """Check the working in a file, then whether it is this circle's share-out, as it happened.

    Of an unconfirmed share-out the whole case is compared with the circle as it stands; of a confirmed one the case as it was
    kept, whose spares and claims they were, and what was given.

    Raises
    ------
    NotAWorkingError
        When the file holds no working.
    """
    actor.must(Permission.RUN_SHARE_OUT)
    checked, working = check_file(path), read_working(path)
    with actor.books.reading() as tx:
        try:
            faults = list(_faults(tx, actor.circle_id, working, now))
        except (KeyError, TypeError, ValueError, IndexError):
            faults = ["the file holds something else than a case"]
    said = f"WRONG: {faults[0]}" if faults else "the same as in the records"
    lines = (*checked.lines, f"case, draw number and what was given: {said}")
    return Checked(lines, checked.proven and not faults)


def _faults(tx: Tx, circle_id: int, working: Working, now: datetime) -> Iterator[str]:
    """Give what differs from the records, the first thing first."""
    shown = shown_at_opening(str(working["case"]["draw_number"]))
    opened = SHARE_OUTS.all(tx, circle_id, state=UNCONFIRMED | {ShareOutState.CONFIRMED})
    share_out = next((one for one in opened if one.draw_hash == shown), None)
    if share_out is None:
        yield "no share-out of this circle was opened with the hash of its draw number"
        return
    kept = share_out.working
    if share_out.state in UNCONFIRMED:
        case = to_plain(case_values(share_out_case(tx, circle_id, share_out, now)))
        yield from _differing(working["case"], case, "the circle as it stands")
        return
    yield from _differing(working["case"], kept["case"] if kept else {}, "what was kept")
    yield from _of_others(tx, circle_id, working["case"])
    yield from _given_otherwise(tx, circle_id, share_out, working)


def _differing(case: Working, records: Working, of_what: str) -> Iterator[str]:
    for name in sorted({*case, *records}):
        if case.get(name) != records.get(name):
            yield f"{name.replace('_', ' ')} in its case differ from {of_what}"


def _of_others(tx: Tx, circle_id: int, case: Working) -> Iterator[str]:
    """Name spares and claims that the records do not have, or know as somebody else's."""
    spares, claims = SPARES.by_id(tx, circle_id), CLAIMS.by_id(tx, circle_id)
    ends = {
        "variety_id": ends_of_varieties(tx, circle_id),
        "household_id": ends_of_households(tx, circle_id),
    }
    for name, rows, known, stays in (
        ("spare", case["spares"], spares, SPARE_STAYS),
        ("claim", case["claims"], claims, CLAIM_STAYS),
    ):
        for one in rows:
            row = known.get(one["id"])
            if row is None:
                yield f"{name} {one['id']} is not in the records"
            elif any(
                getattr(row, column) != ends.get(column, {}).get(one[column], one[column])
                for column in stays
            ):
                yield f"{name} {one['id']} is another’s, or of another variety, in the records"


def _given_otherwise(
    tx: Tx, circle_id: int, share_out: ShareOutRow, working: Working
) -> Iterator[str]:
    """Name what was given otherwise; what a sender could not send still counts as given."""
    given = Counter[tuple[int, int]]()
    for one in ALLOCATIONS.all(tx, circle_id, share_out_id=share_out.id):
        if one.made_at == share_out.confirmed_at:
            given[one.spare_id, one.claim_id] += one.count
    second = working.get("second") or working
    told = {(spare, claim): count for spare, claim, count in second["allocations"]}
    for pair in sorted({*given, *told}):
        if given[pair] != told.get(pair, 0):
            spare, claim = pair
            yield f"of spare {spare}, claim {claim} was given {given[pair]}, not {told.get(pair, 0)}"
