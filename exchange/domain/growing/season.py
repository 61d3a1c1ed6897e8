"""The dates of the growing year at a place: when plants may go out, and when frost ends it.

All are worked out from a weather station and hold to about a fortnight; what the grower has seen stands above
them. Nights are named by the day on whose morning they end.
"""

from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from exchange.domain.growing.variety import Species
from exchange.domain.weather.climate import Climate, by_day_of_year
from exchange.domain.weather.frost import (
    AIR_FROST,
    GROUND_FROST,
    HARD_FROST,
    Frost,
    day_of,
    frost_by,
    safe_date,
)

FROST_EXCEEDANCE = 0.1
GROUND_FROST_EXCEEDANCE = 0.33
"""Share of springs in which frost may still come once plants are out: an air frost kills the plant, a ground
frost the new leaves at ankle height (judgement: growers' end of May for most of the UK, mid-June for Scotland)."""

GROWING_MEAN_C = 11.0
"""Usual mean of day and night below which a dahlia stands still: 0.054 leaf pairs a day at 10 degrees C, 0.158
at 15 (derived from the rates of Brondum and Heins); the level is judgement [degrees C]."""

BEGONIA_NIGHT_C = 8.0
COLEUS_NIGHT_C = 10.0
"""Usual night minimum from which tuberous begonias, and coleus and foliage begonias, may stand out (judgement
from the temperatures at which their leaves fail); after the second, two nights in three keep above it [degrees C]."""

CHRYSANTHEMUM_EARLY_DAYS = 14
"""How long before frost is rare chrysanthemums may go out: hardened, they stand a touch of it; May is when growers
plant them (https://gardenadvice.co.uk/gardening-tips/spring-chrysanthumum-cuttings/); the days are judgement
[days]."""

MOST_MOVED_DAYS = 28
"""What a grower has seen moves the other dates of spring by no more (judgement) [days]."""

SHORTEST_OUT_DAYS = 60
"""Where fewer days than this lie between the first and the last night warm enough, plants keep better under
glass (judgement) [days]."""

WAITS_FOR_WARM_NIGHTS = frozenset({Species.COLEUS, Species.FOLIAGE_BEGONIA, Species.BEGONIA})
"""Kinds that wait for nights of 10 degrees C; a begonia of unknown kind goes by the tenderer rule."""

_MILD_NIGHTS = frozenset({Species.TUBEROUS_BEGONIA, Species.OTHER})
_SPRING = (
    "frost_rare",
    "ground_frost_unusual",
    "ground_frost_rare",
    "mild",
    "nights_8",
    "nights_10",
)


@dataclass(frozen=True, slots=True)
class Season:
    """The dates of a growing year at a place; None where the year has no such day.

    Attributes
    ----------
    frost_rare : from it on an air frost comes in 1 spring of 10
    ground_frost_unusual, ground_frost_rare : the same of a ground frost, in 1 of 3 and in 1 of 10
    mild : first day whose usual mean reaches 11 degrees C
    nights_8, nights_10 : first day whose usual night keeps at or above so much [degrees C]
    last_night_10 : last such day of autumn
    first_frost, usual_frost, hard_frost : an air frost has come in 1 and in 5 autumns of 10, a freeze of
        -2.2 degrees C in 5 of 10
    """

    frost_rare: date | None = None
    ground_frost_unusual: date | None = None
    ground_frost_rare: date | None = None
    mild: date | None = None
    nights_8: date | None = None
    nights_10: date | None = None
    last_night_10: date | None = None
    first_frost: date | None = None
    usual_frost: date | None = None
    hard_frost: date | None = None

    @property
    def planting_out(self) -> date | None:
        """The day from which dahlias, pelargoniums, fuchsias and tender salvias go out, a cover at hand."""
        return _latest(self.frost_rare, self.ground_frost_unusual, self.mild)

    def out_from(self, species: Species) -> date | None:
        """Give the day from which plants of a kind go out; None where they never should."""
        if species in WAITS_FOR_WARM_NIGHTS:
            return None if self.under_glass else _latest(self.planting_out, self.nights_10)
        if species is Species.CHRYSANTHEMUM:
            early = timedelta(days=CHRYSANTHEMUM_EARLY_DAYS)
            return None if self.frost_rare is None else self.frost_rare - early
        if species in _MILD_NIGHTS:
            return _latest(self.planting_out, self.nights_8)
        return self.planting_out

    @property
    def under_glass(self) -> bool:
        """Whether coleus and foliage begonias keep better under glass here, for want of warm nights."""
        if self.nights_10 is None or self.last_night_10 is None:
            return True
        return (self.last_night_10 - self.nights_10).days < SHORTEST_OUT_DAYS


def season(climate: Climate, year: int, frost_rare_day: int | None = None) -> Season:
    """Give the dates of a growing year at a place.

    Parameters
    ----------
    climate : at the place
    frost_rare_day : from which frost is rare as the grower has seen it, as the day of a 365-day year; it stands
        above our own, and the other dates of spring move by the difference, at most 28 days
    """
    ours = _by_station(climate, year)
    if frost_rare_day is None:
        return ours
    told = day_of(year, frost_rare_day)
    if ours.frost_rare is None:
        return replace(ours, frost_rare=told)
    most = timedelta(days=MOST_MOVED_DAYS)
    by = max(-most, min(most, told - ours.frost_rare))
    values = {one.name: getattr(ours, one.name) for one in fields(ours)}
    moved = {name: None if values[name] is None else values[name] + by for name in _SPRING}
    return Season(**{**values, **moved, "frost_rare": told})


@lru_cache(maxsize=512)
def _by_station(climate: Climate, year: int) -> Season:
    night = _course(climate.minimum_c) + climate.shift_k + climate.night_shift_k
    mean = (night + _course(climate.maximum_c) + climate.shift_k) / 2.0
    coleus = np.flatnonzero(night >= COLEUS_NIGHT_C)
    return Season(
        frost_rare=_safe(climate, year, FROST_EXCEEDANCE, AIR_FROST),
        ground_frost_unusual=_safe(climate, year, GROUND_FROST_EXCEEDANCE, GROUND_FROST),
        ground_frost_rare=_safe(climate, year, FROST_EXCEEDANCE, GROUND_FROST),
        mild=_first(year, mean, GROWING_MEAN_C),
        nights_8=_first(year, night, BEGONIA_NIGHT_C),
        nights_10=_first(year, night, COLEUS_NIGHT_C),
        last_night_10=day_of(year, int(coleus[-1]) + 1) if len(coleus) else None,
        first_frost=frost_by(climate, year, 0.1),
        usual_frost=frost_by(climate, year, 0.5),
        hard_frost=frost_by(climate, year, 0.5, HARD_FROST),
    )


def _course(monthly: tuple[float, ...]) -> NDArray[np.float64]:
    return np.array(by_day_of_year(monthly)[:365])


def _safe(climate: Climate, year: int, share: float, frost: Frost) -> date | None:
    found = safe_date(climate, year, share, frost)
    return None if found is None else found.day


def _first(year: int, course: NDArray[np.float64], level: float) -> date | None:
    reached = np.flatnonzero(course >= level)
    return day_of(year, int(reached[0]) + 1) if len(reached) else None


def _latest(*days: date | None) -> date | None:
    """Give the latest of the days; None where any never comes."""
    known = [day for day in days if day is not None]
    return max(known) if len(known) == len(days) else None
