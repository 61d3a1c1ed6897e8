"""The replay of past springs in words: names of the rules, the table, what stands behind the figures."""

from exchange.domain.posting.replay.run import Compared, Replay
from exchange.words.phrase import _, listed
from exchange.words.terminal import table

_RULES = {
    "at once": "post at once",
    "Mondays": "Mondays only",
    "Monday to Wednesday": "Monday to Wednesday",
    "no frost forecast, margin 0": "no frost forecast for three days",
    "no frost forecast, margin 1": "nothing under 1 °C forecast for three days",
    "no frost forecast, margin 2": "nothing under 2 °C forecast for three days",
    "median last frost": "after the median last frost",
    "last frost, 1 spring in 10": "after the last frost of 9 springs in 10",
    "perfect foresight": "perfect foresight",
}
_STAGES = {
    "other rules": "other rules",
    "our rule": "our rule",
    "bound": "the bound below which no rule comes",
}


def rule_name(key: str) -> str:
    """Name a rule."""
    return _(_RULES[key])


def stage(key: str) -> str:
    """Name a stage of the work."""
    return _(_STAGES[key])


def heading(found: Replay) -> str:
    """Say what was replayed."""
    return _("{parcels} parcels in {springs} springs ({first} to {last}), between {places}").format(
        parcels=found.parcels,
        springs=len(found.years),
        first=found.years[0],
        last=found.years[-1],
        places=listed(found.names),
    )


def short_heading(found: Replay) -> str:
    """Say how much was replayed, without the names of the places."""
    return _("{parcels} parcels in {springs} springs, {first} to {last}").format(
        parcels=found.parcels,
        springs=len(found.years),
        first=found.years[0],
        last=found.years[-1],
    )


def rules_table(found: Replay) -> str:
    """Give every rule beside ours at the same mean wait."""
    heads = [
        _("rule"),
        _("wait, days"),
        _("frosted nights"),
        _("over Sunday"),
        _("forced"),
        _("ours, same wait"),
        _("ours : rule"),
        _("bound"),
    ]
    return table(heads, [_row(one) for one in found.rules])


def _row(one: Compared) -> list[str]:
    rule = one.rule
    return [
        rule_name(rule.name),
        f"{rule.wait:.2f}",
        f"{rule.frosted:.1f}",
        f"{rule.over_sunday:.1f}",
        str(rule.forced),
        _number(one.ours, 2),
        _number(one.share, 3),
        _number(one.least, 2),
    ]


def _number(value: float | None, digits: int) -> str:
    return "–" if value is None else f"{value:.{digits}f}"


def prices_table(found: Replay) -> str:
    """Give our rule at every price of waiting, beside the plain one-step rule at the same price."""
    heads = [
        _("price of a day"),
        _("wait, days"),
        _("frosted nights"),
        _("over Sunday"),
        _("forced"),
        _("one step: wait"),
        _("one step: frosted"),
    ]
    rows = [
        [
            one.name.removeprefix("ours at "),
            f"{one.wait:.2f}",
            f"{one.frosted:.2f}",
            f"{one.over_sunday:.1f}",
            str(one.forced),
            f"{plain.wait:.2f}",
            f"{plain.frosted:.2f}",
        ]
        for one, plain in zip(found.ours, found.plain, strict=True)
    ]
    return table(heads, rows)


def bounds_table(found: Replay) -> str:
    """Give the bound beside our rule in the drawn process."""
    heads = [
        _("price of a day"),
        _("bound on the cost"),
        _("ours"),
        _("ours over the bound"),
        _("ours: wait"),
        _("ours: frosted"),
    ]
    rows = [
        [
            f"{one.price:g}",
            f"{one.least:.4f} ± {one.unsure:.4f}",
            f"{one.ours:.4f}",
            f"{100 * (one.ours / one.least - 1):.1f} %",
            f"{one.wait:.2f}",
            f"{one.frosted:.2f}",
        ]
        for one in found.bounds
    ]
    return table(heads, rows)


def notes() -> tuple[str, ...]:
    """Say how to read the figures."""
    return (
        _(
            "Frosted nights and over Sunday: in 100 parcels. Forced: waited 28 days and went anyway."
        ),
        _(
            "The forecasts are made up, with published skill. Our rule uses all of them since the "
            "start of the spring; here the errors of each are new, so older ones help more than "
            "they would in life. One step: the newest forecast alone, no worth of waiting."
        ),
        _(
            "Bound: no rule can have fewer frosted nights at that wait, in springs drawn from the "
            "same averages, spreads and correlations. Real springs may lie a little on either side."
        ),
    )
