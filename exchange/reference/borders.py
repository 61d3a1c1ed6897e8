"""The packaged border rows; an organiser may change them in the circle's own records."""

from datetime import date
from functools import cache

from exchange.domain.circle.border import BorderRow, Passage
from exchange.reference.tables import rows_of


@cache
def border_rows() -> tuple[BorderRow, ...]:
    """Give the packaged border rows."""
    return tuple(
        BorderRow(
            origin=row["origin"],
            destination=row["destination"],
            passage=Passage(row["passage"]),
            caution=row["caution"],
            authority=row["authority"],
            as_of=date.fromisoformat(row["as_of"]),
            source=row["source"],
        )
        for row in rows_of("borders.csv")
    )
