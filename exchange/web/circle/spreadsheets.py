"""Reading a spreadsheet in: handed over, looked at as it was understood, brought in, taken back."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask_wtf.file import FileField, FileRequired
from werkzeug.wrappers import Response

from exchange.actions.circle.page_spreadsheets import FilePage, file_page, files_page
from exchange.actions.circle.spreadsheet_bring import bring_in, take_back
from exchange.actions.circle.spreadsheets import LARGEST_FILE, answer, hand_in, throw_away
from exchange.domain.growing.variety import Species
from exchange.web.circle.spreadsheet_answers import MOST_ROWS_ANSWERED, choices_sent
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import NOT_TAKEN, PageForm
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, today
from exchange.web.growing.plant_choices import KINDS, RAISED, SENT_AS
from exchange.web.sharing.spare_forms import usual_window
from exchange.words.circle import spreadsheet as words
from exchange.words.growing import plants

blueprint = Blueprint("read_in", __name__, url_prefix="/read-in")
Page = tuple[str, int] | Response
SHOWN = 100
"""Most rows with something the matter that a page shows at once (judgement) [rows]."""


class FileForm(PageForm):
    """A spreadsheet."""

    file = FileField(
        "The file",
        [FileRequired("Choose the file.")],
        description="A spreadsheet (.xlsx or .ods) or a list as text (.csv), up to 1 MB and 5,000 rows.",
    )


@blueprint.get("")
def show() -> Page:
    return render_template("read_in/show.html", form=FileForm(), files=files_page(actor())), 200


@blueprint.post("")
def take() -> Page:
    form = FileForm()
    if form.validate():
        with refusals_beside(form):
            file = form.file.data
            content = file.stream.read(LARGEST_FILE + 1)
            taken = hand_in(actor(), file.filename or "", content, now())
            if taken.there:
                flash("This file was handed in before. This is its page; nothing was changed.")
            return redirect(url_for("read_in.one", spreadsheet_id=taken.id), 303)
    return render_template("read_in/show.html", form=form, files=files_page(actor())), NOT_TAKEN


@blueprint.get("/<int:spreadsheet_id>")
def one(spreadsheet_id: int) -> str:
    return _file_page(file_page(actor(), spreadsheet_id))


@blueprint.post("/<int:spreadsheet_id>")
def answered(spreadsheet_id: int) -> Response:
    with refusals_told():
        answer(actor(), spreadsheet_id, choices_sent(request.form), now())
    return redirect(url_for("read_in.one", spreadsheet_id=spreadsheet_id), 303)


@blueprint.post("/<int:spreadsheet_id>/bring-in")
def bring(spreadsheet_id: int) -> Response:
    with refusals_told():
        number = bring_in(
            actor(),
            spreadsheet_id,
            request.form.get("version", ""),
            choices_sent(request.form),
            now(),
        )
        undo = url_for("read_in.undo", spreadsheet_id=spreadsheet_id) if number else ""
        done(words.went_in(number), undo)
    return redirect(url_for("read_in.one", spreadsheet_id=spreadsheet_id), 303)


@blueprint.post("/<int:spreadsheet_id>/undo")
def undo(spreadsheet_id: int) -> Response:
    with refusals_told():
        take_back(actor(), spreadsheet_id, now())
        done("Everything this file brought is taken back.")
    return redirect(url_for("read_in.one", spreadsheet_id=spreadsheet_id), 303)


@blueprint.post("/<int:spreadsheet_id>/throw-away")
def drop(spreadsheet_id: int) -> Response:
    with refusals_told():
        throw_away(actor(), spreadsheet_id, now())
        done("The file is thrown away. What went in of it stays.")
    return redirect(url_for("read_in.show"), 303)


def _file_page(page: FilePage) -> str:
    return render_template(
        "read_in/file.html",
        page=page,
        waiting=page.waiting[:SHOWN],
        names=page.reading.names[:MOST_ROWS_ANSWERED] if page.reading else (),
        people=page.reading.people[:MOST_ROWS_ANSWERED] if page.reading else (),
        say=words,
        kinds=KINDS,
        sent_as=SENT_AS,
        raised=RAISED,
        usual=usual_window(today()),
        variety=lambda species, name: plants.variety(Species(species), name),
    )
