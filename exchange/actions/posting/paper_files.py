"""Papers written into a folder, one file each."""

import re
from datetime import datetime
from pathlib import Path

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.posting.papers import USUAL_SHEET, LabelsWanted, all_papers, printed_labels
from exchange.papers.paper import PageSize
from exchange.papers.printing import care_sheet_pdf, slip_pdf


class FolderRefusedError(RefusedError):
    """The folder cannot be written to."""


def write_papers(actor: Actor, folder: Path, now: datetime) -> int:
    """Write slip and care sheet of every parcel and a sheet of pot labels; give how many files."""
    page = PageSize(actor.house.paper.lower())
    papers = all_papers(actor, now)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for entry, one in papers:
            name = file_name(entry.code)
            (folder / f"{name}-slip.pdf").write_bytes(slip_pdf(one.slip, page))
            (folder / f"{name}-care.pdf").write_bytes(care_sheet_pdf(one.care_sheet, page))
        if papers:
            labels = printed_labels(
                tuple(one for _entry, one in papers), LabelsWanted(USUAL_SHEET[page.value])
            )
            (folder / "labels.pdf").write_bytes(labels)
    except OSError as error:
        raise FolderRefusedError(f"Cannot write to {folder}: {error.strerror}", "out") from error
    return 2 * len(papers) + bool(papers)


def file_name(name: str) -> str:
    """Give a name that is safe for a file."""
    return re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-")
