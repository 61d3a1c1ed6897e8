"""The circle's terms, for the organiser: what it has settled, changed one by one, put back."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.circle.terms import reset_term, set_term, term_line, terms_page
from exchange.actions.kernel import terms_table
from exchange.actions.kernel.terms_table import POSTING, SHARING, Term
from exchange.web.circle.terms_forms import form_for
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now

blueprint = Blueprint("terms", __name__, url_prefix="/circle/terms")
PARTS = ((POSTING, "Posting"), (SHARING, "Sharing out"))


@blueprint.get("")
def show() -> str:
    return render_template("terms/show.html", lines=terms_page(actor()), parts=PARTS)


@blueprint.route("/<key>", methods=["GET", "POST"])
def change(key: str) -> tuple[str, int] | Response:
    term = _term(key)
    line = term_line(actor(), term)
    form = form_for(term, line.value)
    if form.validate_on_submit():
        with refusals_beside(form):
            set_term(actor(), term, form.wanted(), now())
            flash(f"{line.title}: kept.")
            return redirect(url_for("terms.show"), 303)
    return render_template("terms/change.html", line=line, form=form), status(form)


@blueprint.post("/<key>/reset")
def reset(key: str) -> Response:
    term = _term(key)
    reset_term(actor(), term, now())
    flash(f"{term_line(actor(), term).title}: as usual again.")
    return redirect(url_for("terms.show"), 303)


def _term(key: str) -> Term:
    try:
        return terms_table.term(key)
    except KeyError:
        abort(404)
