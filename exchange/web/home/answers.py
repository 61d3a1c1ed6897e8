"""Answers with one button, by a link that works once and without signing in.

Pages of parcels and share-outs add their question to `QUESTIONS`; the page of a link shows the
question's template in a form, and the press redeems the link and does the question's act.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from flask import Blueprint, abort, render_template, request
from werkzeug.datastructures import MultiDict

from exchange.actions.kernel.actor import Actor, now_of
from exchange.actions.kernel.links import LinkGoneError, Opened, Purpose, open_link, redeem_for
from exchange.actions.kernel.refusals import RefusedError
from exchange.web.frame.session import anyone, house, machine_now

blueprint = Blueprint("answers", __name__, url_prefix="/answer")


@dataclass(frozen=True, slots=True)
class Question:
    """One kind of question asked by a link.

    Attributes
    ----------
    template : extends "answers/question.html" and fills its block `question`
    show : gives the template's values for the actor, the subject, what was sent so far, and now
    act : does what was answered (actor, subject, fields sent, now) and gives the sentence of
        thanks; a RefusedError is shown above the question and leaves the link unused
    """

    template: str
    show: Callable[[Actor, int, MultiDict[str, str], datetime], Mapping[str, Any]]
    act: Callable[[Actor, int, MultiDict[str, str], datetime], str]


QUESTIONS: dict[Purpose, Question] = {}


@blueprint.get("/<purpose>/<token>")
@anyone
def ask(purpose: str, token: str) -> str:
    question, opened = _asked(purpose, token)
    return _page(question, opened)


@blueprint.post("/<purpose>/<token>")
@anyone
def answer(purpose: str, token: str) -> tuple[str, int] | str:
    question, opened = _asked(purpose, token)
    now = now_of(house(), opened.circle, machine_now())
    try:
        thanks = redeem_for(
            house(),
            opened,
            now,
            lambda: question.act(opened.actor(house()), opened.subject_id or 0, request.form, now),
        )
    except LinkGoneError:
        abort(410)
    except RefusedError as refused:
        return _page(question, opened, str(refused)), 422
    return render_template("answers/thanks.html", thanks=thanks, circle=opened.circle.name)


def _asked(purpose: str, token: str) -> tuple[Question, Opened]:
    try:
        wanted = Purpose(purpose.replace("-", "_"))
        question = QUESTIONS[wanted]
    except (ValueError, KeyError):
        abort(404)
    try:
        opened = open_link(
            house(), token, wanted, lambda circle: now_of(house(), circle, machine_now())
        )
    except LinkGoneError:
        abort(410)
    return question, opened


def _page(question: Question, opened: Opened, refused: str = "") -> str:
    now = now_of(house(), opened.circle, machine_now())
    actor = opened.actor(house())
    shown = question.show(actor, opened.subject_id or 0, request.form, now)
    return render_template(
        question.template, opened=opened, refused=refused, circle=opened.circle.name, **shown
    )
