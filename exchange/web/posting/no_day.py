"""Parcels without a day: no way to send it, waits for weather, not ready yet; the rarest first."""

from flask import Blueprint, render_template

from exchange.actions.posting.page_no_day import NoDayPage, no_day_page
from exchange.actions.posting.warmth_ahead import WaitForWarmth
from exchange.domain.arriving.arrival import JourneyState
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.session import actor, now
from exchange.web.posting import parcel_sentences
from exchange.web.posting.chart_weeks import WeekBar, WeeksView, draw_weeks
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting import no_day as words
from exchange.words.weather.frost import EIGHT_IN_TEN

blueprint = Blueprint("no_day", __name__, url_prefix="/parcels/without-a-day")

KINDS = (
    (JourneyState.NO_WAY, "lost", "No way to send it", "bad"),
    (JourneyState.WAITS, "held", "Waits for weather", ""),
    (JourneyState.NOT_READY, "open", "Not ready yet", ""),
)
"""The three kinds in the order of who must act: state, sign, word, tone."""
SHOWN = 4
"""More parcels that are not ready yet are folded by the day from which they are (judgement)."""


@blueprint.get("")
def show() -> str:
    page = no_day_page(actor(), now())
    return render_template(
        "parcels/no_day.html",
        page=page,
        lead=_lead(page),
        kinds=[(*kind[1:], page.in_state(kind[0])) for kind in KINDS],
        words=words,
        parcel_words=parcel_sentences,
        weeks_of=weeks_of,
        shown=SHOWN,
    )


def _lead(page: NoDayPage) -> str:
    no_way, waits, not_ready = (len(page.in_state(kind[0])) for kind in KINDS)
    return words.lead(no_way, waits, not_ready, page.of, own=not page.may_plan)


def weeks_of(warmth: WaitForWarmth) -> WeeksView:
    """Draw how the usual nights of the colder end come up to what a parcel waits for."""
    bars = []
    for week in warmth.weeks:
        spread = EIGHT_IN_TEN * week.night.sd_k
        bars.append(
            WeekBar(
                f"{week.monday.day}{NBSP}{dates.month(week.monday)[:3]}",
                week.night.mean_c,
                (week.night.mean_c - spread, week.night.mean_c + spread),
                is_warm=warmth.warm_from is not None and week.monday >= warmth.warm_from,
            )
        )
    title = f"Usual nights at the colder end, {warmth.place.county or warmth.place.country}"
    return draw_weeks(
        bars,
        warmth.limit_c,
        Words(
            title=title,
            description=words.waits_for(warmth.limit_c, warmth.warm_from),
            caption=title,
            heads=("Week of", "Usual low", "80 in 100 nights"),
            rows=tuple(
                (
                    bar.title,
                    dates.degrees(bar.low_c),
                    f"{dates.degrees(bar.span_c[0])} to {dates.degrees(bar.span_c[1])}",
                )
                for bar in bars
            ),
        ),
        (
            words.hurt_under(warmth.limit_c, warmth.species),
            dates.degrees(warmth.limit_c).partition(NBSP)[0] + "°",
        ),
    )
