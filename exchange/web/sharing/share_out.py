"""The share-out: opened, worked out, reviewed, adjusted by choices, confirmed."""

from flask import Blueprint, make_response, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing import share_out_choices as choices
from exchange.actions.sharing.page_choosing import ChoosingPage, choosing_page
from exchange.actions.sharing.page_share_outs import (
    ShareOutPage,
    ShareOutsPage,
    share_out_page,
    share_outs_page,
)
from exchange.actions.sharing.scenarios import ask_for_other_terms
from exchange.actions.sharing.share_out import (
    NewShareOut,
    ask_to_work_out,
    open_share_out,
    share_out_now,
    working_of,
)
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, house, now
from exchange.web.frame.session import today as circle_today
from exchange.web.sharing.chart_outcomes import BarView, Outcome, draw_bar
from exchange.web.sharing.share_out_forms import ChoiceForm, OpenShareOutForm, of_choices
from exchange.words.kernel import dates
from exchange.words.sharing import share_out as words

blueprint = Blueprint("share_out", __name__, url_prefix="/share-out")
Page = tuple[str, int] | Response
OUTCOMES = (
    ("met", "given", "met in full", "good"),
    ("part", "part", "in part", "good"),
    ("unsent", "lost", "not sent after all", "bad"),
    ("others", "lost", "to others", "bad"),
    ("hindered", "held", "in the way", ""),
    ("nobody", "open", "nobody offers", ""),
)
"""The outcomes of a claim, each with its sign, words and tone."""


@blueprint.get("")
def show_all() -> Page:
    page = share_outs_page(actor(), now())
    wanted = request.args.get("again", type=int)
    for one, day in page.again:
        if one.id == wanted:
            return _all_shown(
                page, OpenShareOutForm(None, data={"name": one.name, "closes_on": day})
            )
    return _all_shown(page, OpenShareOutForm())


@blueprint.post("")
def open_one() -> Page:
    form = OpenShareOutForm()
    if form.validate() and form.closes_on.data is not None:
        new = NewShareOut(form.name.data or "", form.closes_on.data, house().new_token())
        with refusals_beside(form):
            share_out_id = open_share_out(actor(), new, now())
            return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)
    return _all_page(form)


def _all_page(form: OpenShareOutForm) -> Page:
    return _all_shown(share_outs_page(actor(), now()), form)


def _all_shown(page: ShareOutsPage, form: OpenShareOutForm) -> Page:
    return render_template("share_out/all.html", page=page, form=form), status(form)


@blueprint.get("/<int:share_out_id>")
def show(share_out_id: int) -> str:
    page = share_out_page(actor(), share_out_id, now())
    return render_template(
        "share_out/show.html", page=page, bar=_bar(page), outcomes=OUTCOMES, words=words
    )


@blueprint.post("/<int:share_out_id>/work-out")
def work_out(share_out_id: int) -> Response:
    with refusals_told():
        task_id = ask_to_work_out(actor(), share_out_id, now())
        return redirect(url_for("tasks.show", task_id=task_id), 303)
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)


@blueprint.post("/today")
def today() -> Response:
    day = circle_today()
    name = f"Share-out of {dates.day(day)}"
    new = NewShareOut(name, day, house().new_token())
    with refusals_told():
        share_out_id = share_out_now(actor(), new, now())
        return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)
    return redirect(url_for("share_out.show_all"), 303)


@blueprint.post("/<int:share_out_id>/other-terms")
def other_terms(share_out_id: int) -> Response:
    with refusals_told():
        task_id = ask_for_other_terms(actor(), share_out_id, now())
        return redirect(url_for("tasks.show", task_id=task_id), 303)
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)


@blueprint.get("/<int:share_out_id>/choose/<int:claim_id>")
def choose(share_out_id: int, claim_id: int) -> Page:
    page = choosing_page(actor(), share_out_id, claim_id)
    opened = {"spare": request.args.get("spare", type=int), "version": page.settled.version}
    return _choosing_page(ChoiceForm(data=opened), page)


@blueprint.post("/<int:share_out_id>/choose/<int:claim_id>")
def keep_choice(share_out_id: int, claim_id: int) -> Page:
    form = ChoiceForm()
    if form.validate():
        with refusals_beside(form):
            new, opened = form.choice(claim_id), form.version.data
            task_id = choices.choose(actor(), share_out_id, new, now(), opened=opened)
            return redirect(url_for("tasks.show", task_id=task_id), 303)
    return _choosing_page(form, choosing_page(actor(), share_out_id, claim_id))


def _choosing_page(form: ChoiceForm, page: ChoosingPage) -> Page:
    form.spare.choices = list(page.spares)
    both_shown(form, lambda: _settled_form(page))
    return render_template("share_out/choose.html", page=page, form=form), status(form)


def _settled_form(page: ChoosingPage) -> ChoiceForm:
    form = ChoiceForm(None, data=of_choices(page.settled))
    form.spare.choices = list(page.spares)
    return form


@blueprint.post("/<int:share_out_id>/choose/<int:claim_id>/take-back/<int:spare_id>")
def take_choice_back(share_out_id: int, claim_id: int, spare_id: int) -> Response:
    with refusals_told():
        task_id = choices.take_choice_back(actor(), share_out_id, (spare_id, claim_id), now())
        return redirect(url_for("tasks.show", task_id=task_id), 303)
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)


@blueprint.get("/<int:share_out_id>/working.json")
def working(share_out_id: int) -> Response:
    answer = make_response(working_of(actor(), share_out_id))
    answer.mimetype = "application/json"
    answer.headers["Content-Disposition"] = 'attachment; filename="working.json"'
    return answer


def _bar(page: ShareOutPage) -> BarView | None:
    outcomes = [
        Outcome(kind, word, len(page.came_of(came)), tone) for came, kind, word, tone in OUTCOMES
    ]
    if not page.answers:
        return None
    said = Words(
        title="What came of the claims",
        description=", ".join(f"{one.count} {one.word}" for one in outcomes),
        caption="What came of the claims",
        heads=("What came of it", "Claims"),
        rows=tuple((one.word, str(one.count)) for one in outcomes),
    )
    return draw_bar([one for one in outcomes if one.count], said)
