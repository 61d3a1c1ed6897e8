"""Days on which a household cannot receive, or cannot post."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Away:
    """From the first to the last day, both counted."""

    household_id: int
    first: date
    last: date
    cannot_receive: bool = True
    cannot_post: bool = True

    def covers(self, day: date) -> bool:
        """Say whether the day lies within the days away."""
        return self.first <= day <= self.last
