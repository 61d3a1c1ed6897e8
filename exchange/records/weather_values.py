"""What the rows of the weather at places look like outside."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from exchange.domain.weather.blend import Skill


@dataclass(frozen=True, slots=True)
class FrostNoteEntry:
    """A note of a night to come.

    Attributes
    ----------
    night : the day on which the night begins
    """

    id: int
    place_id: int
    night: date
    minimum_c: float
    heard_at: datetime


@dataclass(frozen=True, slots=True)
class Observation:
    """A night as it came.

    Attributes
    ----------
    day : on which the night ends
    file_id : the daily file it stands in, None for one typed in
    """

    id: int
    place_id: int
    day: date
    minimum_c: float
    maximum_c: float | None
    file_id: int | None


@dataclass(frozen=True, slots=True)
class DailyFile:
    """A daily file.

    Attributes
    ----------
    days : date, minimum and maximum (or None) of each line
    climate : what it says is usual, None where it is too short for that
    kept_at : None while it is only looked at
    """

    id: int
    place_id: int
    name: str
    days: list[Any]
    climate: dict[str, Any] | None
    read_at: datetime
    kept_at: datetime | None


@dataclass(frozen=True, slots=True)
class PlaceSkill:
    """A skill learned, with what it and the one before scored on the same nights."""

    id: int
    place_id: int
    days: float
    site_error_k: float
    shift_k: float
    nights: int
    crps_before_k: float
    crps_after_k: float
    kept_at: datetime

    @property
    def skill(self) -> Skill:
        """The skill itself."""
        return Skill(self.days, self.site_error_k, self.shift_k)
