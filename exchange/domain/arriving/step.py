"""A dated step of care, and the values its sentence is made from."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from typing import TypeAlias

from exchange.domain.growing.batch import Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species


class CareGroup(StrEnum):
    """Plants that are treated alike when they come."""

    UNROOTED = "unrooted"
    GREEN = "green"
    STOOL = "stool"
    RESTING = "resting"
    SEED = "seed"


class StepKind(StrEnum):
    """What is to be done, in the order of doing."""

    OPEN = "open"
    CHECK = "check"
    INSERT = "insert"
    POT_UP = "pot_up"
    KEEP_COOL = "keep_cool"
    START = "start"
    SHADE = "shade"
    FIRST_NIGHTS = "first_nights"
    COLD_NIGHT = "cold_night"
    APART = "apart"
    POT_ROOTED = "pot_rooted"
    CUTTINGS = "cuttings"
    WINTER = "winter"
    HARDEN = "harden"
    PLANT_OUT = "plant_out"
    UNDER_GLASS = "under_glass"
    TRUE_TO_NAME = "true_to_name"


@dataclass(frozen=True, slots=True)
class Holds:
    """What is in the parcel, where a step looks at all of it."""

    groups: frozenset[CareGroup]


@dataclass(frozen=True, slots=True)
class InWarmth:
    """The place has warmth in which tubers wake soon."""


@dataclass(frozen=True, slots=True)
class HollowUp:
    """Begonia tubers: they start hollow side up, hardly covered, in warmth.

    Attributes
    ----------
    all_of_them : whether nothing but begonias is meant
    """

    all_of_them: bool


@dataclass(frozen=True, slots=True)
class NextYear:
    """The step lies, or ends, in the year after they come."""


@dataclass(frozen=True, slots=True)
class RaisedInHeat:
    """The plants come from heat: one cold night can kill them."""


@dataclass(frozen=True, slots=True)
class InsertWithin:
    """The cuttings should stand in compost within so many hours of opening [h]."""

    hours: int


@dataclass(frozen=True, slots=True)
class NoCover:
    """Pelargoniums root without a cover; under one they rot.

    Attributes
    ----------
    all_of_them : whether nothing but pelargoniums is meant
    """

    all_of_them: bool


@dataclass(frozen=True, slots=True)
class StandIn:
    """Where they stand by night, and whether the member said they have it."""

    shelter: ShelterKind
    told: bool = True


@dataclass(frozen=True, slots=True)
class ThenIn:
    """Where they stand by night once they have settled."""

    shelter: ShelterKind


@dataclass(frozen=True, slots=True)
class ColdNights:
    """Nights, named by the day they begin, that the forecast makes too cold for them.

    Attributes
    ----------
    limit_c : what they should not fall below [degrees C]
    lowest_c : the coldest expected night minimum among them, out of doors [degrees C]
    """

    nights: tuple[date, ...]
    limit_c: float
    lowest_c: float


@dataclass(frozen=True, slots=True)
class UsuallyCold:
    """By the usual weather of the place, the share of later nights too cold in that shelter."""

    share: float
    shelter: ShelterKind


@dataclass(frozen=True, slots=True)
class PlantsSafeFrom:
    """The local planting-out day: frost is unlikely from then on, and it is warm enough to grow.

    Attributes
    ----------
    cover_until : from then on a ground frost is unlikely too; until then a cover is kept at hand
    nights_c : the usual night it waits for, where that is what decides [degrees C]
    stands_frost : whether it is earlier than for the rest, since hardened plants stand a touch of frost
    """

    day: date
    cover_until: date | None = None
    nights_c: float | None = None
    stands_frost: bool = False


@dataclass(frozen=True, slots=True)
class TooFewWarmNights:
    """The place has no season out of doors for these kinds, or a very short one."""


@dataclass(frozen=True, slots=True)
class OnlyFor:
    """Of what comes, the step is for these kinds alone."""

    kinds: frozenset[Species]


@dataclass(frozen=True, slots=True)
class SafeDateUnknown:
    """Nothing is known of the last frosts of the place."""


@dataclass(frozen=True, slots=True)
class BeforeSafeDate:
    """Planted before the safe date: shoots that show must be earthed up or covered until then."""

    day: date


Reason: TypeAlias = (
    Holds
    | InWarmth
    | HollowUp
    | NextYear
    | RaisedInHeat
    | InsertWithin
    | NoCover
    | StandIn
    | ThenIn
    | ColdNights
    | UsuallyCold
    | PlantsSafeFrom
    | TooFewWarmNights
    | OnlyFor
    | SafeDateUnknown
    | BeforeSafeDate
)


@dataclass(frozen=True, slots=True)
class CareStep:
    """One step of care.

    Attributes
    ----------
    key : stable while the step means the same, lower-case ASCII
    first, last : days on which to do it, both counted; last None: from first on
    group, raised : what it concerns, or None where all in the parcel or however raised
    allocation_ids : the allocations it concerns
    """

    kind: StepKind
    key: str
    first: date
    last: date | None
    group: CareGroup | None = None
    raised: Raised | None = None
    reasons: tuple[Reason, ...] = ()
    allocation_ids: tuple[int, ...] = ()


def a_step(
    kind: StepKind, first: date, last: date | None, *reasons: Reason, ids: tuple[int, ...] = ()
) -> CareStep:
    """Make a step whose key is its kind."""
    key = str(kind).replace("_", "-")
    return CareStep(kind, key, first, last, reasons=reasons, allocation_ids=ids)


def after(day: date, days: int) -> date:
    """Give the day so many days later, or earlier for a negative number [days]."""
    return day + timedelta(days=days)
