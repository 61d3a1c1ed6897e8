"""Answers with one button, by a link that works once and without signing in.

The page of a link shows its question's template in a form; the press reads the form into what was
said and does one act, which uses the link up.
"""

from flask import Blueprint, abort, render_template, request

from exchange.actions.home.answer_by_link import (
    PressedLink,
    answer_by_link,
    question_of,
)
from exchange.actions.kernel.links import LinkGoneError, Purpose
from exchange.actions.kernel.refusals import RefusedError
from exchange.web.frame.session import anyone, house, machine_now
from exchange.web.home.questions import QUESTIONS, Question

blueprint = Blueprint("answers", __name__, url_prefix="/answer")


@blueprint.get("/<purpose>/<token>")
@anyone
def ask(purpose: str, token: str) -> str:
    question, link = _followed(purpose, token)
    return _page(question, link)


@blueprint.post("/<purpose>/<token>")
@anyone
def answer(purpose: str, token: str) -> tuple[str, int] | str:
    question, link = _followed(purpose, token)
    try:
        said = question.read(request.form)
        answered = answer_by_link(house(), link, said, machine_now())
    except LinkGoneError:
        abort(410)
    except RefusedError as refused:
        return _page(question, link, str(refused)), 422
    thanks = question.thanks(said, answered)
    return render_template("answers/thanks.html", thanks=thanks, circle=answered.circle)


def _followed(purpose: str, token: str) -> tuple[Question, PressedLink]:
    try:
        wanted = Purpose(purpose.replace("-", "_"))
        return QUESTIONS[wanted], PressedLink(token, wanted)
    except (ValueError, KeyError):
        abort(404)


def _page(question: Question, link: PressedLink, refused: str = "") -> str:
    try:
        asked = question_of(house(), link, machine_now())
    except LinkGoneError:
        abort(410)
    shown = question.show(asked, request.form)
    return render_template(
        question.template,
        opened=asked.opened,
        refused=refused,
        circle=asked.opened.circle.name,
        **shown,
    )
