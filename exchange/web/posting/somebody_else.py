"""Somebody else posts a parcel for its sender."""

from flask import Blueprint, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import SelectField
from wtforms.validators import InputRequired

from exchange.actions.posting.somebody_else import (
    SomebodyElsePage,
    ask_to_post,
    leave_to_sender,
    somebody_else_page,
    take_over,
)
from exchange.web.frame.after_press import back, done
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now

blueprint = Blueprint("somebody_else", __name__, url_prefix="/parcels")
Page = tuple[str, int] | Response


class SomebodyElseForm(PageForm):
    """Who is asked to post it."""

    household_id = SelectField(
        "Who might post it",
        [InputRequired("Choose somebody from the list.")],
        choices=[],
        validate_choice=False,
        description="The nearest to the sender first.",
    )

    def chosen(self) -> int:
        typed = self.household_id.data or ""
        return int(typed) if typed.isdecimal() else 0


@blueprint.get("/<int:parcel_id>/somebody-else")
def show(parcel_id: int) -> Page:
    return _page(somebody_else_page(actor(), parcel_id, now()), SomebodyElseForm())


@blueprint.post("/<int:parcel_id>/somebody-else")
def keep(parcel_id: int) -> Page:
    form = SomebodyElseForm()
    if form.validate():
        with refusals_beside(form):
            ask_to_post(actor(), parcel_id, form.chosen(), now())
            done("They are asked. Until they say yes it is the sender’s to post.")
            return back(url_for("parcels.show", parcel_id=parcel_id))
    return _page(somebody_else_page(actor(), parcel_id, now()), form)


@blueprint.post("/<int:parcel_id>/take-over")
def take(parcel_id: int) -> Response:
    with refusals_told():
        take_over(actor(), parcel_id, now())
        done("Thank you. The day is being weighed anew, by your own posting days.")
    return back(url_for("parcels.show", parcel_id=parcel_id))


@blueprint.post("/<int:parcel_id>/leave-to-sender")
def leave(parcel_id: int) -> Response:
    with refusals_told():
        leave_to_sender(actor(), parcel_id, now())
        done("It is the sender’s to post.")
    return back(url_for("parcels.show_all"))


def _page(page: SomebodyElsePage, form: SomebodyElseForm) -> Page:
    form.household_id.choices = [(str(key), label) for key, label in page.choices]
    return render_template("parcels/somebody_else.html", page=page, form=form), status(form)
