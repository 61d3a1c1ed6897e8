"""Parcels that do not simply come: late, or back with their sender."""

from flask import Blueprint, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.posting.late import say_late
from exchange.actions.posting.page_parcel import ParcelPage, parcel_page
from exchange.actions.posting.returned import CameBack, not_returned, say_returned
from exchange.web.frame.after_press import back, done
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told, with_faults_of
from exchange.web.frame.session import actor, now, today
from exchange.web.people.confirm_identity import addresses_open
from exchange.web.posting import parcel_sentences
from exchange.web.posting.parcel_forms import (
    ReturnedForm,
    good_said,
    returned_as_sent,
    returned_form,
)

blueprint = Blueprint("parcel_ends", __name__, url_prefix="/parcels")
Page = tuple[str, int] | Response


@blueprint.post("/<int:parcel_id>/late")
def late(parcel_id: int) -> Response:
    with refusals_told():
        say_late(actor(), parcel_id, now())
        done("Noted that it has not come yet. Its sender is told.")
    return _back(parcel_id)


@blueprint.get("/<int:parcel_id>/returned")
def returned(parcel_id: int) -> Page:
    page = _page(parcel_id)
    return _returned_page(page, returned_form(page.in_box)(data={"day": today()}))


@blueprint.post("/<int:parcel_id>/returned")
def keep_returned(parcel_id: int) -> Page:
    sent = returned_as_sent(request.form)()
    if sent.validate() and sent.day.data is not None:
        with refusals_beside(sent):
            say_returned(actor(), parcel_id, CameBack(sent.day.data, good_said(sent)), now())
            undo = url_for("parcel_ends.take_back_returned", parcel_id=parcel_id)
            done("Noted that it came back. The receiver is told.", undo)
            return _back(parcel_id)
    page = _page(parcel_id)
    return _returned_page(page, with_faults_of(sent, returned_form(page.in_box)()))


@blueprint.post("/<int:parcel_id>/not-returned")
def take_back_returned(parcel_id: int) -> Response:
    with refusals_told():
        not_returned(actor(), parcel_id, now())
        done("Taken back.")
    return _back(parcel_id)


def _returned_page(page: ParcelPage, form: ReturnedForm) -> Page:
    return render_template(
        "parcels/returned.html", words=parcel_sentences, page=page, form=form
    ), status(form)


def _page(parcel_id: int) -> ParcelPage:
    return parcel_page(actor(), parcel_id, now(), fresh=addresses_open())


def _back(parcel_id: int) -> Response:
    return back(url_for("parcels.show", parcel_id=parcel_id))
