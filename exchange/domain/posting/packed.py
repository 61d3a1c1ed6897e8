"""Packings weighed: each parcel in the simplest packing that lets it go."""

import math
from collections.abc import Callable, Mapping, Sequence

from exchange.domain.posting.announced import is_too_risky
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.held_days import announced_option
from exchange.domain.posting.options import Option, ParcelCase
from exchange.domain.posting.packing import PACKINGS, Packing, usual_packing
from exchange.domain.posting.planned_days import PlannedDays
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.weigh import weigh

Weighed = dict[int, tuple[Option, ...]]
Needs = Callable[[ParcelCase, Sequence[Option], Circumstances], bool]
"""Whether a warmer packing could help a parcel."""


def weigh_packed(planned: PlannedDays) -> Weighed:
    """Weigh all options in the simplest packing, or in a warmer one where that lets a parcel go.

    An announced day is packed as warm as it needs to be good enough, or else to be held; only where no
    packing holds it is any day looked for.

    Returns
    -------
    parcel id -> options
    """
    around = planned.around
    packings = {
        case.parcel.id: usual_packing(
            case.parcel.lines, case.receiver.letter_box, around.terms.default_packing
        )
        for case in planned.cases
    }
    options = weigh(planned, packings, planned.cases)
    for needs in (_needs_for_good, _needs_to_be_held, _needs_for_any_day):
        stuck = [case for case in planned.cases if needs(case, options[case.parcel.id], around)]
        options |= _warmer(planned, packings, stuck, needs)
    return options


def _warmer(
    planned: PlannedDays, packings: Mapping[int, Packing], stuck: Sequence[ParcelCase], needs: Needs
) -> Weighed:
    """Weigh in ever warmer packings, and give the first that a parcel needs none warmer than."""
    found: Weighed = {}
    # From the simplest to the warmest, so that no parcel is packed warmer than it needs.
    for warmer in PACKINGS:
        tried = [
            case
            for case in stuck
            if case.parcel.id not in found and packings[case.parcel.id].tau_h < warmer.tau_h
        ]
        if tried:
            weighed = weigh(planned, {case.parcel.id: warmer for case in tried}, tried)
            found |= {
                case.parcel.id: weighed[case.parcel.id]
                for case in tried
                if not needs(case, weighed[case.parcel.id], planned.around)
            }
    return found


def _needs_for_good(case: ParcelCase, options: Sequence[Option], _around: Circumstances) -> bool:
    """Say whether the announced day is not good enough in this packing."""
    told = announced_option(case.parcel, options)
    return told is not None and _is_lossy(told)


def _needs_to_be_held(case: ParcelCase, options: Sequence[Option], around: Circumstances) -> bool:
    """Say whether the announced day is so bad in this packing that it would be left."""
    told, before = announced_option(case.parcel, options), case.parcel.announced_loss
    if told is None or not _is_lossy(told):
        return False
    limit, rule = loss_limit(case.parcel, around), around.terms.announcing
    return is_too_risky(told.loss, math.nan if before is None else before, limit, rule)


def _needs_for_any_day(case: ParcelCase, options: Sequence[Option], around: Circumstances) -> bool:
    """Say whether no day is good enough in this packing, where none that is announced can be held."""
    told = announced_option(case.parcel, options)
    stands = told is not None and (told.allowed or _is_lossy(told))
    if stands and not _needs_to_be_held(case, options, around):
        return False
    return any(_is_lossy(one) for one in options) and not any(one.allowed for one in options)


def _is_lossy(option: Option) -> bool:
    """Say whether its loss alone stops an option."""
    return option.stop is not None and option.loss == option.stop.number
