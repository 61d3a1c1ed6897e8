"""Sheets of labels as data: sizes that several makers of label sheets share, in millimetres.

The figures were compared in Debian's glabels-data 3.4, where several makers agree within 1 mm.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from exchange.papers.paper import PageSize


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of equal labels.

    Attributes
    ----------
    columns, rows : how many labels across and down
    width, height : of one label [mm]
    left, top : from the sheet's edge to the first label [mm]
    across, down : from one label's edge to the next one's [mm]
    """

    page: PageSize
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float

    @property
    def labels(self) -> int:
        """How many labels are on a sheet."""
        return self.columns * self.rows

    @property
    def name(self) -> str:
        """Columns, rows and size, as the packet says: "3 × 7, 63.5 × 38.1 mm"."""
        return f"{self.columns} × {self.rows}, {self.width:g} × {self.height:g} mm"


def _a4(shape: tuple[int, int], size: tuple[float, float], rest: tuple[float, ...]) -> LabelSheet:
    return LabelSheet(PageSize.A4, *shape, *size, *rest)


def _letter(
    shape: tuple[int, int], size: tuple[float, float], rest: tuple[float, ...]
) -> LabelSheet:
    return LabelSheet(PageSize.LETTER, *shape, *size, *rest)


GRIDS: Mapping[str, LabelSheet] = MappingProxyType(
    {
        "a4-21": _a4((3, 7), (63.5, 38.1), (7.2, 15.15, 66.04, 38.1)),
        "a4-24": _a4((3, 8), (63.5, 33.9), (7.2, 12.9, 66.04, 33.9)),
        "a4-18": _a4((3, 6), (63.5, 46.6), (7.2, 8.7, 66.04, 46.6)),
        "a4-14": _a4((2, 7), (99.1, 38.1), (4.65, 15.15, 101.6, 38.1)),
        "a4-65": _a4((5, 13), (38.1, 21.2), (4.75, 10.9, 40.6, 21.2)),
        "a4-40": _a4((4, 10), (48.5, 25.4), (8.0, 21.5, 48.5, 25.4)),
        "letter-30": _letter((3, 10), (66.67, 25.4), (4.76, 12.7, 69.85, 25.4)),
        "letter-20": _letter((2, 10), (101.6, 25.4), (3.97, 12.7, 106.36, 25.4)),
        "letter-14": _letter((2, 7), (101.6, 33.87), (3.97, 21.17, 106.36, 33.87)),
        "letter-10": _letter((2, 5), (101.6, 50.8), (4.13, 12.7, 106.36, 50.8)),
    }
)
"""Sheets by a short key: the paper and how many labels it has."""
