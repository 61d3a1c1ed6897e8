"""The chance of losing a variety as two pictures of a hundred labels: as now, and with one more place."""

from exchange.actions.growing.page_varieties import VarietyPage
from exchange.domain.growing.season import WAITS_FOR_WARM_NIGHTS
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.filters import number_word
from exchange.web.growing.chart_hundred import HundredView, draw_hundred
from exchange.words.kernel.chances import in_hundred


def hundreds(page: VarietyPage) -> tuple[HundredView, ...]:
    """Draw both chances; nothing where nobody is known to have a plant."""
    now, helped = page.line.chance, page.chance_with_one_more
    if now is None or helped is None:
        return ()
    places = page.line.places
    as_now = (
        "with one place, as now" if places == 1 else f"with {number_word(places)} places, as now"
    )
    warm = page.line.variety.species in WAITS_FOR_WARM_NIGHTS
    one_more = f"with one more {'warm' if warm else 'frost-free'} place"
    words = Words(
        title="The chance that the circle loses it this winter",
        description=f"{in_hundred(now)} {as_now}; {in_hundred(helped)} {one_more}.",
        caption="The chance that the circle loses it this winter",
        heads=("Where it stands", "Lost in so many winters of 100"),
        rows=((as_now, in_hundred(now)), (one_more, in_hundred(helped))),
    )
    return (
        draw_hundred(round(now * 100), in_hundred(now), as_now, words),
        draw_hundred(round(helped * 100), in_hundred(helped), one_more, words),
    )
