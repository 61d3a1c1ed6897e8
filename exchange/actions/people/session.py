"""Where a signed-in person stands: in which circle, as whom, for whom."""

from dataclasses import dataclass

from exchange.actions.kernel.actor import Actor, House, actor_of
from exchange.actions.kernel.refusals import RefusedError
from exchange.records import MEMBERS, Tx, accounts, circles
from exchange.records.rows.circle import CircleRow
from exchange.records.rows.people import MemberRow


class NoCircleError(RefusedError):
    """No circle is set up yet."""


class WhichCircleError(RefusedError):
    """There are several circles, or none of the name given."""


@dataclass(frozen=True, slots=True)
class Standing:
    """A member in a circle.

    Attributes
    ----------
    acting_for : the member acted for, or None
    several : whether the account belongs to further circles
    """

    circle: CircleRow
    member: MemberRow
    acting_for: MemberRow | None
    several: bool

    def actor(self, house: House) -> Actor:
        """Give the actor for this standing."""
        own = actor_of(house, self.member)
        if self.acting_for is None:
            return own
        return own.for_member(self.acting_for.id, self.acting_for.household_id)

    @property
    def person(self) -> MemberRow:
        """Give the member whose things are looked at: the one acted for, or oneself."""
        return self.acting_for or self.member


@dataclass(frozen=True, slots=True)
class LetIn:
    """Whom a link lets in: the account to sign in, and the circle it then stands in."""

    account_id: int
    circle_id: int


def circles_of(house: House, account_id: int) -> tuple[CircleRow, ...]:
    """Give the circles an account belongs to."""
    with house.books.reading() as tx:
        return tuple(
            circles.get(tx, member.circle_id) for member in accounts.memberships(tx, account_id)
        )


def standing_of(
    house: House, account_id: int, circle_id: int | None, acting_for: int | None = None
) -> Standing | None:
    """Give where an account stands; None while it has no circle, or has several and chose none."""
    with house.books.reading() as tx:
        members = accounts.memberships(tx, account_id)
        chosen = [one for one in members if one.circle_id == circle_id]
        if not chosen and len(members) == 1:
            chosen = list(members)
        if not chosen:
            return None
        member = chosen[0]
        circle = circles.get(tx, member.circle_id)
        return Standing(circle, member, _acted_for(tx, member, acting_for), len(members) > 1)


def organiser_of(house: House, circle_name: str) -> Actor:
    """Give the actor for the first organiser of a circle, for commands on the machine itself.

    Parameters
    ----------
    circle_name : may be empty where there is only one circle

    Raises
    ------
    NoCircleError, WhichCircleError
    """
    with house.books.reading() as tx:
        found = circles.everyone(tx)
        if not found:
            raise NoCircleError("There is no circle here yet. Set one up with: exchange init")
        wanted = [one for one in found if circle_name in ("", one.name)]
        if len(wanted) != 1:
            names = ", ".join(one.name for one in found)
            raise WhichCircleError(f"Say which circle with --circle; there are: {names}.")
        first = MEMBERS.all(tx, wanted[0].id, organiser=True, left_at=None)[0]
    return Actor(house, first.circle_id, first.id, first.household_id, organiser=True)


def _acted_for(tx: Tx, member: MemberRow, wanted: int | None) -> MemberRow | None:
    """Give the member acted for, as long as it is still allowed and they are still here."""
    if wanted is None or not member.organiser:
        return None
    return MEMBERS.find(tx, member.circle_id, id=wanted, left_at=None)
