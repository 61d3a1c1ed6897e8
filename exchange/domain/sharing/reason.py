"""Why a claim is met, met in part or not met; values, no sentences, and nobody is named."""

from dataclasses import dataclass
from datetime import date
from enum import IntEnum, StrEnum


class Obstacle(StrEnum):
    """What stands between a claim and every spare, in the order in which it is looked at."""

    NOBODY_OFFERS = "nobody_offers"
    LEFT = "left"
    OWN_ONLY = "own_only"
    HELD = "held"
    MATERIAL = "material"
    WINDOW = "window"
    BORDER = "border"
    SHELTER = "shelter"
    ROOM = "room"
    FORBIDDEN = "forbidden"
    MOST = "most"
    FEWER = "fewer"


class Rule(IntEnum):
    """The rules of a share-out in their order; DRAW only decides ties."""

    MUST_NOT_BE_LOST = 1
    ONE_EACH = 2
    FAIR = 3
    WISHES = 4
    FEWEST_PARCELS = 5
    POSTAGE = 6
    DRAW = 7


class WentTo(StrEnum):
    """Where the plants went that could have come to a claim; each is a statement about the result."""

    NEW_PLACES = "new_places"
    SAFER_PLACES = "safer_places"
    HAD_NONE = "had_none"
    GIVEN_LESS = "given_less"
    LESS_OF_SCARCE = "less_of_scarce"
    EARLIER = "earlier"
    LESS_OR_EARLIER = "less_or_earlier"
    HIGHER_WISH = "higher_wish"
    FEWER_PARCELS = "fewer_parcels"
    LESS_POSTAGE = "less_postage"
    DRAWN = "drawn"
    LAST_DRAWN = "last_drawn"
    NO_MORE_THAN_YOU = "no_more_than_you"
    BY_RULES = "by_rules"
    NONE_LEFT = "none_left"
    ALL_GIVEN = "all_given"
    OWN_CLAIM = "own_claim"


class ClaimOutcome(StrEnum):
    """How a claim came out."""

    MET = "met"
    PART = "part"
    UNMET = "unmet"


@dataclass(frozen=True, slots=True)
class ClaimReason:
    """Why a claim came out as it did.

    Attributes
    ----------
    asked, given : plants asked for and given [plants]
    obstacle : what stood in the way, None when spares did meet the claim
    rule : the rule under which the rest was lost, None when met or an obstacle stood in the way
    others : how many other households asked for the variety, or were given it instead of another [households]
    offered : plants of the variety that could have come to the claim [plants]
    caution, authority : from the border table or the protected variety, when that is the obstacle
    fits_from : first day on which a shelter fits, when a later day would help
    sure : False in a large circle, where only forcing the claim tells which rule decided
    went : where the plants went that could have come to the claim, None when nothing can be said of it
    winners : how many other households they went to [households]
    own : how many of them another claim of the household was given [plants]
    in_all : plants of the variety that other households offered, whether or not they could have come [plants]
    """

    standing: ClaimOutcome
    asked: int
    given: int
    obstacle: Obstacle | None = None
    rule: Rule | None = None
    others: int = 0
    offered: int = 0
    caution: str = ""
    authority: str = ""
    fits_from: date | None = None
    sure: bool = True
    went: WentTo | None = None
    winners: int = 0
    own: int = 0
    in_all: int = 0
