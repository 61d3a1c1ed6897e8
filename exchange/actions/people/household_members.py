"""Who lives in a household, for those who write to it."""

from exchange.records import MEMBERS, Tx
from exchange.records.rows.people import MemberRow


def members_of(tx: Tx, circle_id: int, household_id: int) -> tuple[MemberRow, ...]:
    """Give the members of a household who are still here."""
    return MEMBERS.all(tx, circle_id, household_id=household_id, left_at=None)
