"""Rows of the weather at places."""

from dataclasses import KW_ONLY, dataclass
from datetime import date, datetime
from typing import Any, TypedDict

from exchange.domain.weather.blend import Skill
from exchange.records.rows.wanted import OneOf


@dataclass(frozen=True, slots=True)
class FrostNoteRow:
    """A note of a night to come.

    Attributes
    ----------
    night : the day on which the night begins
    """

    id: int
    _: KW_ONLY
    place_id: int
    night: date
    minimum_c: float
    heard_at: datetime


class FrostNoteWhere(TypedDict, total=False):
    id: OneOf[int]
    place_id: OneOf[int]
    night: OneOf[date]


@dataclass(frozen=True, slots=True)
class ObservationRow:
    """A night as it came.

    Attributes
    ----------
    day : on which the night ends
    file_id : the daily file it stands in, None for one typed in
    """

    id: int
    _: KW_ONLY
    place_id: int
    day: date
    minimum_c: float
    maximum_c: float | None = None
    file_id: int | None = None


class ObservationWhere(TypedDict, total=False):
    id: OneOf[int]
    place_id: OneOf[int]
    day: OneOf[date]


@dataclass(frozen=True, slots=True)
class DailyFileRow:
    """A daily file.

    Attributes
    ----------
    days : date, minimum and maximum (or None) of each line
    climate : what it says is usual, None where it is too short for that
    kept_at : None while it is only looked at
    """

    id: int
    _: KW_ONLY
    place_id: int
    name: str
    days: list[Any]
    climate: dict[str, Any] | None = None
    read_at: datetime
    kept_at: datetime | None = None


class DailyFileChange(TypedDict, total=False):
    kept_at: datetime | None


class DailyFileWhere(TypedDict, total=False):
    id: OneOf[int]
    place_id: OneOf[int]
    kept_at: OneOf[datetime] | None


@dataclass(frozen=True, slots=True)
class PlaceSkillRow:
    """A skill learned, with what it and the one before scored on the same nights."""

    id: int
    _: KW_ONLY
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


class PlaceSkillWhere(TypedDict, total=False):
    id: OneOf[int]
    place_id: OneOf[int]
