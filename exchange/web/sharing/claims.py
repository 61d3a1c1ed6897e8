"""Claims: one's own, asked for in one press or in two steps, taken back, declined."""

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.sharing import page_claims as views
from exchange.actions.sharing.allocation_answers import decline
from exchange.actions.sharing.claims import (
    NewClaim,
    claim,
    put_claim_back,
    say_still_wanted,
    withdraw_claim,
    would_like_one,
)
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.web.frame.after_press import back, done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import NOT_TAKEN
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now, today
from exchange.web.sharing.claim_forms import FIRST_STEP, SECOND_STEP, ClaimForm
from exchange.words.growing import plants
from exchange.words.sharing.claim_obstacle import LOOK_AT_CLAIMS
from exchange.words.sharing.share_out_after import declined

blueprint = Blueprint("claims", __name__, url_prefix="/claims")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    page = views.claims_page(actor(), now())
    return render_template(
        "claims/show.html",
        page=page,
        usual=USUAL_MATERIALS,
        to_send=page.to_send,
    )


@blueprint.post("/one")
def one() -> Response:
    variety_id = request.form.get("variety", type=int)
    if variety_id is None:
        abort(400)
    with refusals_told():
        beside = request.form.get("spare", type=int)
        asked = would_like_one(actor(), variety_id, now(), beside)
        fact = "You have asked for one."
        if not asked.can_be_met:
            fact = f"{fact} {LOOK_AT_CLAIMS}"
        done(fact, url_for("claims.withdraw", claim_id=asked.claim_id))
    return back(url_for("claims.show"))


@blueprint.get("/for/<int:variety_id>")
def ask(variety_id: int) -> Page:
    page = views.claim_form(actor(), variety_id, now())
    return _step(_first_form(page), page, 1)


@blueprint.post("/for/<int:variety_id>")
def keep(variety_id: int) -> Page:
    form = ClaimForm()
    goes_on = request.form.get("go_to") in ("1", "2")
    if form.validate() and not goes_on:
        with refusals_beside(form):
            claim_id = claim(actor(), _new_claim(form, variety_id), now(), opened=form.version.data)
            done("The claim is made.", url_for("claims.withdraw", claim_id=claim_id))
            return redirect(url_for("claims.show"), 303)
    page = views.claim_form(actor(), variety_id, now())
    _offer(form, page)
    both_shown(form, lambda: _first_form(page))
    if not form.errors:
        return _step(form, page, int(request.form["go_to"]))
    only_second = set(form.errors) & set(SECOND_STEP) and not set(form.errors) & set(FIRST_STEP)
    return _step(form, page, 2 if only_second else 1, NOT_TAKEN)


@blueprint.post("/<int:claim_id>/withdraw")
def withdraw(claim_id: int) -> Response:
    with refusals_told():
        ended = withdraw_claim(actor(), claim_id, now())
        done("The claim is taken back.", url_for("claims.ask_again", claim_id=ended))
    return back(url_for("claims.show"))


@blueprint.post("/<int:claim_id>/still-wanted")
def still_wanted(claim_id: int) -> Response:
    with refusals_told():
        say_still_wanted(actor(), claim_id, now())
        done("The claim still stands.")
    return back(url_for("claims.show"))


@blueprint.post("/<int:claim_id>/put-back")
def ask_again(claim_id: int) -> Response:
    with refusals_told():
        put_claim_back(actor(), claim_id, now())
        done("The claim stands again.")
    return back(url_for("claims.show"))


@blueprint.post("/given/<int:allocation_id>/decline")
def decline_given(allocation_id: int) -> Response:
    with refusals_told():
        done(declined(decline(actor(), allocation_id, now())))
    return redirect(url_for("claims.show"), 303)


def _first_form(page: views.ClaimPage) -> ClaimForm:
    """Give the form as a first visit shows it."""
    form = ClaimForm(None, data={**_of_claim(page), "version": page.version})
    _offer(form, page)
    return form


def _offer(form: ClaimForm, page: views.ClaimPage) -> None:
    form.place.choices = list(page.places) or [(0, "")]
    form.alternatives.choices = [
        (one.id, plants.variety(one.species, one.name)) for one in page.others
    ]


def _step(form: ClaimForm, page: views.ClaimPage, step: int, status: int = 200) -> Page:
    shown = render_template(
        "claims/ask.html",
        form=form,
        page=page,
        step=step,
        today=today(),
        unseen=[form[name] for name in (SECOND_STEP if step == 1 else FIRST_STEP)],
    )
    return shown, status


def _new_claim(form: ClaimForm, variety_id: int) -> NewClaim:
    return NewClaim(
        variety_id=variety_id,
        asked=form.asked.data,
        choice=int(form.choice.data),
        materials=frozenset(Material(one) for one in form.materials.data),
        no_use_after=form.no_use_after.data,
        alternatives=tuple(form.alternatives.data or ()),
        place_id=form.place.data or None,
    )


def _of_claim(page: views.ClaimPage) -> dict[str, Any]:
    """Give the form's answers for a claim that is there; nothing for a new one."""
    there = page.there
    if there is None:
        return {"alternatives": []}
    return {
        "asked": there.asked,
        "materials": sorted(one.value for one in there.materials),
        "place": there.place_id,
        "no_use_after": there.no_use_after,
        "choice": str(there.choice),
        "alternatives": list(there.alternatives),
    }
