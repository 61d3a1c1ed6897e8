"""What the forms of spares, claims and varieties offer to choose from."""

from dataclasses import dataclass
from datetime import date, datetime

from exchange.actions.kernel.actor import Actor, circle_of, today_in
from exchange.actions.people.labels import household_labels
from exchange.domain.growing.variety import Variety
from exchange.domain.permissions import Permission, Subject
from exchange.records import PLACES, Tx
from exchange.records.varieties import standing_varieties


@dataclass(frozen=True, slots=True)
class Choices:
    """What a form offers to choose from.

    Attributes
    ----------
    places : the household's own places
    households : the other households
    """

    varieties: tuple[Variety, ...]
    places: tuple[tuple[int, str], ...]
    households: tuple[tuple[int, str], ...]
    today: date


def choices(actor: Actor, now: datetime) -> Choices:
    """Give what the forms of spares and claims offer."""
    actor.must(Permission.KEEP_OWN, Subject(owner=actor.own_household()))
    with actor.books.reading() as tx:
        return choices_of_household(tx, actor, now)


def choices_of_household(tx: Tx, actor: Actor, now: datetime) -> Choices:
    """Give the same, within an act."""
    labels = household_labels(tx, actor.circle_id)
    others = [(key, label) for key, label in labels.items() if key != actor.household_id]
    places = PLACES.all(tx, actor.circle_id, household_id=actor.own_household())
    return Choices(
        standing_varieties(tx, actor.circle_id),
        tuple((place.id, f"{place.name}, {place.town}") for place in places),
        tuple(sorted(others, key=lambda one: one[1])),
        today_in(circle_of(actor, tx), now),
    )
