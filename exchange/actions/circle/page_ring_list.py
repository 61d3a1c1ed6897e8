"""The ring list: whom to telephone, by county; only who gave leave stands on it with a number."""

from dataclasses import dataclass

from exchange.actions.kernel.actor import Actor
from exchange.domain.permissions import Permission
from exchange.records import MEMBERS, PLACES
from exchange.words.circle import ring_list as words


@dataclass(frozen=True, slots=True)
class OnRingList:
    """Somebody who may be rung up."""

    first_name: str
    telephone: str
    organiser: bool


@dataclass(frozen=True, slots=True)
class RingList:
    """Who may be rung up, by county.

    Attributes
    ----------
    without : members who are not on it [members]
    """

    counties: tuple[tuple[str, tuple[OnRingList, ...]], ...]
    without: int

    @property
    def text(self) -> str:
        return words.as_text(
            [
                (county, [(one.first_name, one.telephone) for one in people])
                for county, people in self.counties
            ]
        )


def ring_list(actor: Actor) -> RingList:
    """Give everybody who lets the circle have their telephone number, by county."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        members = MEMBERS.all(tx, actor.circle_id, left_at=None)
        counties = {
            place.household_id: place.county for place in PLACES.all(tx, actor.circle_id)[::-1]
        }
    listed = [one for one in members if one.on_ring_list and one.telephone]
    found: dict[str, list[OnRingList]] = {}
    for one in listed:
        county = counties.get(one.household_id, "")
        found.setdefault(county, []).append(
            OnRingList(one.first_name, one.telephone, one.organiser)
        )
    return RingList(
        tuple((county, tuple(people)) for county, people in sorted(found.items())),
        len(members) - len(listed),
    )
