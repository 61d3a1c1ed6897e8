"""What posting on a day loses: as the planner weighs it each evening, and as it came."""

from collections.abc import Callable
from datetime import date, timedelta

import numpy as np

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.circumstances import PostingTerms
from exchange.domain.posting.exposure import DAY_ERROR_SHARE, Air, drawn_out, sheltered_lows
from exchange.domain.posting.injury import curves, tolerance
from exchange.domain.posting.packed import DAY_RISE_K
from exchange.domain.posting.packing import packing
from exchange.domain.posting.replay import springs as axis
from exchange.domain.posting.replay.process import LEADS, SOONEST
from exchange.domain.posting.replay.springs import Array, Springs
from exchange.domain.posting.risk import RiskInput, RiskQuery, risk_table
from exchange.domain.posting.scenarios import night_errors
from exchange.domain.posting.transit import arrivals
from exchange.domain.posting.way import Carriage, Way
from exchange.domain.weather.blend import lead_spread

Nights = tuple[Array, Array, Array]
"""Mean and spread of the minima, and the days' highs (2, springs, nights) [degrees C, K, degrees C]."""

STOCK = {
    "tuber": (Species.DAHLIA, Material.POT_TUBER, Raised.COOL),
    "rooted": (Species.DAHLIA, Material.ROOTED, Raised.IN_HEAT),
}
WAYS_ROUND = ((0, 1), (1, 0))
"""Sender and receiver of each pair, among the ends of a spring."""
TERMS = PostingTerms()
WAY = Way(1, "first class", "GB", Carriage.POST, odds=(77.5, 14.8, 4.3, 3.4))
HOME_BY, WARMER_K, LONGEST = 18, WAY.depot_offset_c, len(WAY.odds) + 1
"""Hour at which somebody is home; how much warmer depots are; most days in the post, with a Sunday [h, K, d]."""
FIRST_EVENING = axis.READY - axis.KNOWN_BEFORE
EVENINGS = axis.KNOWN_BEFORE + axis.READY_WITHIN + axis.MOST_WAIT - 1
"""The evenings on which days are weighed: the first, on the axis, and how many."""


def odds() -> Array:
    """Give the chance of so many days in the post (weekday of posting, days)."""
    found = np.zeros((7, LONGEST + 1))
    for weekday in range(7):
        posted = date(2024, 1, 1) + timedelta(days=weekday)
        for one in arrivals(WAY, posted, {}):
            found[weekday, (one.day - posted).days] = one.chance
    return found


def nights_on(springs: Springs, drawn: Array, evening: int) -> Nights:
    """Give the nights as the planner takes them on an evening: the forecast as far as it goes, then climate."""
    span = slice(evening, evening + TERMS.horizon + LONGEST + 1 + TERMS.shelter_nights)
    usual, spread = springs.usual[:, :, span], springs.spread[:, :, span].copy()
    leads, mean = SOONEST + np.arange(LEADS), usual.copy()
    mean[:, :, :LEADS] = drawn[:, :, evening]
    spread[:, :, :LEADS] = np.vectorize(lead_spread)(leads, spread[:, :, :LEADS])
    return mean, spread, _highs(usual, mean)


def weighed_losses(springs: Springs, drawn: Array, told: Callable[[int, int], None]) -> Array:
    """Weigh every day on every evening (evenings, springs, pairs, stock, days ahead), telling how many are done."""
    found = []
    for done in range(EVENINGS):
        told(done, EVENINGS)
        nights = nights_on(springs, drawn, FIRST_EVENING + done)
        table = _table(springs, nights, TERMS.horizon, TERMS.scenarios)
        found.append(_over_odds(springs, table, FIRST_EVENING + done))
    return np.array(found)


def true_losses(springs: Springs) -> Array:
    """Give what posting on each day of the axis lost (springs, pairs, stock, days)."""
    lows = springs.lows
    nights = lows, np.zeros_like(lows), _highs(springs.usual, lows)
    days = axis.DAYS - LONGEST - TERMS.shelter_nights
    return _over_odds(springs, _table(springs, nights, days, 1), 0)


def true_frosts(springs: Springs) -> Array:
    """Give the nights at or below 0 C on the way, by the post's odds (springs, pairs, days)."""
    days, frost = axis.DAYS - LONGEST, springs.lows <= 0
    table = np.zeros((len(springs.years), len(WAYS_ROUND), 1, days, LONGEST + 1))
    for pair, (here, there) in enumerate(WAYS_ROUND):
        table[:, pair, 0] = frost[here, :, :days, None]
        for night in range(1, LONGEST):
            table[:, pair, 0, :, night + 1 :] += frost[there, :, night : night + days, None]
    return _over_odds(springs, table, 0)[:, :, 0]


def _over_odds(springs: Springs, table: Array, first: int) -> Array:
    """Take the mean over the days in the post, the last axis; the days before it start at `first`."""
    chances = odds()[(springs.weekdays[:, None] + first + np.arange(table.shape[3])) % 7]
    return np.asarray(np.einsum("spkda,sda->spkd", np.nan_to_num(table), chances))


def _highs(usual: Array, low: Array) -> Array:
    """Give the days' highest temperatures, which depart from the usual as the planner takes them to."""
    return np.asarray(usual + DAY_RISE_K + DAY_ERROR_SHARE * (low - usual))


def _table(springs: Springs, nights: Nights, days: int, scenarios: int) -> Array:
    """Ask the planner's risk table (springs, pairs, stock, days, days in the post)."""
    # The ends of all springs are the places of one air, spring by spring.
    mean, spread, high = (np.swapaxes(each, 0, 1).reshape(-1, each.shape[2]) for each in nights)
    errors = night_errors(mean.shape[1], scenarios) if scenarios > 1 else np.zeros((1, 1))
    known = np.ones(mean.shape, dtype=np.bool_)
    lows, hours = drawn_out(mean, spread, high, errors)
    air = Air(date.min, {}, lows, hours, known, mean, spread, ~known)
    kinds = tuple(curves(tolerance(*stock)) for stock in STOCK.values())
    tau = packing(TERMS.default_packing).tau_h
    journeys = [
        RiskInput(first + here, first + there, tau, 0.0, HOME_BY, WARMER_K, kinds, first + there)
        for first in range(0, len(lows), 2)
        for here, there in WAYS_ROUND
    ]
    stays = [(row, ShelterKind.INDOORS) for row in range(len(air.lows))]
    sheltered = sheltered_lows(air, stays, TERMS.shelter_nights)
    needed = (False, *(True,) * LONGEST)
    question = RiskQuery(air, sheltered, days, needed, TERMS.packed_at_c)
    table = np.array(risk_table(journeys, question, figures=False).loss)
    return table.reshape(len(springs.years), -1, *table.shape[1:])
