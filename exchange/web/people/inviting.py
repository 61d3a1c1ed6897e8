"""Inviting people: a box with one a line, then a table where something has to be asked."""

from collections.abc import Sequence

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.people.inviting import (
    LookedUp,
    PeopleUnclearError,
    PersonWanted,
    Welcomed,
    invite_people,
)
from exchange.actions.people.towns import key_of, name_of
from exchange.domain.circle.people_lines import TooManyPeopleError, read_people
from exchange.domain.permissions import Permission
from exchange.web.frame.form_state import NOT_TAKEN, status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.people.inviting_forms import PeopleForm, PeopleTableForm
from exchange.words.people.inviting import welcomed

blueprint = Blueprint("inviting", __name__, url_prefix="/people/invite")
Page = tuple[str, int] | Response


@blueprint.route("", methods=["GET", "POST"])
def write() -> Page:
    actor().must(Permission.RUN_CIRCLE)
    form = PeopleForm()
    if form.validate_on_submit():
        people = _read(form)
        with refusals_beside(form):
            if not form.lines.errors:
                try:
                    return _welcome(invite_people(actor(), people, now()))
                except PeopleUnclearError as unclear:
                    return _table(unclear.people)
    return render_template("inviting/write.html", form=form), status(form)


@blueprint.post("/table")
def look_over() -> Page:
    form = PeopleTableForm()
    people = tuple(
        PersonWanted(
            row.form.text.data or "",
            row.form.name.data or "",
            row.form.town.data or "",
            row.form.chosen.data or "",
            row.form.email.data or "",
            bool(row.form.somebody_else.data),
        )
        for row in form.people
        if not row.form.leave_out.data
    )
    form.validate()
    with refusals_beside(form):
        try:
            return _welcome(invite_people(actor(), people, now()))
        except PeopleUnclearError as unclear:
            return _table(unclear.people)
    return render_template("inviting/table.html", form=form, asked=0), NOT_TAKEN


def _read(form: PeopleForm) -> tuple[PersonWanted, ...]:
    try:
        read = read_people(form.lines.data or "")
    except TooManyPeopleError as many:
        form.lines.errors = [f"These are {many.lines} lines; invite fewer at a time."]
        return ()
    return tuple(PersonWanted(one.text, one.name, one.town, "", one.email) for one in read)


def _table(people: Sequence[LookedUp]) -> Page:
    """Show everybody named, with what is asked beside its field; what was left out is gone."""
    rows = [
        {
            "text": one.wanted.text,
            "name": one.wanted.name,
            "town": one.wanted.town,
            "chosen": one.wanted.chosen,
            "email": one.wanted.email,
            "somebody_else": one.wanted.somebody_else,
        }
        for one in people
    ]
    form = PeopleTableForm(None, data={"people": rows})
    for row, one in zip(form.people, people, strict=True):
        towns = [(key_of(town), name_of(town)) for town in one.towns]
        row.form.chosen.choices = [("", "Say which …"), *towns] if towns else []
        for name, sentence in one.asked.items():
            row.form[name].errors = [sentence]
    asked = sum(bool(one.asked) for one in people)
    return render_template("inviting/table.html", form=form, asked=asked), NOT_TAKEN


def _welcome(done: Welcomed) -> Page:
    """Show the links where they cannot be mailed; each is shown this once."""
    said = welcomed(len(done.invited), len(done.added))
    if done.invited and actor().house.mail is None:
        return render_template("inviting/links.html", invited=done.invited, said=said), 200
    flash(said)
    return redirect(url_for("circle.show"), 303)
