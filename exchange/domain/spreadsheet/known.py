"""What the circle knows when a file is read: names, members, what stands already."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from exchange.domain.growing.batch import Material
from exchange.domain.growing.last_plant import PlantsKept
from exchange.domain.growing.variety import Variety


@dataclass(frozen=True, slots=True)
class KnownMember:
    """A member.

    Attributes
    ----------
    has_place : whether it is known where they grow
    """

    id: int
    household_id: int
    first_name: str
    full_name: str
    email: str = ""
    has_place: bool = True


@dataclass(frozen=True, slots=True)
class TownRead:
    """A town as it was looked up.

    Attributes
    ----------
    key : of the one that is surely meant, empty where it is asked
    towns : those that may be meant [key, name]
    """

    key: str = ""
    towns: tuple[tuple[str, str], ...] = ()


def no_town(_text: str) -> TownRead:
    """Look a town up where none is known."""
    return TownRead()


@dataclass(frozen=True, slots=True)
class KnownCircle:
    """The circle on the day a file is read.

    Attributes
    ----------
    spares : open ones [household, variety, material -> plants]
    claims : open ones [household, variety]
    stock : living plants [household, variety, material -> plants]
    kept : plants of a household and of the circle [household, variety -> plants]
    living : plants in the whole circle [variety -> plants]
    earlier : rows that went in before, by their hash
    town : looks a town up
    """

    today: date
    varieties: tuple[Variety, ...] = ()
    members: tuple[KnownMember, ...] = ()
    spares: Mapping[tuple[int, int, Material], int] = field(
        default_factory=lambda: MappingProxyType({})
    )
    claims: frozenset[tuple[int, int]] = frozenset()
    stock: Mapping[tuple[int, int, Material], int] = field(
        default_factory=lambda: MappingProxyType({})
    )
    kept: Mapping[tuple[int, int], PlantsKept] = field(default_factory=lambda: MappingProxyType({}))
    living: Mapping[int, int] = field(default_factory=lambda: MappingProxyType({}))
    earlier: frozenset[str] = frozenset()
    town: Callable[[str], TownRead] = no_town
