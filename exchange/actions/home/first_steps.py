"""The first steps of a new circle and of a new member; they end by themselves."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from exchange.actions.growing.shelters import shelters_of
from exchange.actions.kernel.actor import Actor
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.sharing.states import ShareOutState
from exchange.records import (
    BATCHES,
    CLAIMS,
    HOUSEHOLDS,
    MEMBERS,
    PLACES,
    SHARE_OUTS,
    SPARES,
    Tx,
)

SHOWN_FOR = timedelta(days=31)
"""How long a member's first steps are shown after joining (judgement) [days]."""


class Step(StrEnum):
    """What is asked in the first steps, an organiser's and then a member's, each in its order."""

    PEOPLE = "people"
    SPARES = "spares"
    SHARE_OUT = "share_out"
    SHELTER = "shelter"
    PLANTS = "plants"
    WISH = "wish"


@dataclass(frozen=True, slots=True)
class FirstSteps:
    """Three steps, some of them done.

    Attributes
    ----------
    of_circle : whether they are the organiser's, for the whole circle
    done : each step in its order, and whether it is done
    people : how many members the circle has
    shelters : those of the first place, warmest first
    placed : whether the household has a place
    ends_on : the day a member's steps go at the latest, None for the organiser's
    """

    of_circle: bool
    done: tuple[tuple[Step, bool], ...]
    people: int = 0
    shelters: tuple[ShelterKind, ...] = ()
    placed: bool = False
    ends_on: date | None = None

    @property
    def current(self) -> Step:
        """Give the first step not done."""
        return next(step for step, done in self.done if not done)


def first_steps(tx: Tx, actor: Actor, today: date) -> FirstSteps | None:
    """Give the steps still to be shown: the circle's to its organiser, then a member's own; else None."""
    if actor.organiser and actor.acting_for is None:
        steps = _of_circle(tx, actor.circle_id)
        if steps is not None:
            return steps
    return _of_member(tx, actor, today)


def _of_circle(tx: Tx, circle_id: int) -> FirstSteps | None:
    """Give the organiser's steps; None once somebody, a spare and a share-out have been there."""
    people = len(MEMBERS.all(tx, circle_id, left_at=None))
    opened = any(one.state is not ShareOutState.CANCELLED for one in SHARE_OUTS.all(tx, circle_id))
    done = (
        (Step.PEOPLE, people > 1),
        (Step.SPARES, bool(SPARES.all(tx, circle_id))),
        (Step.SHARE_OUT, opened),
    )
    if opened:
        return None
    return FirstSteps(True, done, people)


def _of_member(tx: Tx, actor: Actor, today: date) -> FirstSteps | None:
    """Give a member's steps; None once all are done, or a month after joining."""
    circle_id, household_id = actor.circle_id, actor.own_household()
    household = HOUSEHOLDS.get(tx, circle_id, household_id)
    if household.joined_on is None or today > household.joined_on + SHOWN_FOR:
        return None
    places = PLACES.all(tx, circle_id, household_id=household_id)
    told = [shelters_of(tx, circle_id, place.id) for place in places]
    grows = BATCHES.all(tx, circle_id, household_id=household_id)
    done = (
        (Step.SHELTER, any(told)),
        (Step.PLANTS, bool(grows or SPARES.all(tx, circle_id, household_id=household_id))),
        (Step.WISH, bool(CLAIMS.all(tx, circle_id, household_id=household_id))),
    )
    if all(each for _step, each in done):
        return None
    kinds = tuple(one.kind for one in told[0]) if told else ()
    ends_on = household.joined_on + SHOWN_FOR
    return FirstSteps(False, done, shelters=kinds, placed=bool(places), ends_on=ends_on)
