"""The coming nights at the receiver's, and where the plants of a parcel should stand in them."""

from collections.abc import Sequence
from itertools import groupby

from exchange.actions.posting.page_parcel import NIGHTS_SHOWN, ParcelPage
from exchange.domain.arriving.nights import NightPlacement
from exchange.web.frame.chart_figure import Words
from exchange.web.weather.chart_nights import NightBar, NightsView, PotsStand, draw_nights
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.posting.standing import StandingNights, standing
from exchange.words.weather.frost import EIGHT_IN_TEN


def nights_of(page: ParcelPage) -> NightsView | None:
    """Draw the nights a parcel's plants meet at the receiver's; None where none is known."""
    shown = page.nights[:NIGHTS_SHOWN]
    bars = []
    for one in shown:
        night = page.receiver.outlook.night(one.day)
        spread = EIGHT_IN_TEN * (night.sd_c if night else 0.0)
        bars.append(
            NightBar(
                dates.weekday(one.day),
                str(one.day.day),
                one.low_c,
                (one.low_c - spread, one.low_c + spread),
            )
        )
    if not bars:
        return None
    cold = [one.day for one in shown if one.too_cold]
    return draw_nights(
        bars,
        Words(
            title="The nights where they go",
            description=f"{dates.days(cold)}: too cold where they usually stand."
            if cold
            else "No night shown is too cold where they stand.",
            caption="Night by night",
            heads=("Night of", "Likely low", "Frost", "Stand them"),
            rows=tuple(
                (
                    dates.day(one.day),
                    dates.degrees(one.low_c, 0.5),
                    in_hundred(one.frost_chance),
                    plants.in_shelter(one.stand),
                )
                for one in shown
            ),
        ),
        standing_of(shown),
    )


def standing_of(shown: Sequence[NightPlacement]) -> tuple[PotsStand, ...]:
    """Say once for nights in a row where the plants stand in them."""
    runs = [
        StandingNights(plants.in_shelter(stand), tuple(one.day for one in run))
        for stand, run in groupby(shown, key=lambda one: one.stand)
    ]
    return tuple(
        PotsStand(len(run.days), said) for run, said in zip(runs, standing(runs), strict=True)
    )
