"""What parcels are packed in: packings as data."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from exchange.domain.growing.batch import RESTING, Material
from exchange.domain.growing.variety import Species
from exchange.domain.posting.parcel import Line

DAMP_LATENT_K = 45.0
"""Cooling that the water of a damp wrap stands for while it freezes, as a fall of the whole [K].

120 g of water (333.55 kJ/kg) in 0.25 kg of cuttings and wrap at 3.5 kJ/kgK."""

FLAT_CUTTINGS = 3
"""Unrooted cuttings that fit an envelope under 25 mm (judgement) [plants]."""


@dataclass(frozen=True, slots=True)
class Packing:
    """One way of packing.

    Attributes
    ----------
    key : its name in records
    tau_h : time constant of the core, derived from wall and half a kilogram of contents [h]
    flat : under 25 mm, so that it goes through a letter box
    """

    key: str
    tau_h: float
    flat: bool = False


PACKINGS = (
    Packing("envelope", 0.5, flat=True),
    Packing("shoe_box", 2.4),
    Packing("bubble_wrap", 3.0),
    Packing("box_in_box", 4.0),
    Packing("foam_box", 5.5),
)
"""From the simplest to the warmest; what people have at hand."""


def packing(key: str) -> Packing:
    """Find a packing by its key.

    Raises
    ------
    KeyError
        when there is no such packing
    """
    for one in PACKINGS:
        if one.key == key:
            return one
    raise KeyError(f"There is no packing called {key}.")


def usual_packing(lines: Sequence[Line], letter_box: bool, default: str) -> Packing:
    """Give the packing tried first: an envelope for a few cuttings that go through a letter box.

    Parameters
    ----------
    letter_box : whether a flat parcel is put through at the receiver's
    default : key of the packing of everything else
    """
    flat = all(line.material is Material.UNROOTED for line in lines)
    few = sum(line.count for line in lines) <= FLAT_CUTTINGS
    return packing("envelope") if flat and few and letter_box else packing(default)


def damp_wrapped(lines: Iterable[Line]) -> bool:
    """Say whether the whole parcel is cuttings in a damp wrap; tubers and pelargoniums never are."""
    return all(
        line.material is Material.UNROOTED and line.species is not Species.PELARGONIUM
        for line in lines
    )


def resting(lines: Iterable[Line]) -> bool:
    """Say whether nothing green travels in the parcel."""
    return all(line.material in RESTING for line in lines)
