"""The rule printed on a slip: "if this or less is forecast at either end, wait"."""

from datetime import date
from functools import lru_cache

import numpy as np

from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.posting.circumstances import Circumstances
from exchange.domain.posting.exposure import Air, hourly, sheltered_lows, warmest
from exchange.domain.posting.options import ParcelCase, stock_kinds
from exchange.domain.posting.packing import DAMP_LATENT_K, Packing, damp_wrapped
from exchange.domain.posting.risk import DELIVERED, RiskInput, RiskQuery, risk_table
from exchange.domain.posting.stops import loss_limit
from exchange.domain.posting.way import Carriage

TRIED = range(-12, 16)
"""Forecast night minima tried [degrees C]."""
DAY_RISE_K = 8.0
"""How much warmer the day is than its night (judgement)."""


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
