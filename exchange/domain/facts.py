"""The facts a plan is made from."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.parcel import Parcel
from exchange.domain.weather.climate import Climate


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts(Circumstances):
    """Everything `make_plan` needs: the circle as the post sees it, and its parcels.

    Attributes
    ----------
    parcels : all parcels of the season; those posted or arrived are never planned again, but count
        for their day's post and, until they arrive, for room
    own_climates : what the own daily files of places tell, by place id
    """

    parcels: tuple[Parcel, ...] = ()
    own_climates: Mapping[int, Climate] = field(default_factory=dict)
