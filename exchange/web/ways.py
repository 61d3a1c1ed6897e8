"""The ways of sending, for the organiser."""

from flask import Blueprint, flash, redirect, render_template, url_for
from werkzeug.wrappers import Response

from exchange.actions.refused import RefusedError
from exchange.actions.way_terms import (
    add_way,
    change_way,
    countries_of,
    is_by_hand,
    way_of,
    ways_page,
)
from exchange.web.forms.asked import answered, blame, sent, status
from exchange.web.forms.ways import NewWayForm, WayForm
from exchange.web.session import actor, now
from exchange.words import terms, ways
from exchange.words.phrase import _

blueprint = Blueprint("ways", __name__, url_prefix="/circle/ways")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    return render_template(
        "ways/show.html", ways=ways_page(actor()), words=ways, weekdays=terms.weekdays
    )


@blueprint.route("/<int:way_id>", methods=["GET", "POST"])
def change(way_id: int) -> Page:
    way = way_of(actor(), way_id)
    form = WayForm(
        sent(),
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
        form.used.description = _("By hand is always there.")
    if answered(form):
        try:
            change_way(actor(), way_id, form.terms(), now())
        except RefusedError as refused:
            blame(form, refused)
        else:
            flash(_("{name} is kept; parcels are weighed anew.").format(name=way.name))
            return redirect(url_for("ways.show"), 303)
    return render_template("ways/change.html", way=way, form=form, words=ways), status(form)


@blueprint.route("/new", methods=["GET", "POST"])
def new() -> Page:
    form = NewWayForm(sent())
    form.country.choices = [(one, ways.country(one)) for one in countries_of(actor())]
    if answered(form):
        try:
            add_way(actor(), form.new_way(), now())
        except RefusedError as refused:
            blame(form, refused)
        else:
            flash(_("The way is kept; parcels are weighed anew."))
            return redirect(url_for("ways.show"), 303)
    return render_template("ways/new.html", form=form), status(form)
