"""A large made-up risk question: many places in a cold spring, parcels of all kinds between them."""

from datetime import timedelta

import numpy as np

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.shelter import ShelterKind
from exchange.domain.growing.variety import Species
from exchange.domain.posting.exposure import air, sheltered_lows
from exchange.domain.posting.injury import curves, tolerance
from exchange.domain.posting.packing import DAMP_LATENT_K, PACKINGS
from exchange.domain.posting.risk import RiskInput, RiskQuery
from exchange.domain.weather.forecast import Night, Outlook, WeatherSource
from tests.builders.posting import MONDAY

KINDS = (
    (Species.DAHLIA, Material.UNROOTED, Raised.IN_HEAT),
    (Species.DAHLIA, Material.ROOTED, Raised.COOL),
    (Species.DAHLIA, Material.DIVISION, Raised.COOL),
    (Species.FUCHSIA, Material.YOUNG_PLANT, Raised.HARDENED),
)
SHELTERS = (ShelterKind.INDOORS, ShelterKind.FROST_FREE, ShelterKind.COLD)


def a_question(places=300, days=21, most_after=8, scenarios=20, seed=1):
    rng = np.random.default_rng(seed)
    reach = days + most_after + 6
    outlooks = {}
    for place in range(places):
        means = rng.normal(4.0, 3.5, reach)
        nights = tuple(
            Night(
                MONDAY + timedelta(days=n),
                float(means[n]),
                1 + n / 12,
                float(means[n]) + 8,
                WeatherSource.FORECAST,
            )
            for n in range(reach)
        )
        outlooks[place] = Outlook(place, nights, WeatherSource.FORECAST)
    drawn = air(outlooks, MONDAY, reach, scenarios)
    stays = [(place, kind) for place in range(places) for kind in SHELTERS]
    needed = (False, *(True,) * most_after)
    return RiskQuery(drawn, sheltered_lows(drawn, stays, 5), days, needed, 15.0)


def journeys(count=1480, places=300, offset=2.0, seed=2):
    """Make parcels of which about one in four is wrapped damp."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        sender, receiver = rng.choice(places, 2, replace=False)
        kind = KINDS[rng.integers(len(KINDS))]
        made.append(
            RiskInput(
                sender=int(sender),
                receiver=int(receiver),
                tau_h=PACKINGS[rng.integers(1, 3)].tau_h,
                latent_k=DAMP_LATENT_K if kind[1] is Material.UNROOTED else 0.0,
                indoors_at=int(rng.integers(13, 20)),
                depot_offset_c=offset,
                kinds=(curves(tolerance(*kind)),),
                shelter=int(receiver) * len(SHELTERS) + int(rng.integers(len(SHELTERS))),
                through=int(rng.integers(places)) if rng.random() < 0.3 else None,
            )
        )
    return made
