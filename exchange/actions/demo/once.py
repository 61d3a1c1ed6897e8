"""The demo's whole main job, written into a folder."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

from exchange.actions.circle.season_file import plan_as_text, season_file
from exchange.actions.demo.build import build_demo, do_main_job
from exchange.actions.kernel.actor import Actor, House
from exchange.actions.posting.calendars import household_calendar
from exchange.actions.posting.paper_files import FolderRefusedError, file_name, write_papers
from exchange.words.circle import season_tables as words


def run_once(house: House, folder: Path) -> str:
    """Build the demo, do the main job, write every file, and give the tables to print."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FolderRefusedError(f"Cannot write to {folder}: {error.strerror}", "out") from error
    demo = build_demo(house)
    done = do_main_job(demo)
    organiser, now = demo.settled.organiser, demo.data.now
    season = season_file(organiser, now)
    _write_json(folder / "plan.json", season)
    _write_json(folder / "working.json", done.share_out.working)
    write_papers(organiser, folder / "papers", now)
    _write_calendars(folder, organiser, demo.settled.households, now)
    faults = demo.fetched.faults
    parts = [words.share_out_tables(season), plan_as_text(organiser, now)]
    parts += [*faults, words.summary(season)]
    return "\n\n".join(parts)


def _write_calendars(
    folder: Path, organiser: Actor, households: dict[str, int], now: datetime
) -> None:
    into = folder / "calendars"
    into.mkdir(exist_ok=True)
    for name, household_id in sorted(households.items()):
        body = household_calendar(organiser, household_id, now).body
        (into / f"{file_name(name)}.ics").write_bytes(body)
    (into / "dispatch.ics").write_bytes(household_calendar(organiser, None, now).body)


def _write_json(path: Path, value: Any) -> None:
    text = json.dumps(value, ensure_ascii=False, indent=1, sort_keys=False)
    path.write_text(text + "\n", encoding="utf-8")
