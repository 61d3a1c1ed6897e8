"""Hard stops: what keeps a parcel from going by a way on a day, whatever the weather.

Among them are the days that would do but for other parcels: what the others leave of each day.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from exchange.domain.circle.border import Passage, passage
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.packing import resting
from exchange.domain.posting.parcel import Parcel
from exchange.domain.posting.reasons import DayWord, Stop
from exchange.domain.posting.transit import ArrivalChance, chance_over_rest, expected_days
from exchange.domain.posting.way import Carriage, Way


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


def lasting_stop(case: ParcelCase, around: Circumstances) -> Stop | None:
    """Give what stops the parcel on every day: a border."""
    row = passage(case.sender, case.receiver, around.borders)
    return Stop(DayWord.BORDER, row.authority) if row.passage is Passage.BLOCKED else None


def day_stop(case: ParcelCase, day: date, around: Circumstances) -> Stop | None:
    """Give what stops the parcel on a day by any way: its windows and its sender."""
    parcel, sender = case.parcel, around.households[case.parcel.posted_by]
    ready, send_by = ready_from(parcel), last_day(parcel)
    if day < case.today:
        return Stop(DayWord.PAST)
    if day < ready:
        return Stop(DayWord.NOT_READY, until=ready)
    if day > send_by:
        return Stop(DayWord.TOO_LATE, until=send_by)
    if day.weekday() not in sender.posting_weekdays:
        return Stop(DayWord.OWN_DAYS)
    for away in case.away:
        if away.household_id == sender.id and away.cannot_post and away.covers(day):
            return Stop(DayWord.AWAY_HERE, until=away.last)
    return None


def way_stop(case: ParcelCase, day: date, way: Way, around: Circumstances) -> Stop | None:
    """Give what stops a way on a day: closures, the closed season, posting days, the cut-off."""
    by_hand = way.carriage is Carriage.BY_HAND
    if by_hand:
        return None
    closures = around.closures_at(case.sender)
    if day in closures:
        return Stop(DayWord.HOLIDAY, closures[day])
    if around.terms.closed(day.month, day.day):
        return Stop(DayWord.CLOSED)
    if day.weekday() not in way.hand_over_weekdays:
        return Stop(DayWord.NO_POST)
    if not _material_goes(case.parcel, day, way, around):
        return Stop(DayWord.MAY_WAIT)
    if day == case.today and case.local_now.time() > way.cut_off:
        return Stop(DayWord.PAST)
    return None


def arrival_stop(
    case: ParcelCase,
    way: Way,
    posted: date,
    coming: tuple[ArrivalChance, ...],
    around: Circumstances,
) -> Stop | None:
    """Give what stops an arrival: nobody there, no room, a likely rest day in the depot."""
    first, last = expected_days(coming)
    household = case.parcel.receiver_household_id
    for away in case.away:
        hits = away.first <= last and away.last >= first
        if away.household_id == household and away.cannot_receive and hits:
            return Stop(DayWord.AWAY, until=away.last)
    if case.room is not None:
        left = case.room - around.taken(case.receiver.id, first)
        if plants(case.parcel) > left:
            return Stop(DayWord.ROOM_FULL, number=max(left, 0))
    if way.carriage is Carriage.BY_HAND or resting(case.parcel.lines):
        return None
    chance = chance_over_rest(coming, posted, around.closures_at(case.receiver))
    if chance > around.terms.rest_limit:
        return Stop(DayWord.MAY_WAIT, number=chance)
    return None


def _material_goes(parcel: Parcel, day: date, way: Way, around: Circumstances) -> bool:
    rules = around.terms.posting_days
    for material in {line.material for line in parcel.lines}:
        rule = rules.get(material)
        if rule and day.weekday() not in (rule.quick if way.quick else rule.slow):
            return False
    return True


def taken_days(
    laid: Sequence[ParcelCase], chosen: Mapping[int, Option | None], gone: Sequence[Parcel]
) -> TakenDays:
    """Count what the chosen days and the parcels already posted take."""
    packed = Counter((one.posted_by, one.posted_on) for one in gone if one.posted_on)
    kept = Counter((one.posted_on, each) for one in gone for each in kept_varieties(one))
    coming: defaultdict[int, list[tuple[date, int]]] = defaultdict(list)
    for one in gone:
        coming[one.receiver_place_id].append((one.posted_on or date.min, plants(one)))
    for case in laid:
        option = chosen[case.parcel.id]
        if option is None:
            continue
        packed[case.parcel.posted_by, option.day] += 1
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
    household = around.households[case.parcel.posted_by]
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


def ready_from(parcel: Parcel) -> date:
    """Give the first day on which all lines are ready."""
    return max(line.ready_from for line in parcel.lines)


def last_day(parcel: Parcel) -> date:
    """Give the last day on which no line is too late."""
    return min(line.send_by for line in parcel.lines)


def plants(parcel: Parcel) -> int:
    """Count the plants of a parcel, each of which takes a pot at the receiver's [plants]."""
    return sum(line.count for line in parcel.lines)


def loss_limit(parcel: Parcel, around: Circumstances) -> float:
    """Give the chance of loss above which the parcel waits."""
    kept = any(line.must_not_be_lost for line in parcel.lines)
    return around.terms.loss_limit_kept if kept else around.terms.loss_limit


def kept_varieties(parcel: Parcel) -> frozenset[int]:
    """List the varieties in a parcel that must not be lost."""
    return frozenset(line.variety_id for line in parcel.lines if line.must_not_be_lost)
