"""The share-out before it is confirmed: changed, cancelled, and what confirming will do."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing.page_confirm import confirm_page
from exchange.actions.sharing.share_out import confirm_share_out
from exchange.actions.sharing.share_out_changes import (
    ShareOutToChange,
    cancel_share_out,
    change_share_out,
    put_share_out_back,
    share_out_to_change,
)
from exchange.web.frame.after_press import done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.sharing.share_out_forms import ChangeShareOutForm
from exchange.words.kernel import dates
from exchange.words.sharing import share_out as words

blueprint = Blueprint("share_out_changes", __name__, url_prefix="/share-out")
Page = tuple[str, int] | Response


@blueprint.get("/<int:share_out_id>/change")
def change(share_out_id: int) -> Page:
    there = share_out_to_change(actor(), share_out_id)
    return _change_page(_first_form(there), there)


@blueprint.post("/<int:share_out_id>/change")
def keep_change(share_out_id: int) -> Page:
    form = ChangeShareOutForm()
    if form.validate() and form.closes_on.data is not None:
        with refusals_beside(form):
            day = form.closes_on.data
            to = (form.name.data or "", day)
            change_share_out(actor(), share_out_id, to, now(), opened=form.version.data)
            done(f"It closes on {dates.day_and_year(day)}.")
            return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)
    there = share_out_to_change(actor(), share_out_id)
    both_shown(form, lambda: _first_form(there))
    return _change_page(form, there)


def _first_form(there: ShareOutToChange) -> ChangeShareOutForm:
    one = there.share_out
    first = {"name": one.name, "closes_on": one.closes_on, "version": there.version}
    return ChangeShareOutForm(None, data=first)


def _change_page(form: ChangeShareOutForm, there: ShareOutToChange) -> Page:
    shown = render_template("share_out/change.html", one=there.share_out, form=form)
    return shown, status(form)


@blueprint.post("/<int:share_out_id>/cancel")
def cancel(share_out_id: int) -> Response:
    with refusals_told():
        cancel_share_out(actor(), share_out_id, now())
        undo = url_for("share_out_changes.put_back", share_out_id=share_out_id)
        done("The share-out is cancelled. Spares and claims wait for the next.", undo)
    return redirect(url_for("share_out.show_all"), 303)


@blueprint.post("/<int:share_out_id>/put-back")
def put_back(share_out_id: int) -> Response:
    with refusals_told():
        put_share_out_back(actor(), share_out_id, now())
        done("The share-out runs again, with the same draw number.")
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)


@blueprint.get("/<int:share_out_id>/confirm")
def sure(share_out_id: int) -> Page:
    with refusals_told():
        page = confirm_page(actor(), share_out_id, now())
        return render_template("share_out/confirm.html", page=page, words=words), 200
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)


@blueprint.post("/<int:share_out_id>/confirm")
def confirm(share_out_id: int) -> Response:
    with refusals_told():
        confirmed = confirm_share_out(actor(), share_out_id, now())
        flash(words.confirmed_sentence(confirmed.plants, confirmed.met))
        return redirect(url_for("tasks.show", task_id=confirmed.task_id), 303)
    return redirect(url_for("share_out.show", share_out_id=share_out_id), 303)
