"""Mending varieties: name and kind, two that are one, off the list and back."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.correct_variety import (
    Corrected,
    correct_variety,
    put_variety_back,
    remove_variety,
)
from exchange.actions.growing.merge_varieties import MergePage, merge, merge_page, unmerge
from exchange.actions.growing.page_correct_variety import CorrectPage, correct_page
from exchange.domain.growing.code_advice import advice_on
from exchange.domain.growing.names import near
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.web.frame.after_press import done
from exchange.web.frame.edits import both_shown
from exchange.web.frame.form_state import status
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.growing.mending_forms import CorrectForm, MergeForm
from exchange.words.growing import plants
from exchange.words.growing.code_advice import advised
from exchange.words.growing.plant_classes import class_fact, class_words
from exchange.words.kernel.mergers import moving

blueprint = Blueprint("variety_mending", __name__, url_prefix="/varieties")
Page = tuple[str, int] | Response

blueprint.add_app_template_filter(class_fact, "class_fact")


@blueprint.get("/<int:variety_id>/correct")
def correct(variety_id: int) -> Page:
    with refusals_told():
        page = correct_page(actor(), variety_id)
        return _correct_page(page, _correct_form(page))
    return _to(variety_id)


@blueprint.post("/<int:variety_id>/correct")
def keep_correction(variety_id: int) -> Page:
    form = CorrectForm()
    if form.validate():
        said = Corrected(
            form.name.data or "",
            Species(form.kind.data),
            form.trade_name.data or "",
            form.group_id.data or None,
            form.size_id.data or None,
        )
        with refusals_beside(form):
            correct_variety(actor(), variety_id, said, now(), opened=form.version.data)
            done("It reads so everywhere now.")
            for one in advice_on(said.name, said.species):
                flash(advised(one), "held")
            return _to(variety_id)
    page = correct_page(actor(), variety_id)
    both_shown(form, lambda: _correct_form(page))
    return _correct_page(page, form)


@blueprint.post("/<int:variety_id>/remove")
def remove(variety_id: int) -> Response:
    with refusals_told():
        remove_variety(actor(), variety_id, now())
        done("It is off the list.", url_for("variety_mending.put_back", variety_id=variety_id))
        return redirect(url_for("varieties.show"), 303)
    return _to(variety_id)


@blueprint.post("/<int:variety_id>/put-back")
def put_back(variety_id: int) -> Response:
    put_variety_back(actor(), variety_id, now())
    done("It is on the list again.")
    return _to(variety_id)


@blueprint.get("/<int:variety_id>/merge")
def choose(variety_id: int) -> Page:
    page = merge_page(actor(), variety_id, request.args.get("into", type=int))
    return _merge_page(page, MergeForm(None, data={"into": page.kept.id if page.kept else 0}))


@blueprint.post("/<int:variety_id>/merge")
def make_one(variety_id: int) -> Page:
    form = MergeForm()
    with refusals_beside(form):
        merger_id = merge(actor(), variety_id, form.into.data or 0, now())
        done("The two are one.", url_for("variety_mending.make_two", merger_id=merger_id))
        return _to(form.into.data)
    return _merge_page(merge_page(actor(), variety_id, form.into.data), form)


@blueprint.post("/mergers/<int:merger_id>/undo")
def make_two(merger_id: int) -> Response:
    with refusals_told():
        variety_id = unmerge(actor(), merger_id, now())
        done("They are two again, as they were.")
        return _to(variety_id)
    return redirect(url_for("varieties.show"), 303)


def _correct_page(page: CorrectPage, form: CorrectForm) -> Page:
    for sort, field in ((ClassSort.GROUP, form.group_id), (ClassSort.SIZE, form.size_id)):
        own = (
            one
            for one in page.classes
            if one.sort is sort and one.species.value in (form.kind.data, page.variety.species)
        )
        field.choices = [(0, "not said"), *((one.id, class_words(one)) for one in own)]
    shown = render_template(
        "varieties/correct.html",
        page=page,
        form=form,
        advice=[advised(one) for one in page.advice],
    )
    return shown, status(form)


def _correct_form(page: CorrectPage) -> CorrectForm:
    variety = page.variety
    return CorrectForm(
        None,
        data={
            "name": variety.name,
            "kind": variety.species.value,
            "trade_name": variety.trade_name,
            "group_id": variety.group_id or 0,
            "size_id": variety.size_id or 0,
            "version": page.version,
        },
    )


def _merge_page(page: MergePage, form: MergeForm) -> Page:
    alike = near(page.merged.name, (one.name for one in page.others))
    others = sorted(page.others, key=lambda one: one.name not in alike)
    form.into.choices = [(one.id, plants.variety(one.species, one.name)) for one in others]
    moves = moving(page.moving)
    shown = render_template("varieties/merge.html", page=page, form=form, moves=moves)
    return shown, status(form)


def _to(variety_id: int) -> Response:
    return redirect(url_for("varieties.one", variety_id=variety_id), 303)
