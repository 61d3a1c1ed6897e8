"""My garden: posting days, address, name and telephone, days away."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import Form

from exchange.actions.people.away import NewAway, go_away, stay
from exchange.actions.people.households import (
    AddressTerms,
    ContactTerms,
    HouseholdPosting,
    own_household,
    set_address,
    set_contact,
    set_posting,
)
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.people.detail_forms import AddressForm, AwayForm, ContactForm, PostingForm

blueprint = Blueprint("own_terms", __name__, url_prefix="/garden")
Page = tuple[str, int] | Response


@blueprint.route("/posting", methods=["GET", "POST"])
def posting() -> Page:
    household = own_household(actor()).household
    form = PostingForm(
        data={
            "posting_weekdays": sorted(household.posting_weekdays),
            "parcels_a_day": household.parcels_a_day,
        },
    )
    if form.validate_on_submit():
        days = frozenset(form.posting_weekdays.data or ())
        with refusals_beside(form):
            set_posting(actor(), HouseholdPosting(days, int(form.parcels_a_day.data or 0)), now())
            return _back("Your posting days are kept; parcels planned from now on follow them.")
    return _page("garden/posting.html", form)


@blueprint.route("/address", methods=["GET", "POST"])
def address() -> Page:
    household = own_household(actor()).household
    form = AddressForm(
        data={
            "address": household.address,
            "safe_place": household.safe_place,
            "return_address_allowed": household.return_address_allowed,
        },
    )
    if form.validate_on_submit():
        terms = AddressTerms(
            form.address.data or "",
            form.safe_place.data or "",
            bool(form.return_address_allowed.data),
        )
        with refusals_beside(form):
            set_address(actor(), terms, now())
            return _back("Your address is kept.")
    return _page("garden/address.html", form)


@blueprint.route("/contact", methods=["GET", "POST"])
def contact() -> Page:
    member = own_household(actor()).member
    form = ContactForm(
        data={
            "first_name": member.first_name,
            "surname": member.surname,
            "email": member.email or "",
            "telephone": member.telephone,
            "telephone_allowed": member.telephone_allowed,
        },
    )
    if form.validate_on_submit():
        terms = ContactTerms(
            form.first_name.data or "",
            form.surname.data or "",
            form.email.data or "",
            form.telephone.data or "",
            bool(form.telephone_allowed.data),
        )
        with refusals_beside(form):
            set_contact(actor(), terms, now())
            return _back("It is kept.")
    return _page("garden/contact.html", form)


@blueprint.route("/away", methods=["GET", "POST"])
def away() -> Page:
    form = AwayForm()
    if form.validate_on_submit():
        new = NewAway(
            form.first.data,
            form.last.data,
            bool(form.cannot_receive.data),
            bool(form.cannot_post.data),
        )
        with refusals_beside(form):
            go_away(actor(), new, now())
            return _back("The days are kept. Nobody else sees them; parcels keep clear of them.")
    return _page("garden/away.html", form)


@blueprint.post("/away/<int:away_id>/take-back")
def take_back(away_id: int) -> Response:
    stay(actor(), away_id, now())
    return _back("Those days are taken back.")


def _page(template: str, form: Form) -> Page:
    return render_template(template, form=form), status(form)


def _back(done: str) -> Response:
    flash(done)
    return redirect(url_for("garden.show"), 303)
