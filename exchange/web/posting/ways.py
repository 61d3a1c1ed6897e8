"""The ways of sending, for the organiser."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.posting.route import go_straight, go_through, through_by_way
from exchange.actions.posting.ways import (
    add_way,
    change_way,
    countries_of,
    is_by_hand,
    way_of,
    ways_page,
)
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
    return render_template(
        "ways/show.html",
        ways=ways_page(actor()),
        through=through_by_way(actor()),
        is_by_hand=is_by_hand,
        words=ways,
        nights_words=route.nights,
        weekdays=terms.weekdays,
    )


@blueprint.route("/<int:way_id>", methods=["GET", "POST"])
def change(way_id: int) -> Page:
    way = way_of(actor(), way_id)
    form = WayForm(
        data={
            "used": way.used,
            "postage": way.postage,
            "cut_off_hour": int(way.cut_off_hour),
            "hand_over_weekdays": sorted(way.hand_over_weekdays),
            "delivery_weekdays": sorted(way.delivery_weekdays),
        },
    )
    if is_by_hand(way):
        del form.postage
        form.used.description = "By hand is always there."
    if form.validate_on_submit():
        with refusals_beside(form):
            change_way(actor(), way_id, form.terms(), now())
            flash(f"{way.name} is kept; parcels are weighed anew.")
            return redirect(url_for("ways.show"), 303)
    return render_template("ways/change.html", way=way, form=form, words=ways), status(form)


@blueprint.route("/<int:way_id>/through", methods=["GET", "POST"])
def through(way_id: int) -> Page:
    way = way_of(actor(), way_id)
    known = through_by_way(actor()).get(way_id)
    form = ThroughForm(data={"town": known.name if known else ""})
    if form.validate_on_submit():
        town = town_of(form)
        with refusals_beside(form):
            if town is not None:
                go_through(actor(), way_id, town, now())
                flash(f"{way.name} goes that way; parcels are weighed anew.")
                return redirect(url_for("ways.show"), 303)
    return render_template(
        "ways/through.html", way=way, known=known, form=form, nights_words=route.nights
    ), status(form)


@blueprint.post("/<int:way_id>/through/remove")
def drop_through(way_id: int) -> Response:
    go_straight(actor(), way_id, now())
    flash("It goes through no town; parcels are weighed anew.")
    return redirect(url_for("ways.show"), 303)


@blueprint.route("/new", methods=["GET", "POST"])
def new() -> Page:
    form = NewWayForm()
    form.country.choices = [(one, ways.country(one)) for one in countries_of(actor())]
    if form.validate_on_submit():
        with refusals_beside(form):
            add_way(actor(), form.new_way(), now())
            flash("The way is kept; parcels are weighed anew.")
            return redirect(url_for("ways.show"), 303)
    return render_template("ways/new.html", form=form), status(form)
