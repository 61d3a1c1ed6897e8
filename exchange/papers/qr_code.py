"""The squares of a QR code, for terminals, pages and labels; drawn elsewhere."""

from reportlab.graphics.barcode.qrencoder import QRCode, QRErrorCorrectLevel

QUIET_ZONE = 4
"""Blank squares round the code (ISO/IEC 18004, from memory) [squares]."""


def squares_of(text: str) -> tuple[tuple[bool, ...], ...]:
    """Give the rows of a QR code, True where a square is dark, with its blank border.

    Up to 15 in 100 of the code may be unreadable (correction level M).

    Parameters
    ----------
    text : what a camera reads, such as an address
    """
    code = QRCode(None, QRErrorCorrectLevel.M)
    code.addData(text)
    code.make()
    side = (False,) * QUIET_ZONE
    rows = [side + tuple(bool(one) for one in row) + side for row in code.modules]
    blank = ((False,) * len(rows[0]),) * QUIET_ZONE
    return (*blank, *rows, *blank)
