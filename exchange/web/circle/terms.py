"""The circle's terms, for the organiser: what it has settled, changed one by one, put back."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.circle.terms import reset_term, set_term, term_line, terms_page
from exchange.actions.kernel import terms_table
from exchange.actions.kernel.terms_table import POSTING, SHARING, Term
from exchange.web.circle.terms_forms import form_of, form_sent
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.words.circle import terms as words

blueprint = Blueprint("terms", __name__, url_prefix="/circle/terms")
PARTS = ((POSTING, "Posting"), (SHARING, "Sharing out"))


@blueprint.get("")
def show() -> str:
    return render_template("terms/show.html", lines=terms_page(actor()), parts=PARTS)


@blueprint.get("/<key>")
def change(key: str) -> str:
    line = term_line(actor(), _term(key))
    return render_template("terms/change.html", line=line, form=form_of(line))


@blueprint.post("/<key>")
def keep(key: str) -> tuple[str, int] | Response:
    term = _term(key)
    form = form_sent(term)
    if form.validate():
        with refusals_beside(form):
            set_term(actor(), term, form.wanted(), now(), opened=form.version.data)
            flash(f"{words.title(key)}: kept.")
            return redirect(url_for("terms.show"), 303)
    line = term_line(actor(), term)
    both_shown(form, lambda: form_of(line))
    return render_template("terms/change.html", line=line, form=form), status(form)


@blueprint.post("/<key>/reset")
def reset(key: str) -> Response:
    term = _term(key)
    reset_term(actor(), term, now())
    flash(f"{words.title(key)}: as usual again.")
    return redirect(url_for("terms.show"), 303)


def _term(key: str) -> Term:
    try:
        return terms_table.term(key)
    except KeyError:
        abort(404)
