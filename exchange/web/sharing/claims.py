"""Claims: one's own, asked for in one press or in two steps, taken back, declined."""

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.kernel.refusals import RefusedError
from exchange.actions.sharing import page_claims as views
from exchange.actions.sharing.allocation_answers import decline
from exchange.actions.sharing.claims import (
    NewClaim,
    claim,
    put_claim_back,
    withdraw_claim,
    would_like_one,
)
from exchange.actions.sharing.sender_answer import to_answer
from exchange.domain.growing.batch import Material
from exchange.domain.sharing.claim import USUAL_MATERIALS
from exchange.web.frame.after_press import back, done
from exchange.web.frame.form_state import NOT_TAKEN
from exchange.web.frame.refusals import blame, refusals_told
from exchange.web.frame.session import actor, now, today
from exchange.web.sharing.claim_forms import FIRST_STEP, SECOND_STEP, ClaimForm
from exchange.words.growing import plants

blueprint = Blueprint("claims", __name__, url_prefix="/claims")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> str:
    return render_template(
        "claims/show.html",
        page=views.claims_page(actor(), now()),
        usual=USUAL_MATERIALS,
        to_send=[one for one in to_answer(actor()) if not one.agreed],
    )


@blueprint.post("/one")
def one() -> Response:
    variety_id = request.form.get("variety", type=int)
    if variety_id is None:
        abort(400)
    with refusals_told():
        claim_id = would_like_one(actor(), variety_id, now())
        done("You have asked for one.", url_for("claims.withdraw", claim_id=claim_id))
    return back(url_for("claims.show"))


@blueprint.route("/for/<int:variety_id>", methods=["GET", "POST"])
def ask(variety_id: int) -> Page:
    page = views.claim_form(actor(), variety_id, now())
    form = ClaimForm(data=_of_claim(page))
    form.place.choices = list(page.places) or [(0, "")]
    form.alternatives.choices = [
        (one.id, plants.variety(one.species, one.name)) for one in page.others
    ]
    if request.method == "GET":
        return _step(form, page, 1)
    if not form.validate():
        return _step(form, page, 1 if set(form.errors) & set(FIRST_STEP) else 2, NOT_TAKEN)
    if request.form.get("go_to") in ("1", "2"):
        return _step(form, page, int(request.form["go_to"]))
    try:
        claim_id = claim(actor(), _new_claim(form, variety_id), now())
    except RefusedError as refused:
        blame(form, refused)
        return _step(form, page, 2 if refused.field in SECOND_STEP else 1, NOT_TAKEN)
    done("The claim is made.", url_for("claims.withdraw", claim_id=claim_id))
    return redirect(url_for("claims.show"), 303)


@blueprint.post("/<int:claim_id>/withdraw")
def withdraw(claim_id: int) -> Response:
    with refusals_told():
        withdraw_claim(actor(), claim_id, now())
        done("The claim is taken back.", url_for("claims.ask_again", claim_id=claim_id))
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
        decline(actor(), allocation_id, now())
        done("You have declined them; they go to the next in the reserve.")
    return redirect(url_for("claims.show"), 303)


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
