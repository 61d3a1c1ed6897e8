"""One box or two: a parcel put into two, or another put in with it."""

from collections.abc import Iterable, Sequence

from flask import Blueprint, render_template, request, url_for
from werkzeug.wrappers import Response
from wtforms import IntegerField
from wtforms.validators import NumberRange, Optional

from exchange.actions.posting.boxes import bundle_parcels, split_parcel
from exchange.actions.posting.in_parcel import InParcel
from exchange.actions.posting.page_boxes import BoxesPage, boxes_page
from exchange.web.frame.after_press import back, done
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import refusals_beside, refusals_told, with_faults_of
from exchange.web.frame.session import actor, now
from exchange.web.posting import parcel_sentences
from exchange.words.growing import plants
from exchange.words.posting import boxes as words

blueprint = Blueprint("boxes", __name__, url_prefix="/parcels")
Page = tuple[str, int] | Response
_OUT = "out-"


class SplitForm(PageForm):
    """How many of each kind go into a second parcel."""


@blueprint.get("/<int:parcel_id>/boxes")
def show(parcel_id: int) -> Page:
    page = boxes_page(actor(), parcel_id, now())
    return _page(page, _form(page.page.in_box)())


@blueprint.post("/<int:parcel_id>/split")
def split(parcel_id: int) -> Page:
    sent = _as_sent(request.form)()
    if sent.validate():
        with refusals_beside(sent):
            second_id = split_parcel(actor(), parcel_id, _said(sent), now())
            undo = url_for("boxes.bundle", parcel_id=parcel_id, other_id=second_id)
            done("They go in two parcels. The days are being weighed anew.", undo)
            return back(url_for("parcels.show", parcel_id=parcel_id))
    page = boxes_page(actor(), parcel_id, now())
    return _page(page, with_faults_of(sent, _form(page.page.in_box)()))


@blueprint.post("/<int:parcel_id>/bundle/<int:other_id>")
def bundle(parcel_id: int, other_id: int) -> Response:
    with refusals_told():
        bundle_parcels(actor(), parcel_id, other_id, now())
        done("They go in one parcel. The day is being weighed anew.")
    return back(url_for("parcels.show", parcel_id=parcel_id))


def _page(page: BoxesPage, form: PageForm) -> Page:
    return render_template(
        "parcels/boxes.html",
        words=parcel_sentences,
        apart=words.apart,
        page=page.page,
        others=page.others,
        form=form,
    ), status(form)


def _form(contents: Sequence[InParcel]) -> type[SplitForm]:
    fields = {}
    for one in contents:
        line = one.line
        what = plants.some(line.count, line.material, line.species, one.variety.name)
        most = f"Write a number from 0 to {line.count}; so many are in it."
        fields[f"{_OUT}{line.allocation_id}"] = IntegerField(
            f"Into the second, of {what}", [Optional(), NumberRange(0, line.count, most)]
        )
    return type("SplitWithCounts", (SplitForm,), fields)


def _as_sent(sent: Iterable[str]) -> type[SplitForm]:
    named = [name for name in sent if name.removeprefix(_OUT).isdecimal()]
    fields = {name: IntegerField("", [Optional()]) for name in named if name.startswith(_OUT)}
    return type("SplitAsSent", (SplitForm,), fields)


def _said(form: PageForm) -> dict[int, int]:
    return {
        int(field.name.removeprefix(_OUT)): field.data
        for field in form
        if field.name.startswith(_OUT) and field.data is not None
    }
