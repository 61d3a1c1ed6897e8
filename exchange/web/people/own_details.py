"""My garden: posting days, address, name and telephone, days away."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response
from wtforms import Form

from exchange.actions.people.away import (
    AwayThere,
    NewAway,
    away_there,
    change_away,
    go_away,
    stay,
)
from exchange.actions.people.households import (
    AddressTerms,
    ContactTerms,
    HouseholdPosting,
    own_household,
    set_address,
    set_contact,
    set_posting,
)
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.people.detail_forms import AddressForm, AwayForm, ContactForm, PostingForm

blueprint = Blueprint("own_terms", __name__, url_prefix="/garden")
Page = tuple[str, int] | Response


@blueprint.get("/posting")
def posting() -> Page:
    return _page("garden/posting.html", _posting_form())


@blueprint.post("/posting")
def keep_posting() -> Page:
    form = PostingForm()
    if form.validate():
        days = frozenset(form.posting_weekdays.data or ())
        terms = HouseholdPosting(days, int(form.parcels_a_day.data or 0))
        with refusals_beside(form):
            set_posting(actor(), terms, now(), opened=form.version.data)
            return _back("Your posting days are kept; parcels planned from now on follow them.")
    both_shown(form, _posting_form)
    return _page("garden/posting.html", form)


def _posting_form() -> PostingForm:
    own = own_household(actor())
    return PostingForm(
        None,
        data={
            "posting_weekdays": sorted(own.household.posting_weekdays),
            "parcels_a_day": own.household.parcels_a_day,
            "version": own.posting_version,
        },
    )


@blueprint.get("/address")
def address() -> Page:
    return _page("garden/address.html", _address_form())


@blueprint.post("/address")
def keep_address() -> Page:
    form = AddressForm()
    if form.validate():
        terms = AddressTerms(
            form.address.data or "",
            form.safe_place.data or "",
            bool(form.return_address_allowed.data),
        )
        with refusals_beside(form):
            set_address(actor(), terms, now(), opened=form.version.data)
            return _back("Your address is kept.")
    both_shown(form, _address_form)
    return _page("garden/address.html", form)


def _address_form() -> AddressForm:
    own = own_household(actor())
    return AddressForm(
        None,
        data={
            "address": own.household.address,
            "safe_place": own.household.safe_place,
            "return_address_allowed": own.household.return_address_allowed,
            "version": own.address_version,
        },
    )


@blueprint.get("/contact")
def contact() -> Page:
    return _page("garden/contact.html", _contact_form())


@blueprint.post("/contact")
def keep_contact() -> Page:
    form = ContactForm()
    if form.validate():
        terms = ContactTerms(
            form.first_name.data or "",
            form.surname.data or "",
            form.email.data or "",
            form.telephone.data or "",
            bool(form.telephone_allowed.data),
            bool(form.on_ring_list.data),
        )
        with refusals_beside(form):
            set_contact(actor(), terms, now(), opened=form.version.data)
            return _back("It is kept.")
    both_shown(form, _contact_form)
    return _page("garden/contact.html", form)


def _contact_form() -> ContactForm:
    own = own_household(actor())
    return ContactForm(
        None,
        data={
            "first_name": own.member.first_name,
            "surname": own.member.surname,
            "email": own.member.email or "",
            "telephone": own.member.telephone,
            "telephone_allowed": own.member.telephone_allowed,
            "on_ring_list": own.member.on_ring_list,
            "version": own.contact_version,
        },
    )


@blueprint.route("/away", methods=["GET", "POST"])
def away() -> Page:
    form = AwayForm()
    if form.validate_on_submit():
        with refusals_beside(form):
            go_away(actor(), _days(form), now())
            return _back("The days are kept. Nobody else sees them; parcels keep clear of them.")
    return _page("garden/away.html", form)


@blueprint.get("/away/<int:away_id>")
def change_days(away_id: int) -> Page:
    return _page("garden/away.html", _away_form(away_there(actor(), away_id)))


@blueprint.post("/away/<int:away_id>")
def keep_days(away_id: int) -> Page:
    form = AwayForm()
    if form.validate():
        with refusals_beside(form):
            change_away(actor(), away_id, _days(form), now(), opened=form.version.data)
            return _back("The days are corrected; parcels keep clear of them.")
    there = away_there(actor(), away_id)
    both_shown(form, lambda: _away_form(there))
    return _page("garden/away.html", form)


def _days(form: AwayForm) -> NewAway:
    return NewAway(
        form.first.data,
        form.last.data,
        bool(form.cannot_receive.data),
        bool(form.cannot_post.data),
    )


def _away_form(there: AwayThere) -> AwayForm:
    one = there.away
    return AwayForm(
        None,
        data={
            "first": one.first,
            "last": one.last,
            "cannot_receive": one.cannot_receive,
            "cannot_post": one.cannot_post,
            "version": there.version,
        },
    )


@blueprint.post("/away/<int:away_id>/take-back")
def take_back(away_id: int) -> Response:
    stay(actor(), away_id, now())
    return _back("Those days are taken back.")


def _page(template: str, form: Form) -> Page:
    return render_template(template, form=form), status(form)


def _back(done: str) -> Response:
    flash(done)
    return redirect(url_for("garden.show"), 303)
