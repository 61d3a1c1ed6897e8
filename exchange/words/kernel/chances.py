"""The one form in which a chance is said, and the one place where it is rounded: "5 in 100"."""

from exchange.words.kernel.phrase import NBSP


def in_hundred(chance: float | None) -> str:
    """Give "20 in 100", "fewer than 1 in 100", "over 99 in 100", or "not known" without a figure."""
    return "not known" if chance is None else _said(round(chance * 100))


def exact_in_hundred(hundredths: float) -> str:
    """Give a figure that was settled rather than worked out as it is: "5 in 100", "0.5 in 100"."""
    return f"{hundredths:g}{NBSP}in{NBSP}100"


def range_in_hundred(low: float, high: float) -> str:
    """Give "12 to 30 in 100"; two that are rounded alike are one figure."""
    least, most = round(low * 100), round(high * 100)
    if least == most:
        return _said(least)
    if least < 1:
        return f"up to {_said(most)}"
    return f"{min(least, 99)} to {_said(most)}"


def _said(hundredths: int) -> str:
    """Tie the figure to its hundred; what stands before it may end a line."""
    if hundredths < 1:
        return f"fewer than {_tied(1)}"
    return f"over {_tied(99)}" if hundredths > 99 else _tied(hundredths)


def _tied(hundredths: int) -> str:
    return f"{hundredths}{NBSP}in{NBSP}100"
