"""The replay of past springs in words: names of the rules, the table, notes on the figures."""

from exchange.domain.posting.replay.run import Replay, RuleComparison
from exchange.words.kernel.phrase import listed
from exchange.words.kernel.terminal import table

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
    return _RULES[key]


def stage(key: str) -> str:
    """Name a stage of the work."""
    return _STAGES[key]


def heading(found: Replay) -> str:
    """Say what was replayed."""
    return f"{found.parcels} parcels in {len(found.years)} springs ({found.years[0]} to {found.years[-1]}), between {listed(found.names)}"


def short_heading(found: Replay) -> str:
    """Say how much was replayed, without the names of the places."""
    return f"{found.parcels} parcels in {len(found.years)} springs, {found.years[0]} to {found.years[-1]}"


def rules_table(found: Replay) -> str:
    """Give every rule beside ours at the same mean wait."""
    heads = [
        "rule",
        "wait, days",
        "frosted nights",
        "over Sunday",
        "forced",
        "ours, same wait",
        "ours : rule",
        "bound",
    ]
    return table(heads, [_row(one) for one in found.rules])


def _row(one: RuleComparison) -> list[str]:
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
        "price of a day",
        "wait, days",
        "frosted nights",
        "over Sunday",
        "forced",
        "one step: wait",
        "one step: frosted",
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
        "price of a day",
        "bound on the cost",
        "ours",
        "ours over the bound",
        "ours: wait",
        "ours: frosted",
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
        "Frosted nights and over Sunday: in 100 parcels. Forced: waited 28 days and went anyway.",
        (
            "The forecasts are made up, with published skill. Our rule uses all of them since the "
            "start of the spring; here the errors of each are new, so older ones help more than "
            "they would in life. One step: the newest forecast alone, no worth of waiting."
        ),
        (
            "Bound: no rule can have fewer frosted nights at that wait, in springs drawn from the "
            "same averages, spreads and correlations. Real springs may lie a little on either side."
        ),
    )
