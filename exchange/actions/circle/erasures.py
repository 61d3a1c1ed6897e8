"""Which members were erased, kept beside the backups: a backup made before brings nobody back."""

import json
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path

from exchange.actions.kernel.actor import House
from exchange.records import MEMBERS, Tx, circles
from exchange.records.erase import erase as erase_rows

DAILY = "backups"
"""The folder of the daily backups, within the data folder."""
ERASURES = "erasures.jsonl"
"""The file: one line of JSON for each member erased, with numbers and no name."""


@dataclass(frozen=True, slots=True, order=True)
class Erasure:
    """That a member was erased.

    Attributes
    ----------
    erased_at : ISO 8601, UTC
    """

    circle_id: int
    member_id: int
    erased_at: str


def keep_erasures(tx: Tx, house: House) -> None:
    """Have all that were erased written down once this act is kept, those of the file and of the records."""
    known = erasures_in(tx)
    if house.folder is not None and known:
        file = house.folder / DAILY / ERASURES
        tx.after(lambda: write_erasures(file, known | read_erasures(file)))


def write_erasures(file: Path, known: set[Erasure]) -> None:
    """Write the list, whole or not at all."""
    file.parent.mkdir(mode=0o700, exist_ok=True)
    draft = file.with_name(f".{file.name}")
    draft.write_text("".join(f"{json.dumps(asdict(one))}\n" for one in sorted(known)), "utf-8")
    draft.replace(file)


def erasures_in(tx: Tx) -> set[Erasure]:
    """Give the erasures that the records tell of."""
    return {
        Erasure(circle.id, member.id, member.erased_at.isoformat())
        for circle in circles.everyone(tx)
        for member in MEMBERS.all(tx, circle.id)
        if member.erased_at is not None
    }


def read_erasures(file: Path) -> set[Erasure]:
    """Give the erasures a file tells of; none where there is no such file.

    Raises
    ------
    ValueError
        When it is no such file.
    """
    if not file.is_file():
        return set()
    try:
        return {
            Erasure(**json.loads(line)) for line in file.read_text("utf-8").splitlines() if line
        }
    except (TypeError, ValueError) as error:
        raise ValueError(f"{file} is no list of erasures") from error


def erase_again(tx: Tx, erasures: set[Erasure]) -> int:
    """Erase in restored records whoever was erased after the backup was made; give how many."""
    done = 0
    for one in sorted(erasures):
        member = MEMBERS.find(tx, one.circle_id, id=one.member_id)
        if member is None or member.erased_at is not None:
            continue
        at = datetime.fromisoformat(one.erased_at)
        left = member.left_at or at
        MEMBERS.change(tx, one.circle_id, member.id, left_at=left, account_id=None, organiser=False)
        erase_rows(tx, one.circle_id, member.id, at)
        done += 1
    return done
