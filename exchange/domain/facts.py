"""The facts a plan is made from."""

from dataclasses import dataclass

from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.parcel import Parcel


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts(Circumstances):
    """Everything `make_plan` needs: the circle as the post sees it, and its parcels.

    Attributes
    ----------
    parcels : all parcels of the season; those posted or arrived are never planned again, but count
        for their day's post and, until they arrive, for room
    """

    parcels: tuple[Parcel, ...] = ()
