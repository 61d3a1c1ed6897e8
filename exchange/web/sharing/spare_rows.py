"""Rows of the table of the box: what is proposed, what may be chosen, what was decided."""

import re
from collections.abc import Sequence

from wtforms import Form

from exchange.actions.sharing.spare_lines import BoxLine, LineDecision
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import MOST_LINES, BoxDoubt, What
from exchange.web.growing.plant_choices import NEW, NEW_KINDS
from exchange.web.sharing.spare_forms import OUT, OWN, WISH, TableForm
from exchange.words.growing import plants


def proposed(line: BoxLine, material: str, raised: str) -> dict[str, object]:
    """Give what the table proposes; a field in doubt begins empty, so that it has to be answered.

    Parameters
    ----------
    material, raised : what holds where a line does not say; no material is asked for line by line
    """
    entry = line.entry
    if line.fault:
        return {"what": OUT, "raised": raised}
    said = "" if entry.says_material else material
    sent_as = (
        entry.material.value if entry.material and BoxDoubt.MATERIAL not in line.doubts else said
    )
    return {
        "what": "" if BoxDoubt.WHAT in line.doubts else entry.what.value,
        "name": entry.name,
        "looked": entry.name,
        "variety": str(line.variety.id) if line.variety else "",
        "whose": "" if BoxDoubt.WHOSE in line.doubts else str(line.whose) if line.whose else OWN,
        "choice": str(entry.choice or 1),
        "count": entry.count if BoxDoubt.COUNT not in line.doubts else None,
        "material": sent_as,
        "raised": ""
        if BoxDoubt.RAISED in line.doubts
        else entry.raised.value
        if entry.raised
        else raised,
    }


def renamed(form: TableForm) -> bool:
    """Say whether a name was changed since its plants were offered."""
    return any(_renamed(row.form) for row in form.rows)


def _renamed(row: Form) -> bool:
    return row.what.data != OUT and (row.name.data or "").strip() != (row.looked.data or "")


def look_again(form: TableForm, lines: tuple[BoxLine, ...]) -> None:
    """Offer the plants a changed name may mean, and ask which where it is not one the circle knows."""
    for row, line in zip(form.rows, lines, strict=False):
        if not _renamed(row.form):
            continue
        row.form.looked.data = row.form.name.data = line.entry.name
        row.form.variety.data = str(line.variety.id) if line.variety else ""
        row.form.name.errors = ["The name was changed; look whether the plant is right."]


def offer_rows(form: TableForm, lines: tuple[BoxLine, ...]) -> None:
    """Give every row the plants it may mean."""
    for row, line in zip(form.rows, lines, strict=False):
        row.form.variety.choices = _meanings(line)
        whose = [("", "Say whose …"), (OWN, "My own")]
        row.form.whose.choices = whose + [(str(key), name) for key, name in line.members]


def _meanings(line: BoxLine) -> list[tuple[str, str]]:
    known = ((line.variety,) if line.variety else ()) + line.candidates
    meant = [(str(one.id), plants.variety(one.species, one.name)) for one in known]
    stated = line.entry.species
    kinds = sorted(NEW_KINDS, key=lambda kind: kind[0] != (stated.value if stated else None))
    name = line.entry.name
    new = [(f"{NEW}:{value}", _new(Species(value), name)) for value, _label in kinds]
    ask = [] if line.variety else [("", "Say which …")]
    return [*ask, *meant, *new]


def _new(species: Species, name: str) -> str:
    said = plants.variety(species, name)
    if species is Species.OTHER:
        return f"New, another kind: {said}"
    return f"New: {said}"


def decisions(form: TableForm) -> list[LineDecision | None]:
    """Give what was decided for every line."""
    return [_decision(row.form) for row in form.rows]


def _decision(row: Form) -> LineDecision | None:
    if row.what.data == OUT:
        return None
    chosen = row.variety.data
    kind = chosen.partition(":")[2] if chosen.startswith(f"{NEW}:") else ""
    wish = row.what.data == WISH
    return LineDecision(
        count=row.count.data,
        material=Material.ROOTED if wish else Material(row.material.data),
        raised=Raised.COOL if wish else Raised(row.raised.data),
        variety_id=None if kind else int(chosen),
        species=Species(kind) if kind else Species.OTHER,
        name=row.name.data,
        what=What(row.what.data),
        choice=int(row.choice.data or 1),
        may_go=bool(row.may_go.data),
        member_id=None if row.whose.data == OWN else int(row.whose.data),
    )


def ids_told(ids: Sequence[int]) -> str:
    """Write ids into an address: "4-9.12", or "none"."""
    runs: list[list[int]] = []
    for one in sorted(ids):
        if runs and one == runs[-1][-1] + 1:
            runs[-1].append(one)
        else:
            runs.append([one])
    return ".".join(f"{run[0]}-{run[-1]}" for run in runs) or "none"


def ids_in(told: str) -> tuple[int, ...]:
    """Read ids from an address; what is no list of them, or longer than a box, gives none."""
    ids: list[int] = []
    for found in re.finditer(r"(\d{1,9})-(\d{1,9})(?:\.|$)", told):
        first, last = int(found.group(1)), int(found.group(2))
        if last - first >= MOST_LINES:
            return ()
        ids += range(first, last + 1)
    return tuple(ids) if len(ids) <= MOST_LINES else ()
