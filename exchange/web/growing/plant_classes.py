"""Groups and sizes of varieties: the rows, and changing them."""

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.plant_classes import (
    NewClass,
    add_class,
    change_class,
    classes_page,
    remove_class,
    take_usual_classes,
)
from exchange.domain.growing.plant_class import ClassSort
from exchange.domain.growing.variety import Species
from exchange.web.frame.after_press import done
from exchange.web.frame.form_state import status
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_beside, refusals_told
from exchange.web.frame.session import actor, now
from exchange.web.growing.mending_forms import ClassForm, NewClassForm
from exchange.words.growing.plant_classes import class_words, sort_words

blueprint = Blueprint("plant_classes", __name__, url_prefix="/varieties/classes")
Page = tuple[str, int] | Response


@blueprint.get("")
def show() -> Page:
    return _page(NewClassForm())


@blueprint.post("")
def add() -> Page:
    form = NewClassForm()
    if form.validate():
        new = NewClass(
            Species(form.kind.data),
            ClassSort(form.sort.data),
            form.label.data or "",
            form.society.data or "",
        )
        with refusals_beside(form):
            class_id = add_class(actor(), new, now())
            done("It can be chosen now.", url_for("plant_classes.remove", class_id=class_id))
            return _back()
    return _page(form)


@blueprint.post("/usual")
def take_usual() -> Response:
    species = one_of(Species, request.form.get("kind")) or Species.DAHLIA
    number = take_usual_classes(actor(), species, now())
    done(f"{number} are added; change or remove what your society does otherwise.")
    return _back()


@blueprint.post("/<int:class_id>")
def change(class_id: int) -> Response:
    form = ClassForm()
    with refusals_told():
        label, society = form.label.data or "", form.society.data or ""
        change_class(actor(), class_id, label, society, now(), opened=form.version.data)
        done("It is changed for every variety in it.")
    return _back()


@blueprint.post("/<int:class_id>/remove")
def remove(class_id: int) -> Response:
    with refusals_told():
        remove_class(actor(), class_id, now())
        done("It is removed.")
    return _back()


def _page(form: NewClassForm) -> Page:
    page = classes_page(actor())
    shown = render_template(
        "varieties/classes.html",
        page=page,
        form=form,
        class_words=class_words,
        sort_words=sort_words,
    )
    return shown, status(form)


def _back() -> Response:
    return redirect(url_for("plant_classes.show"), 303)
