"""The box: one spare per line, then one table in which doubtful names are asked about."""

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import Form

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.spare_lines import (
    BoxLine,
    LineDecision,
    LineRefusedError,
    Window,
    list_box,
    read_box,
)
from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import NOT_TAKEN, status
from exchange.web.frame.refusals import blame, refusals_beside
from exchange.web.frame.session import actor, now, standing, today
from exchange.web.growing.plant_choices import NEW, NEW_KINDS
from exchange.web.sharing.spare_forms import OUT, BoxForm, TableForm, usual_window
from exchange.web.sharing.spare_reading import health_of
from exchange.words.growing import plants
from exchange.words.kernel.phrase import counted

blueprint = Blueprint("spares_box", __name__, url_prefix="/spares/box")
Page = tuple[str, int] | Response
_WINDOW = ("ready_from", "send_by", "looked_over", "health_by", "health_on")


@blueprint.route("", methods=["GET", "POST"])
def write() -> Page:
    form = BoxForm(data={**usual_window(today()), "health_by": standing().person.first_name})
    if request.form.get("again"):
        return render_template("spares/box.html", form=form), 200
    if form.validate_on_submit():
        with refusals_beside(form):
            lines = read_box(actor(), form.lines.data)
            # None: what was sent is the box, and the table does not know it yet.
            table = TableForm(
                None, data={**_kept(form), "rows": [_row(one, form) for one in lines]}
            )
            return _table_page(table, lines), 200
    return render_template("spares/box.html", form=form), status(form)


@blueprint.post("/list")
def keep() -> Page:
    form = TableForm()
    beside = None
    if form.validate():
        by, on = health_of(form, today())
        window = Window(form.ready_from.data, form.send_by.data, by, on)
        try:
            ids = list_box(actor(), form.lines.data or "", _decisions(form), window, now())
        except RefusedError as refused:
            beside = refused
        else:
            done("{spares} on the list.".format(spares=counted(len(ids), "spare", "spares")))
            return redirect(url_for("spares.show", mine="yes"), 303)
    try:
        lines = read_box(actor(), form.lines.data or "")
    except RefusedError:
        return redirect(url_for("spares_box.write"), 303)
    if beside is not None:
        _blame_line(form, lines, beside)
    return _table_page(form, lines), NOT_TAKEN


def _kept(form: BoxForm) -> dict[str, object]:
    return {name: form[name].data for name in ("lines", "raised", *_WINDOW)}


def _row(line: BoxLine, form: BoxForm) -> dict[str, object]:
    """Give what the table proposes; a line that says nothing of plants is proposed to be left out."""
    if line.listed is None:
        return {"variety": OUT, "count": 1, "raised": form.raised.data}
    listed = line.listed
    chosen = ""
    if line.variety is not None:
        chosen = str(line.variety.id)
    elif listed.bare and not line.candidates:
        chosen = OUT
    raised: Raised | None = listed.raised
    return {
        "variety": chosen,
        "count": listed.count,
        "material": listed.material.value,
        "raised": raised.value if raised else form.raised.data,
    }


def offer_rows(form: TableForm, lines: tuple[BoxLine, ...]) -> None:
    """Give every row the plants it may mean."""
    for row, line in zip(form.rows, lines, strict=False):
        row.form.variety.choices = _meanings(line)


def _meanings(line: BoxLine) -> list[tuple[str, str]]:
    leave_out = (OUT, "Leave it out")
    if line.listed is None:
        return [leave_out]
    known = ((line.variety,) if line.variety else ()) + line.candidates
    meant = [(str(one.id), plants.variety(one.species, one.name)) for one in known]
    stated = line.listed.species
    kinds = sorted(NEW_KINDS, key=lambda kind: kind[0] != (stated.value if stated else None))
    name = line.listed.name
    new = [(f"{NEW}:{value}", _new(Species(value), name)) for value, _label in kinds]
    ask = [] if line.variety else [("", "Say which …")]
    return [*ask, *meant, *new, leave_out]


def _new(species: Species, name: str) -> str:
    said = plants.variety(species, name)
    if species is Species.OTHER:
        return f"New, another kind: {said}"
    return f"New: {said}"


def _decisions(form: TableForm) -> list[LineDecision | None]:
    return [_decision(row.form) for row in form.rows]


def _decision(row: Form) -> LineDecision | None:
    chosen = row.variety.data
    kind = chosen.partition(":")[2] if chosen.startswith(f"{NEW}:") else ""
    if chosen == OUT:
        return None
    return LineDecision(
        count=row.count.data,
        material=Material(row.material.data),
        raised=Raised(row.raised.data),
        variety_id=None if kind else int(chosen),
        species=Species(kind) if kind else Species.OTHER,
        may_go=bool(row.may_go.data),
    )


def _blame_line(form: TableForm, lines: tuple[BoxLine, ...], refused: RefusedError) -> None:
    """Put a refusal beside the row it is about."""
    number = refused.number if isinstance(refused, LineRefusedError) else 0
    for row, line in zip(form.rows, lines, strict=False):
        if line.number == number:
            name = refused.field if refused.field in row.form else "variety"
            field = row.form[name]
            field.errors = [*field.errors, str(refused)]
            return
    blame(form, refused)


def _table_page(form: TableForm, lines: tuple[BoxLine, ...]) -> str:
    offer_rows(form, lines)
    asked = sum(line.doubtful for line in lines)
    return render_template(
        "spares/table.html",
        form=form,
        pairs=list(zip(form.rows, lines, strict=False)),
        asked=asked,
    )
