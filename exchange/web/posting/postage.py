"""Postage: what each parcel cost, a season's totals, and the tariff."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import BooleanField, StringField
from wtforms.validators import InputRequired

from exchange.actions.posting.page_postage import ParcelPostage, parcel_postage, postage_page
from exchange.actions.posting.postage import Postage, add_band, keep_postage, remove_band
from exchange.web.frame.after_press import back, done
from exchange.web.frame.edits import EditingForm, both_shown
from exchange.web.frame.form_state import PageForm, status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.words.kernel.money import amount, read_amount
from exchange.words.posting import postage as words

blueprint = Blueprint("postage", __name__, url_prefix="/postage")
Page = tuple[str, int] | Response
NO_SUM = "Write a sum such as 3.49."


class PostageForm(EditingForm):
    """What a parcel cost, and whether that was paid back."""

    paid = StringField("It cost", description="Such as 3.49. Left empty, it is not known.")
    repaid = BooleanField("It has been paid back")


class BandForm(PageForm):
    """A line of the tariff."""

    name = StringField(
        "Which parcels",
        [InputRequired("Say which parcels.")],
        description="A size or weight in your own words, such as: small parcel up to 2 kg.",
    )
    price = StringField("They cost", [InputRequired(NO_SUM)], description="Such as 3.49.")


@blueprint.get("")
def show() -> Page:
    return _page(None, BandForm())


@blueprint.get("/<int:year>")
def of_year(year: int) -> Page:
    if not 1900 <= year <= 9000:
        abort(404)
    return _page(year, BandForm())


@blueprint.post("/tariff")
def add() -> Page:
    form = BandForm()
    price = read_amount(form.price.data or "")
    if form.validate():
        if price is None:
            form.price.errors = [NO_SUM]
        else:
            with refusals_beside(form):
                add_band(actor(), form.name.data or "", price, now())
                flash("The line stands in the tariff.")
                return redirect(url_for("postage.show"), 303)
    return _page(None, form)


@blueprint.post("/tariff/<int:band_id>/remove")
def remove(band_id: int) -> Response:
    with refusals_told():
        remove_band(actor(), band_id, now())
        flash("The line is out of the tariff.")
    return redirect(url_for("postage.show"), 303)


@blueprint.get("/parcels/<int:parcel_id>")
def parcel(parcel_id: int) -> Page:
    page = parcel_postage(actor(), parcel_id, now())
    return _parcel_page(page, _form_of(page))


@blueprint.post("/parcels/<int:parcel_id>")
def keep(parcel_id: int) -> Page:
    form = PostageForm()
    typed = (form.paid.data or "").strip()
    paid = read_amount(typed)
    if typed and paid is None:
        form.validate()
        form.paid.errors = [NO_SUM]
    elif form.validate():
        with refusals_beside(form):
            said = Postage(paid, bool(form.repaid.data))
            keep_postage(actor(), parcel_id, said, now(), opened=form.version.data)
            done("The postage is kept.")
            return back(url_for("parcels.show", parcel_id=parcel_id))
    page = parcel_postage(actor(), parcel_id, now())
    both_shown(form, lambda: _form_of(page))
    return _parcel_page(page, form)


def _form_of(page: ParcelPostage) -> PostageForm:
    paid = page.entry.postage
    typed = "" if paid is None else amount(paid, "")
    data = {"paid": typed, "repaid": page.entry.postage_repaid, "version": page.version}
    return PostageForm(None, data=data)


def _parcel_page(page: ParcelPostage, form: PostageForm) -> Page:
    return render_template(
        "postage/parcel.html", page=page, form=form, words=words, amount=amount
    ), status(form)


def _page(year: int | None, form: BandForm) -> Page:
    page = postage_page(actor(), year, now())
    return render_template(
        "postage/show.html", page=page, form=form, words=words, amount=amount
    ), status(form)
