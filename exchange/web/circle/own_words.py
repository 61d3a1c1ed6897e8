"""Writing to members in one's own words."""

from secrets import token_urlsafe

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import HiddenField, RadioField, SelectMultipleField, StringField, TextAreaField
from wtforms.validators import Optional
from wtforms.widgets import CheckboxInput, ListWidget

from exchange.actions.circle.own_words import (
    OwnLetter,
    letter_written,
    own_words_page,
    take_back_written,
    write_in_own_words,
)
from exchange.domain.permissions import Permission
from exchange.web.frame.form_state import PageForm, an_id, status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.words.kernel import own_words as words

blueprint = Blueprint("write", __name__, url_prefix="/letters/own-words")
Page = tuple[str, int] | Response
EVERYBODY, CHOSEN = "everybody", "chosen"


class OwnWordsForm(PageForm):
    """A letter to everybody, or to those who are ticked."""

    once = HiddenField()
    to = RadioField(
        "To", choices=[(EVERYBODY, "everybody"), (CHOSEN, "those ticked here")], default=EVERYBODY
    )
    members = SelectMultipleField(
        "Members",
        [Optional()],
        coerce=an_id,
        choices=[],
        validate_choice=False,
        option_widget=CheckboxInput(),
        widget=ListWidget(prefix_label=False),
    )
    subject = StringField("What it is about")
    text = TextAreaField(
        "Your letter",
        description="Plain text. “Dear …” with the first name goes before it, your name and the circle’s under it.",
        render_kw={"rows": 12},
    )


@blueprint.get("")
def write() -> Page:
    form = OwnWordsForm()
    form.once.data = token_urlsafe(12)
    return _page(form)


@blueprint.post("")
def send() -> Page:
    actor().must(Permission.RUN_CIRCLE)
    form = OwnWordsForm()
    if form.validate():
        chosen = frozenset(form.members.data or ()) if form.to.data == CHOSEN else None
        letter = OwnLetter(
            form.subject.data or "", form.text.data or "", chosen, form.once.data or ""
        )
        with refusals_beside(form):
            once = write_in_own_words(actor(), letter, now())
            return redirect(url_for("write.one", name=once), 303)
    return _page(form)


@blueprint.get("/<name>")
def one(name: str) -> str:
    written = letter_written(actor(), name)
    by_mail = written.by_mail
    return render_template(
        "write/one.html",
        written=written,
        lead=f"to {words.members(len(written.to))}: {words.written(by_mail, len(written.to) - by_mail)}.",
    )


@blueprint.post("/<name>/take-back")
def take_back(name: str) -> Page:
    with refusals_told():
        taken = take_back_written(actor(), name, now())
        flash(f"Taken back from {words.members(taken)}; whoever was mailed has it already.")
    return redirect(url_for("write.write"), 303)


def _page(form: OwnWordsForm) -> Page:
    found = own_words_page(actor())
    form.members.choices = [
        (reader.member.id, reader.member.full_name + ("" if reader.by_mail else ", by hand"))
        for reader in found.readers
    ]
    page = render_template("write/new.html", form=form, earlier=found.earlier)
    return page, status(form)
