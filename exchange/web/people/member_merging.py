"""A member entered twice: which are one, what moves, and undoing it."""

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField

from exchange.actions.people.merge_members import (
    MergeMembersPage,
    merge_into_member,
    merge_members_page,
    unmerge_member,
)
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, password_again
from exchange.words.kernel.mergers import moving

blueprint = Blueprint("member_merging", __name__, url_prefix="/people")
Page = tuple[str, int] | Response


class MergeMembersForm(PageForm):
    """Which member another is the same as."""

    into = SelectField(
        "They are the same person as",
        choices=[],
        coerce=int,
        validate_choice=False,
        description="That entry is kept; this one goes into it.",
    )


@blueprint.get("/<int:member_id>/merge")
@password_again
def choose(member_id: int) -> Page:
    page = merge_members_page(actor(), member_id, request.args.get("into", type=int), now())
    return _page(page, MergeMembersForm(None, data={"into": page.kept.id if page.kept else 0}))


@blueprint.post("/<int:member_id>/merge")
def make_one(member_id: int) -> Page:
    form = MergeMembersForm()
    with refusals_beside(form):
        merger_id = merge_into_member(actor(), member_id, form.into.data or 0, now())
        done("The two are one.", url_for("member_merging.make_two", merger_id=merger_id))
        return redirect(url_for("circle.show"), 303)
    return _page(merge_members_page(actor(), member_id, form.into.data, now()), form)


@blueprint.post("/mergers/<int:merger_id>/undo")
def make_two(merger_id: int) -> Response:
    with refusals_told():
        unmerge_member(actor(), merger_id, now())
        done("They are two again, as they were.")
    return redirect(url_for("circle.show"), 303)


def _page(page: MergeMembersPage, form: MergeMembersForm) -> Page:
    form.into.choices = [(one.id, one.full_name) for one in page.others]
    moves = moving(page.moving)
    return render_template("people/merge.html", page=page, form=form, moves=moves), status(form)
