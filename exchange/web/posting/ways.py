"""The ways of sending, for the organiser."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.posting.route import go_straight, go_through
from exchange.actions.posting.ways import (
    WayPage,
    add_way,
    change_way,
    countries_of,
    is_by_hand,
    way_page,
    ways_page,
)
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside
from exchange.web.frame.session import actor, now
from exchange.web.people.towns import town_of
from exchange.web.posting.way_forms import NewWayForm, ThroughForm, WayForm
from exchange.words.circle import terms
from exchange.words.posting import route, ways

blueprint = Blueprint("ways", __name__, url_prefix="/circle/ways")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    page = ways_page(actor())
    return render_template(
        "ways/show.html",
        ways=page.ways,
        through=page.through,
        is_by_hand=is_by_hand,
        words=ways,
        nights_words=route.nights,
        weekdays=terms.weekdays,
    )


@blueprint.get("/<int:way_id>")
def change(way_id: int) -> Page:
    page = way_page(actor(), way_id)
    return _change_page(page, _way_form(page))


@blueprint.post("/<int:way_id>")
def keep(way_id: int) -> Page:
    form = WayForm()
    if form.validate():
        with refusals_beside(form):
            name = change_way(actor(), way_id, form.terms(), now(), opened=form.version.data)
            flash(f"{name} is kept; parcels are weighed anew.")
            return redirect(url_for("ways.show"), 303)
    page = way_page(actor(), way_id)
    if is_by_hand(page.way):
        del form.postage
    both_shown(form, lambda: _way_form(page))
    return _change_page(page, form)


def _way_form(page: WayPage) -> WayForm:
    way = page.way
    form = WayForm(
        None,
        data={
            "used": way.used,
            "postage": way.postage,
            "cut_off_hour": int(way.cut_off_hour),
            "hand_over_weekdays": sorted(way.hand_over_weekdays),
            "delivery_weekdays": sorted(way.delivery_weekdays),
            "version": page.version,
        },
    )
    if is_by_hand(way):
        del form.postage
    return form


def _change_page(page: WayPage, form: WayForm) -> Page:
    if is_by_hand(page.way):
        form.used.description = "By hand is always there."
    shown = render_template("ways/change.html", way=page.way, form=form, words=ways)
    return shown, status(form)


@blueprint.get("/<int:way_id>/through")
def through(way_id: int) -> Page:
    page = way_page(actor(), way_id)
    return _through_page(page, _through_form(page))


@blueprint.post("/<int:way_id>/through")
def keep_through(way_id: int) -> Page:
    form = ThroughForm()
    town = town_of(form) if form.validate() else None
    if town is not None:
        with refusals_beside(form):
            name = go_through(actor(), way_id, town, now(), opened=form.version.data)
            flash(f"{name} goes that way; parcels are weighed anew.")
            return redirect(url_for("ways.show"), 303)
    page = way_page(actor(), way_id)
    both_shown(form, lambda: _through_form(page))
    return _through_page(page, form)


def _through_form(page: WayPage) -> ThroughForm:
    town = page.through.name if page.through else ""
    return ThroughForm(None, data={"town": town, "version": page.route_version})


def _through_page(page: WayPage, form: ThroughForm) -> Page:
    return render_template(
        "ways/through.html",
        way=page.way,
        known=page.through,
        form=form,
        nights_words=route.nights,
    ), status(form)


@blueprint.post("/<int:way_id>/through/remove")
def drop_through(way_id: int) -> Response:
    go_straight(actor(), way_id, now())
    flash("It goes through no town; parcels are weighed anew.")
    return redirect(url_for("ways.show"), 303)


@blueprint.get("/new")
def new() -> Page:
    return _new_page(NewWayForm())


@blueprint.post("/new")
def add() -> Page:
    form = NewWayForm()
    if form.validate():
        with refusals_beside(form):
            add_way(actor(), form.new_way(), now())
            flash("The way is kept; parcels are weighed anew.")
            return redirect(url_for("ways.show"), 303)
    return _new_page(form)


def _new_page(form: NewWayForm) -> Page:
    form.country.choices = [(one, ways.country(one)) for one in countries_of(actor())]
    return render_template("ways/new.html", form=form), status(form)
