"""Fira Sans from its package, embedded in every paper."""

from functools import cache

import fontpkg_fira_sans
from reportlab import rl_config
from reportlab.lib.fonts import addMapping
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR = "Fira"
BOLD = "Fira-Bold"
_FILES = {
    REGULAR: "FiraSans-Regular.ttf",
    BOLD: "FiraSans-SemiBold.ttf",
}


@cache
def register() -> None:
    """Make the fonts known, and let no unembedded font or foreign address in by default."""
    rl_config.canvas_basefontname = REGULAR
    rl_config.defaultGraphicsFontName = REGULAR
    rl_config.trustedSchemes = ["data"]
    rl_config.trustedHosts = None
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(fontpkg_fira_sans.ROOT / "files" / file)))
    for is_bold in (0, 1):
        for is_italic in (0, 1):
            addMapping(REGULAR, is_bold, is_italic, BOLD if is_bold else REGULAR)


def has_glyph(sign: str) -> bool:
    """Say whether the font can draw the sign."""
    return ord(sign) in _glyphs()


@cache
def _glyphs() -> frozenset[int]:
    register()
    font = pdfmetrics.getFont(REGULAR)
    return frozenset(font.face.charToGlyph) if isinstance(font, TTFont) else frozenset()


def width(text: str, name: str, size: float) -> float:
    """Give the length of the text set in one line [pt]."""
    register()
    return float(pdfmetrics.stringWidth(text, name, size))
