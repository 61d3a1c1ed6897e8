"""Labels for pots and bags, printed on sheets of labels or cut from plain paper."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO

from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from exchange.papers import fonts
from exchange.papers.grids import LabelSheet
from exchange.papers.marks import HATCH_PT, hatch
from exchange.papers.paper import PotLabel
from exchange.papers.sheet import page_size
from exchange.papers.text import LONGEST_MARK, LONGEST_NAME, clean

INNER_MM = 2.0
"""Kept free inside each label, as makers differ by 1 mm [mm]."""

MOST_LABELS = 300

LARGEST_PT, SMALLEST_PT = 18.0, 6.5
"""Sizes of type between which a name is fitted to its label, by judgement [pt]."""

ROOM_FOR_KIND_PT = 36.0
"""Labels lower than this have no line for the kind of plant [pt]."""


ROOM_FOR_HATCH_PT = 60.0
"""Labels lower than this have a ground line without hatching [pt]."""


class TooManyLabelsError(ValueError):
    """More labels than one file may hold."""


@dataclass(frozen=True, slots=True)
class Start:
    """Where printing begins on a sheet that is partly used, and how the printer is off.

    Attributes
    ----------
    used : labels already taken from the first sheet
    right_mm, down_mm : correction of the printer [mm]
    outline : whether to draw the edges, for plain paper and for trying out
    """

    used: int = 0
    right_mm: float = 0.0
    down_mm: float = 0.0
    outline: bool = False


def labels_pdf(
    labels: Sequence[PotLabel], grid: LabelSheet, circle: str, start: Start | None = None
) -> bytes:
    """
    Give the labels as PDF; print it at 100 per cent.

    Raises
    ------
    TooManyLabelsError
        When there are more labels than one file may hold.
    """
    if len(labels) > MOST_LABELS:
        raise TooManyLabelsError(
            f"At most {MOST_LABELS} labels at a time; these are {len(labels)}."
        )
    where = start or Start()
    fonts.register()
    target = BytesIO()
    canvas = Canvas(
        target,
        pagesize=page_size(grid.page),
        invariant=1,
        lang="en-GB",
    )
    canvas.setTitle("Labels")
    canvas.setAuthor(clean(circle, LONGEST_NAME))
    used = where.used % grid.labels
    for number, label in enumerate(labels, start=used):
        if number and number % grid.labels == 0:
            canvas.showPage()
        _draw(canvas, label, grid, _corner(grid, number % grid.labels, where), where)
    canvas.save()
    return target.getvalue()


def _corner(grid: LabelSheet, number: int, start: Start) -> tuple[float, float]:
    row, column = divmod(number, grid.columns)
    height = page_size(grid.page)[1]
    left = (grid.left + column * grid.across + start.right_mm) * mm
    top = height - (grid.top + row * grid.down + start.down_mm) * mm
    return left, top - grid.height * mm


def _draw(
    canvas: Canvas, label: PotLabel, grid: LabelSheet, corner: tuple[float, float], start: Start
) -> None:
    left, bottom = corner
    width, height = grid.width * mm, grid.height * mm
    inner = INNER_MM * mm
    if start.outline:
        canvas.setLineWidth(0.3)
        canvas.rect(left, bottom, width, height)
    box = _Box(left + inner, bottom + inner, width - 2 * inner, height - 2 * inner)
    _draw_name(canvas, clean(label.variety, LONGEST_NAME), box)
    _draw_foot(canvas, label, box)


@dataclass(frozen=True, slots=True)
class _Box:
    """What of a label may be printed on [pt]."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def small(self) -> float:
        """Size of the small line [pt]."""
        return max(SMALLEST_PT, min(LARGEST_PT * 0.6, self.height * 0.16))


def _draw_name(canvas: Canvas, name: str, box: _Box) -> None:
    """Set the kind of plant small and the variety as large as the label allows."""
    kind, variety = _kind_and_variety(name)
    top = box.bottom + box.height
    if kind and box.height >= ROOM_FOR_KIND_PT:
        top -= box.small * 1.1
        canvas.setFont(fonts.REGULAR, box.small)
        canvas.drawString(box.left, top + box.small * 0.2, kind)
    elif kind:
        variety = name
    size = _fitting(variety, min(LARGEST_PT, box.height * 0.3), box.width)
    canvas.setFont(fonts.BOLD, size)
    shown = _shortened(variety, fonts.BOLD, size, box.width)
    canvas.drawString(box.left, top - size * 0.95, shown)


def _draw_foot(canvas: Canvas, label: PotLabel, box: _Box) -> None:
    """Draw the ground line, and under it the detail and the mark."""
    small = box.small
    ground = box.bottom + small * 1.45
    canvas.setLineWidth(1.1)
    canvas.line(box.left, ground, box.left + box.width, ground)
    if box.height >= ROOM_FOR_HATCH_PT:
        hatch(canvas, box.left, ground - 0.6, box.width, HATCH_PT * 0.55)
    mark = clean(label.label, LONGEST_MARK)
    canvas.setFont(fonts.BOLD, small)
    canvas.drawRightString(box.left + box.width, box.bottom + small * 0.2, mark)
    room = box.width - fonts.width(mark, fonts.BOLD, small) - small
    detail = _shortened(clean(label.detail, LONGEST_NAME), fonts.REGULAR, small, room)
    canvas.setFont(fonts.REGULAR, small)
    canvas.drawString(box.left, box.bottom + small * 0.2, detail)


def _kind_and_variety(name: str) -> tuple[str, str]:
    """Split "Dahlia ‘Tin Kettle’" so that the variety stands on a line of its own."""
    kind, quote, variety = name.partition("‘")
    return (kind.strip(" \u00a0"), quote + variety) if quote else ("", name)


def _fitting(line: str, size: float, room: float) -> float:
    length = fonts.width(line, fonts.BOLD, size)
    return size if length <= room else max(SMALLEST_PT, size * room / length)


def _shortened(text: str, font: str, size: float, room: float) -> str:
    while text and fonts.width(text, font, size) > room:
        text = text[:-2].rstrip("…") + "…" if len(text) > 2 else ""
    return text
