"""Days that would do but for other parcels: what the others leave of each day."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from exchange.domain.posting.choose_days import kept_varieties
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.reasons import DayWord, Stop
from exchange.domain.posting.stops import plants
from exchange.domain.posting.transit import expected_days


@dataclass(frozen=True, slots=True)
class TakenDays:
    """What other parcels take up of the days.

    Attributes
    ----------
    packed : parcels by sender's household and day
    kept : parcels by day and variety that must not be lost
    coming : receiver's place -> (first expected day, plants) of each parcel on its way there
    """

    packed: Mapping[tuple[int, date], int]
    kept: Mapping[tuple[date, int], int]
    coming: Mapping[int, Sequence[tuple[date, int]]]


def taken_days(
    laid: Sequence[ParcelCase], chosen: Mapping[int, Option | None], gone: Sequence[Parcel]
) -> TakenDays:
    """Count what the chosen days and the parcels already posted take."""
    packed = Counter((one.sender_household_id, one.posted_on) for one in gone if one.posted_on)
    kept = Counter((one.posted_on, each) for one in gone for each in kept_varieties(one))
    coming: defaultdict[int, list[tuple[date, int]]] = defaultdict(list)
    for one in gone:
        coming[one.receiver_place_id].append((one.posted_on or date.min, plants(one)))
    for case in laid:
        option = chosen[case.parcel.id]
        if option is None:
            continue
        packed[case.parcel.sender_household_id, option.day] += 1
        kept.update((option.day, each) for each in kept_varieties(case.parcel))
        arrives = expected_days(option.coming)[0]
        coming[case.receiver.id].append((arrives, plants(case.parcel)))
    return TakenDays(
        {(household, day): count for (household, day), count in packed.items() if day},
        {(day, variety): count for (day, variety), count in kept.items() if day},
        coming,
    )


def crowded(
    case: ParcelCase,
    options: Sequence[Option],
    chosen: Option | None,
    full: TakenDays,
    around: Circumstances,
) -> tuple[Option, ...]:
    """Mark the days of a parcel that other parcels have taken."""
    found = []
    for option in options:
        same_day = chosen is not None and option.day == chosen.day
        stop = None if option.stop or same_day else _taken(case, option, chosen, full, around)
        found.append(replace(option, stop=stop) if stop else option)
    return tuple(found)


def _taken(
    case: ParcelCase, option: Option, chosen: Option | None, full: TakenDays, around: Circumstances
) -> Stop | None:
    household = around.households[case.parcel.sender_household_id]
    if full.packed.get((household.id, option.day), 0) >= household.parcels_a_day:
        return Stop(DayWord.DAY_FULL)
    if any(full.kept.get((option.day, each)) for each in kept_varieties(case.parcel)):
        return Stop(DayWord.ONE_A_DAY)
    if case.room is None:
        return None
    arrives = expected_days(option.coming)[0]
    others = list(full.coming.get(case.receiver.id, ()))
    if chosen is not None:
        others.remove((expected_days(chosen.coming)[0], plants(case.parcel)))
    for day in sorted({arrives, *(other for other, _ in others if other > arrives)}):
        there = sum(count for other, count in others if other <= day)
        left = case.room - around.taken(case.receiver.id, day) - there
        if plants(case.parcel) > left:
            return Stop(DayWord.ROOM_FULL, number=max(left, 0))
    return None
