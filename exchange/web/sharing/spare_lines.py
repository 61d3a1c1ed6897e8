"""The box: one spare or wish a line, then one table in which everything in doubt is asked about."""

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing.box_undo import take_box_back
from exchange.actions.sharing.spare_lines import (
    BoxKept,
    BoxLine,
    LineRefusedError,
    Window,
    list_box,
    read_box,
)
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import NOT_TAKEN, status
from exchange.web.frame.refusals import blame, refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, standing, today
from exchange.web.sharing.spare_forms import BoxForm, TableForm, usual_window
from exchange.web.sharing.spare_reading import health_of
from exchange.web.sharing.spare_rows import (
    decisions,
    ids_in,
    ids_told,
    look_again,
    offer_rows,
    proposed,
    renamed,
)
from exchange.words.sharing import box

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
            rows = [proposed(one, form.material.data, form.raised.data) for one in lines]
            return _table_page(TableForm(None, data={**_kept(form), "rows": rows}), lines), 200
    return render_template("spares/box.html", form=form), status(form)


@blueprint.post("/list")
def keep() -> Page:
    form = TableForm()
    beside = None
    if form.validate() and not renamed(form):
        by, on = health_of(form, today())
        window = Window(form.ready_from.data, form.send_by.data, by, on)
        try:
            kept = list_box(actor(), form.lines.data or "", decisions(form), window, now())
        except RefusedError as refused:
            beside = refused
        else:
            done(box.kept(len(kept.spares), len(kept.claims), kept.there), _undo(kept))
            shown = "spares.show" if kept.spares else "claims.show"
            return redirect(url_for(shown, mine="yes" if kept.spares else None), 303)
    try:
        lines = read_box(
            actor(), form.lines.data or "", [row.form.name.data or "" for row in form.rows]
        )
    except RefusedError:
        return redirect(url_for("spares_box.write"), 303)
    look_again(form, lines)
    if beside is not None:
        _blame_line(form, lines, beside)
    return _table_page(form, lines), NOT_TAKEN


@blueprint.post("/undo/<spares>/<claims>")
def undo(spares: str, claims: str) -> Response:
    with refusals_told():
        take_box_back(actor(), ids_in(spares), ids_in(claims), now())
        done("The whole box is taken back.")
    return redirect(url_for("spares.show", mine="yes"), 303)


def _undo(kept: BoxKept) -> str:
    if not (kept.spares or kept.claims):
        return ""
    return url_for("spares_box.undo", spares=ids_told(kept.spares), claims=ids_told(kept.claims))


def _kept(form: BoxForm) -> dict[str, object]:
    return {name: form[name].data for name in ("lines", "material", "raised", *_WINDOW)}


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
    return render_template(
        "spares/table.html",
        form=form,
        pairs=list(zip(form.rows, lines, strict=False)),
        asked=sum(bool(line.doubts) for line in lines),
        say=box,
    )
