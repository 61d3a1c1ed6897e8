"""The first steps on the first page: what each shows, and the shelters ticked there."""

from dataclasses import dataclass

from flask import Blueprint, flash, redirect, request, url_for
from werkzeug.wrappers import Response

from exchange.actions.growing.shelters import tell_shelters
from exchange.actions.home.first_steps import FirstSteps, Step
from exchange.domain.growing.shelter import ShelterKind
from exchange.web.frame.query import one_of
from exchange.web.frame.refusals import refusals_told
from exchange.web.frame.session import actor, now
from exchange.words.growing import plants
from exchange.words.home import first_steps as words

blueprint = Blueprint("first_steps", __name__, url_prefix="/first-steps")

_PAGES = {
    Step.PEOPLE: "/people/invite",
    Step.SPARES: "/spares/box",
    Step.SHARE_OUT: "/share-out",
    Step.SHELTER: "/garden/places/new",
    Step.PLANTS: "/spares/box",
    Step.WISH: "/spares",
}
_CHANGED = {
    Step.PEOPLE: "/circle",
    Step.SPARES: "/spares",
    Step.SHELTER: "/garden",
    Step.PLANTS: "/spares?mine=yes",
    Step.WISH: "/claims",
}
_OTHER = {Step.PLANTS: ("/varieties", "I only grow it myself")}


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step as the page shows it.

    Attributes
    ----------
    ticks : shelters to be ticked on the page itself, each with its word
    other : a further way to do it, with its words, or None
    """

    when: str
    title: str
    why: str
    done: bool
    current: bool
    button: str
    url: str
    ticks: tuple[tuple[str, str], ...] = ()
    other: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class StepsView:
    """The steps as the page shows them."""

    lines: tuple[StepLine, ...]
    lead: str
    ends: str
    drawn: str
    afterwards: tuple[tuple[str, str], ...]


def view_of(steps: FirstSteps) -> StepsView:
    return StepsView(
        tuple(_line(steps, number) for number in range(len(steps.done))),
        words.lead(steps.of_circle),
        words.ends(steps.ends_on),
        words.drawn([done for _step, done in steps.done]),
        words.afterwards(steps.of_circle),
    )


def _line(steps: FirstSteps, number: int) -> StepLine:
    step, done = steps.done[number]
    if done:
        said = words.once_done(step.value, steps.people, steps.shelters)
        return StepLine(
            words.ORDER[number],
            words.title(step.value),
            said,
            True,
            False,
            "Change it",
            _CHANGED[step],
        )
    placeless = step is Step.SHELTER and not steps.placed
    ticks = step is Step.SHELTER and steps.placed
    return StepLine(
        words.ORDER[number],
        words.title(step.value),
        words.why(step.value),
        False,
        step is steps.current,
        "Say where you grow first" if placeless else words.button(step.value),
        _PAGES[step],
        tuple((kind.value, plants.shelter(kind)) for kind in ShelterKind) if ticks else (),
        _OTHER.get(step),
    )


@blueprint.post("/shelters")
def shelters() -> Response:
    kinds = [one_of(ShelterKind, told) for told in request.form.getlist("shelter")]
    with refusals_told():
        tell_shelters(actor(), frozenset(kind for kind in kinds if kind), now())
        flash("Your shelters are kept; how much room there is can be said under My garden.")
    return redirect(url_for("todo.show"), 303)
