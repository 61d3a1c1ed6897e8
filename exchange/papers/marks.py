"""What is drawn on papers and not set in type: the ground line, the mark, boxes to tick, arrows."""

from collections.abc import Sequence

from reportlab.lib.colors import HexColor, black, white
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

KRAFT = HexColor("#E7D7B3")
HATCH_PT = 4.5
"""Distance between hatching strokes: 6 px, as on the pages [pt]."""


def hatch(canvas: Canvas, x: float, y: float, width: float, depth: float) -> None:
    """Draw hatching of the given depth below y, at 135 degrees [pt]."""
    canvas.saveState()
    canvas.setLineWidth(0.6)
    clip = canvas.beginPath()
    clip.rect(x, y - depth, width, depth)
    canvas.clipPath(clip, stroke=0, fill=0)
    for step in range(int(width / HATCH_PT) + 3):
        left = x + (step - 1) * HATCH_PT
        canvas.line(left, y - depth, left + depth, y)
    canvas.restoreState()


def draw_mark(canvas: Canvas, x: float, y: float, size: float) -> None:
    """Draw the circle's mark, a pot label planted in the ground, with y on the ground [pt]."""
    canvas.saveState()
    canvas.setLineWidth(0.9)
    canvas.setFillColor(KRAFT)
    half, point = size * 0.24, size * 0.2
    middle = x + size / 2
    label = canvas.beginPath()
    label.moveTo(middle - half, y + size)
    label.lineTo(middle + half, y + size)
    label.lineTo(middle + half, y + point)
    label.lineTo(middle, y - point)
    label.lineTo(middle - half, y + point)
    label.close()
    canvas.drawPath(label, stroke=1, fill=1)
    for row in (0.78, 0.62):
        canvas.line(middle - half * 0.5, y + size * row, middle + half * 0.5, y + size * row)
    canvas.setLineWidth(1.4)
    canvas.line(x, y, middle - half * 0.7, y)
    canvas.line(middle + half * 0.7, y, x + size, y)
    canvas.restoreState()


def draw_up_arrow(canvas: Canvas, x: float, y: float, size: float) -> None:
    """Draw an arrow that says which way is up, standing on a line [pt]."""
    canvas.saveState()
    canvas.setFillColor(black)
    middle = x + size / 2
    arrow = canvas.beginPath()
    arrow.moveTo(middle, y + size)
    for dx, dy in (
        (0.42, 0.55),
        (0.16, 0.55),
        (0.16, 0.12),
        (-0.16, 0.12),
        (-0.16, 0.55),
        (-0.42, 0.55),
    ):
        arrow.lineTo(middle + dx * size, y + dy * size)
    arrow.close()
    canvas.drawPath(arrow, stroke=0, fill=1)
    canvas.setLineWidth(1.6)
    canvas.line(x, y, x + size, y)
    canvas.restoreState()


class GroundLine(Flowable):
    """The heavy line every paper stands on, hatched below."""

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """Take the whole width."""
        self.width, self.height = available_width, 12.0
        return self.width, self.height

    def draw(self) -> None:
        """Draw the line and the ground under it."""
        self.canv.setLineWidth(2.25)
        self.canv.line(0, 9, self.width, 9)
        hatch(self.canv, 0, 8, self.width, 6)


class CutLine(Flowable):
    """A dashed line to cut along."""

    def wrap(self, available_width: float, _available_height: float) -> tuple[float, float]:
        """Take the whole width."""
        self.width, self.height = available_width, 6.0
        return self.width, self.height

    def draw(self) -> None:
        """Draw the dashes."""
        self.canv.saveState()
        self.canv.setDash(5, 4)
        self.canv.setLineWidth(1.2)
        self.canv.line(0, 3, self.width, 3)
        self.canv.restoreState()


class TickBox(Flowable):
    """A box to tick with a pen."""

    def __init__(self, size: float = 12.0) -> None:
        super().__init__()
        self.width = self.height = self.size = size

    def wrap(self, _available_width: float, _available_height: float) -> tuple[float, float]:
        """Take a square."""
        return self.size, self.size

    def draw(self) -> None:
        """Draw the empty box."""
        self.canv.saveState()
        self.canv.setLineWidth(1.3)
        self.canv.setFillColor(white)
        self.canv.rect(0.6, 0, self.size - 1.2, self.size - 1.2, stroke=1, fill=1)
        self.canv.restoreState()


class CircleMark(Flowable):
    """The circle's mark as a part of a line."""

    def __init__(self, size: float = 20.0) -> None:
        super().__init__()
        self.width = self.height = self.size = size

    def wrap(self, _available_width: float, _available_height: float) -> tuple[float, float]:
        """Take a square and the point below it."""
        return self.size, self.size * 1.2

    def draw(self) -> None:
        """Draw the mark."""
        draw_mark(self.canv, 0, self.size * 0.2, self.size)


class UpArrow(Flowable):
    """An arrow that says which way is up."""

    def __init__(self, size: float = 30.0) -> None:
        super().__init__()
        self.width = self.height = self.size = size

    def wrap(self, _available_width: float, _available_height: float) -> tuple[float, float]:
        """Take a square."""
        return self.size, self.size

    def draw(self) -> None:
        """Draw the arrow."""
        draw_up_arrow(self.canv, 0, 1, self.size - 2)


class AtFoot(Flowable):
    """Parts that stand together at the foot of the page, so that they can be cut off."""

    def __init__(self, parts: Sequence[Flowable]) -> None:
        super().__init__()
        self.parts = list(parts)
        self.heights: list[float] = []

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """Take all that is left of the page, or what the parts need when less is left."""
        self.heights = [part.wrap(available_width, available_height)[1] for part in self.parts]
        self.width = available_width
        self.height = max(sum(self.heights), available_height)
        return self.width, self.height if sum(self.heights) <= available_height else sum(
            self.heights
        )

    def draw(self) -> None:
        """Draw the parts at the foot."""
        top = sum(self.heights)
        for part, height in zip(self.parts, self.heights, strict=True):
            top -= height
            part.drawOn(self.canv, 0, top)


class PaperCanvas(Canvas):
    """A canvas that knows what the foot of the page says."""

    foot_text = ""


class FootLine(Flowable):
    """Nothing to see: tells the page what its foot says from here on."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text
        self.width = self.height = 0.0

    def wrap(self, _available_width: float, _available_height: float) -> tuple[float, float]:
        """Take no room."""
        return 0.0, 0.0

    def draw(self) -> None:
        """Leave the text on the canvas for the page's foot."""
        if isinstance(self.canv, PaperCanvas):
            self.canv.foot_text = self.text
