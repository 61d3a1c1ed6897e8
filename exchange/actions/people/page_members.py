"""Who is in the circle: for members first names and counties, for the organiser all of it."""

from collections import defaultdict
from dataclasses import dataclass

from exchange.actions.kernel.actor import Actor
from exchange.actions.kernel.edits import version_of
from exchange.actions.people.households import SHARED
from exchange.actions.people.members import HELPER
from exchange.domain.permissions import Permission
from exchange.records import HOUSEHOLDS, MEMBERS, PLACES, SHELTERS, TASKS, NotHereError, Tx, circles
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import HouseholdRow, MemberRow
from exchange.records.rows.running import UNDER_WAY, TaskRow


@dataclass(frozen=True, slots=True)
class Neighbour:
    """What a member sees of another."""

    first_name: str
    county: str
    organiser: bool


@dataclass(frozen=True, slots=True)
class OnRoster:
    """What the organiser sees of a member.

    Attributes
    ----------
    bare : whether their town, address or shelter is not known yet
    """

    member: MemberRow
    household: HouseholdRow
    town: str
    shares_with: tuple[str, ...]
    bare: bool

    @property
    def joined(self) -> bool:
        return self.household.joined_on is not None

    @property
    def helper_version(self) -> str:
        return version_of(self.member, HELPER)

    @property
    def household_version(self) -> str:
        return version_of(self.member, SHARED)


@dataclass(frozen=True, slots=True)
class Roster:
    """The circle as its organiser sees it."""

    circle: CircleRow
    people: tuple[OnRoster, ...]
    tasks: tuple[TaskRow, ...]

    def one(self, member_id: int) -> OnRoster:
        """Give one person on it.

        Raises
        ------
        NotHereError
            When nobody in this circle has that id.
        """
        for person in self.people:
            if person.member.id == member_id:
                return person
        raise NotHereError(f"there is no member {member_id} in this circle")

    def households(self) -> tuple[HouseholdRow, ...]:
        """Give the households with somebody in them."""
        found = {person.household.id: person.household for person in self.people}
        return tuple(sorted(found.values(), key=lambda one: one.name))


def neighbours(actor: Actor) -> tuple[Neighbour, ...]:
    """Give everybody as first name and county."""
    actor.must(Permission.SEE_CIRCLE)
    with actor.books.reading() as tx:
        counties = {
            place.household_id: place.county for place in PLACES.all(tx, actor.circle_id)[::-1]
        }
        return tuple(
            Neighbour(one.first_name, counties.get(one.household_id, ""), one.organiser)
            for one in MEMBERS.all(tx, actor.circle_id, left_at=None)
        )


def roster(actor: Actor) -> Roster:
    """Give everybody in the circle, for its organiser."""
    actor.must(Permission.RUN_CIRCLE)
    with actor.books.reading() as tx:
        members = MEMBERS.all(tx, actor.circle_id, left_at=None)
        households = HOUSEHOLDS.by_id(tx, actor.circle_id)
        towns = {place.household_id: place.town for place in PLACES.all(tx, actor.circle_id)[::-1]}
        tasks = TASKS.all(tx, actor.circle_id, state=UNDER_WAY)
        circle = circles.get(tx, actor.circle_id)
        bare = not_set_up(tx, actor.circle_id)
    sharing = defaultdict(list)
    for member in members:
        sharing[member.household_id].append(member)
    return Roster(
        circle,
        tuple(
            OnRoster(
                member,
                households[member.household_id],
                towns.get(member.household_id, ""),
                tuple(o.first_name for o in sharing[member.household_id] if o.id != member.id),
                member.household_id in bare,
            )
            for member in members
        ),
        tasks,
    )


def not_set_up(tx: Tx, circle_id: int) -> frozenset[int]:
    """Give the households of which no address, no town or no shelter is known, within an act."""
    sheltered = {one.place_id for one in SHELTERS.all(tx, circle_id)}
    placed = {one.household_id for one in PLACES.all(tx, circle_id) if one.id in sheltered}
    return frozenset(
        one.id
        for one in HOUSEHOLDS.all(tx, circle_id)
        if one.id not in placed or not one.address.strip()
    )
