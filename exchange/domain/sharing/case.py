"""Everything one share-out needs to know, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from exchange.domain.circle.border import BorderRow
from exchange.domain.circle.household import Household
from exchange.domain.circle.place import Place
from exchange.domain.growing.batch import Batch
from exchange.domain.growing.fit import OutFrom
from exchange.domain.growing.shelter import Shelter, ShelterKind
from exchange.domain.growing.variety import Variety
from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.spare import Spare

MOST_PLANTS = 10_000
"""The largest number of plants one spare or claim may speak of [plants]."""


@dataclass(frozen=True, slots=True)
class SharingTerms:
    """What a circle has settled for its share-outs.

    Attributes
    ----------
    most_contested : most plants of one contested variety a household receives before everybody was served [plants]
    shift : most steps the ladder of fairness begins earlier or later for given and received, 0 in small circles [plants]
    first_refusal : whether households that gave come first for a first plant
    target_places : in how many places a must-not-be-lost variety should stand, instead of the variety's own [places]
    node_limit : how many branches the solver may search in rules 5 and 6
    """

    most_contested: int = 2
    shift: int = 2
    first_refusal: bool = False
    target_places: int | None = None
    node_limit: int = 4000


@dataclass(frozen=True, slots=True, order=True)
class Allocation:
    """So many plants of a spare to a claim.

    Attributes
    ----------
    count : plants [plants]
    """

    spare_id: int
    claim_id: int
    count: int


@dataclass(frozen=True, slots=True)
class ShareOutCase:
    """One share-out to work out.

    Attributes
    ----------
    closes_on : closing day; nothing is posted before it
    draw_number : decides ties and nothing else; its hash was shown at opening
    taken : pots already standing, by place and kind of shelter [pots]
    spares : without those set aside for a member
    passage : border rows by place of origin and destination; a missing pair or None is free to pass
    safe_from : by place, from when plants may stand outdoors; missing when unknown
    given, received : plants by household in the circle's earlier share-outs [plants]
    postage : by sending household and receiving place, or None when no tariff was typed in [smallest coin]
    pins : allocations the organiser wants
    forbids : spare and claim the organiser wants kept apart
    kept : allocations of this share-out that stand already and must not move
    contested : in the second pass, the varieties contested in the first; None in the first
    """

    closes_on: date
    draw_number: str
    households: tuple[Household, ...] = ()
    places: tuple[Place, ...] = ()
    shelters: tuple[Shelter, ...] = ()
    varieties: tuple[Variety, ...] = ()
    batches: tuple[Batch, ...] = ()
    spares: tuple[Spare, ...] = ()
    claims: tuple[Claim, ...] = ()
    taken: Mapping[tuple[int, ShelterKind], int] = field(default_factory=dict)
    passage: Mapping[tuple[int, int], BorderRow | None] = field(default_factory=dict)
    safe_from: Mapping[int, OutFrom] = field(default_factory=dict)
    terms: SharingTerms = SharingTerms()
    given: Mapping[int, int] = field(default_factory=dict)
    received: Mapping[int, int] = field(default_factory=dict)
    postage: Mapping[tuple[int, int], int] | None = None
    pins: tuple[Allocation, ...] = ()
    forbids: tuple[tuple[int, int], ...] = ()
    kept: tuple[Allocation, ...] = ()
    contested: frozenset[int] | None = None

    @property
    def most_contested(self) -> int:
        """Give the most plants of a contested variety a household may have in this pass [plants]."""
        return self.terms.most_contested if self.contested is None else MOST_PLANTS

    def second_pass(
        self, allocations: tuple[Allocation, ...], contested: frozenset[int]
    ) -> "ShareOutCase":
        """Give the case of the second pass: what the first gave stands, and the most of a variety holds no longer."""
        return replace(self, kept=allocations, pins=(), contested=contested)

    @property
    def standing(self) -> tuple[Allocation, ...]:
        """Allocations that stand before anything is worked out: kept ones and pins, added up."""
        counts: dict[tuple[int, int], int] = {}
        for one in self.kept + self.pins:
            key = (one.spare_id, one.claim_id)
            counts[key] = counts.get(key, 0) + one.count
        return tuple(Allocation(*key, count) for key, count in sorted(counts.items()))
