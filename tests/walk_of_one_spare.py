"""How far one spare walks through the code: files entered and statements sent, counted by running it.

    python -m tests.walk_of_one_spare

prints a line each for listing a spare on its page, planning two parcels again, and fetching a
member's calendar. A file counts when a function of it is called, a statement when the database
is sent one. What is imported or drawn once before is left out by doing each deed once beforehand.
"""

import re
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Any

from sqlalchemy import event

from tests.app_fixtures import NOW, Site, Visitor, site
from tests.builders.season import Season, a_season, tell_weather
from tests.house import ROOT

OURS = str(ROOT / "exchange")


def counted(here: Site, deed: Callable[[], object]) -> tuple[int, int]:
    """Give the files of the program a deed enters, and the statements it sends."""
    files: set[str] = set()
    sent: list[str] = []

    def entered(frame: FrameType, happened: str, _arg: Any) -> None:
        if happened == "call" and frame.f_code.co_filename.startswith(OURS):
            files.add(frame.f_code.co_filename)

    def heard(_connection: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        if not statement.startswith(("BEGIN", "PRAGMA")):
            sent.append(statement)

    event.listen(here.house.books.engine, "before_cursor_execute", heard)
    sys.setprofile(entered)
    try:
        deed()
    finally:
        sys.setprofile(None)
        event.remove(here.house.books.engine, "before_cursor_execute", heard)
    return len(files), len(sent)


def deeds(here: Site, season: Season) -> dict[str, Callable[[], object]]:
    """Give the three deeds by name."""
    winnie = Visitor(here, season.ring["Winnie"])
    made = Visitor(here, season.ring["Effie"]).post("/calendars/member/address")
    found = re.search(r"/cal/[^<\s\"]+\.ics", made.text)
    path = found.group() if found else ""
    program = here.app.test_client()
    spare = {
        "name": "Chapel Lantern",
        "kind": "dahlia",
        "count": "3",
        "material": "rooted",
        "raised": "cool",
        "ready_from": "2027-04-05",
        "send_by": "2027-05-17",
        "place": str(season.ring.place("Winnie").id),
    }

    def list_one() -> None:
        answer = winnie.post("/spares/new", spare)
        if answer.status_code != 303:
            raise AssertionError(answer.text)

    def fetch() -> None:
        answer = program.get(path)
        if answer.status_code != 200:
            raise AssertionError(answer.status)

    return {
        "list a spare": list_one,
        "plan two parcels again": lambda: season.plan(NOW),
        "fetch a calendar": fetch,
    }


def main() -> None:
    """Print one line per deed."""
    with tempfile.TemporaryDirectory() as folder, site(Path(folder)) as here:
        season = a_season(here.house)
        tell_weather(season, NOW)
        season.plan()
        for name, deed in deeds(here, season).items():
            deed()
            files, statements = counted(here, deed)
            print(f"{name}: {files} files, {statements} statements")


if __name__ == "__main__":
    main()
