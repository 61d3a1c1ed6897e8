"""Parcels as packed: in the simplest packing that lets them go, and the forecast that keeps them back."""

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import lru_cache

import numpy as np

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.announced import is_too_risky
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.exposure import Air, hourly, sheltered_lows, warmest
from exchange.domain.posting.held_days import announced_option
from exchange.domain.posting.options import Option, ParcelCase, stock_kinds
from exchange.domain.posting.packing import (
    DAMP_LATENT_K,
    PACKINGS,
    Packing,
    damp_wrapped,
    usual_packing,
)
from exchange.domain.posting.planned_days import PlannedDays
from exchange.domain.posting.risk import DELIVERED, RiskInput, RiskQuery, risk_table
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.way import Carriage
from exchange.domain.posting.weigh import weigh

TRIED = range(-12, 16)
"""Forecast night minima tried [degrees C]."""
DAY_RISE_K = 8.0
"""How much warmer the day is than its night (judgement)."""

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


def warn_at(case: ParcelCase, packed: Packing, around: Circumstances) -> float:
    """Give the forecast minimum at or under which the sender should wait.

    The whole degree at which a parcel that comes on the next day passes its limit, when that minimum
    is sure on every night at both ends. Carried by hand it travels an afternoon, and the air on the way is so cold.
    """
    by_hand = bool(case.ways) and all(way.carriage is Carriage.BY_HAND for way in case.ways)
    boxed = packed.flat and case.receiver.letter_box
    journey = RiskInput(
        sender=0,
        receiver=0,
        tau_h=packed.tau_h,
        latent_k=DAMP_LATENT_K if damp_wrapped(case.parcel.lines) else 0.0,
        indoors_at=DELIVERED if boxed else max(DELIVERED, case.receiver.home_by),
        depot_offset_c=min((way.depot_offset_c for way in case.ways), default=0.0),
        kinds=tuple(stock_kinds(case)),
        shelter=0,
    )
    kind = warmest(case.shelters)
    limit = loss_limit(case.parcel, around)
    return _warn(journey, kind, limit, around.terms.packed_at_c, by_hand=by_hand)


@lru_cache(maxsize=4096)
def _warn(
    journey: RiskInput, kind: ShelterKind, limit: float, packed_at: float, *, by_hand: bool
) -> float:
    # One "place" for each degree tried, with as many nights alike as a one-day journey looks at.
    lows = np.repeat(np.array(TRIED, dtype=float)[:, None, None], 3, axis=1)
    known = np.ones(lows.shape[:2], dtype=np.bool_)
    air = Air(
        first=date.min,
        row={},
        lows=lows,
        hourly=hourly(lows, lows + (0.0 if by_hand else DAY_RISE_K)),
        known=known,
        middle=lows[:, :, 0],
        spread=np.zeros(lows.shape[:2]),
        climate=~known,
    )
    rows = range(len(TRIED))
    after = 0 if by_hand else 1
    needed = (by_hand, not by_hand)
    question = RiskQuery(
        air, sheltered_lows(air, [(row, kind) for row in rows], 1), 1, needed, packed_at
    )
    table = risk_table([_at(journey, row) for row in rows], question, figures=False)
    losses = (float(loss[:, 0, after].max()) for loss in table.loss)
    over = [low for low, loss in zip(TRIED, losses, strict=True) if loss > limit]
    return float(max(over, default=TRIED[0] - 1))


def _at(journey: RiskInput, row: int) -> RiskInput:
    return RiskInput(
        row,
        row,
        journey.tau_h,
        journey.latent_k,
        journey.indoors_at,
        journey.depot_offset_c,
        journey.kinds,
        row,
    )
