"""The ring list in words."""

from collections.abc import Sequence

from exchange.words.kernel.phrase import counted

NO_COUNTY = "County not said"


def lead(without: int) -> str:
    """Say who is on it."""
    rest = f" {counted(without, 'member is', 'members are')} not on it." if without else ""
    return f"Who lets the circle have their telephone number, by county.{rest}"


def as_text(counties: Sequence[tuple[str, Sequence[tuple[str, str]]]]) -> str:
    """Give the list for a mail: each county, under it a line for each person."""
    parts = [
        "\n".join([county or NO_COUNTY, *(f"- {name}: {number}" for name, number in people)])
        for county, people in counties
    ]
    return "\n\n".join(parts)
