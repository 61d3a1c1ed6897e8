"""The replay of past springs in words: names of the rules, tables, notes on the figures."""

from collections.abc import Iterable

from exchange.domain.posting.replay.process import Process
from exchange.domain.posting.replay.run import Replay, RuleReplay, RuleTally
from exchange.words.kernel.phrase import listed
from exchange.words.kernel.terminal import table

OURS = "the planner's rule"
HEADS = (
    "rule",
    "wait, days",
    "plants lost",
    "80 in 100 springs",
    "frosted nights",
    "over Sunday",
    "forced",
    "moves",
    "moved once",
    "moved twice",
)

_NIGHTS = {
    "two nights": "for two nights at both ends",
    "three nights": "for three nights at both ends",
    "sender's night, receiver's next two": "for the sender's night and the receiver's next two",
}
_PROCESSES = {
    Process.AS_BEFORE: "errors new at each issue",
    Process.LASTING: "errors that last",
}
_MATERIALS = {"tuber": "pot tubers", "rooted": "rooted cuttings"}
_SHOWN_MARGINS = 1.0
"""Rules of thumb stand in the tables of the page at whole degrees [K]."""


def thumb_name(rule: str) -> str:
    """Name a rule of thumb, whatever its margin."""
    return f"no frost forecast {_NIGHTS[rule]}"


def _thumb_at(rule: str, margin_c: float) -> str:
    if margin_c == 0:
        return thumb_name(rule)
    return f"nothing at or under {margin_c:.1f} °C forecast {_NIGHTS[rule]}".replace("-", "−")


def _ours_at(price: float) -> str:
    return f"{OURS}, {price:g} plants for a day's wait"


def process_name(process: Process) -> str:
    """Name how the errors of the forecasts go on."""
    return _PROCESSES[process]


def heading(found: Replay) -> str:
    """Say what was replayed."""
    return f"{found.parcels} parcels of each kind in {len(found.years)} springs, {found.years[0]} to {found.years[-1]}; {listed(found.names)}"


def title(one: RuleReplay) -> str:
    """Name a chart or table: what was sent, under which forecasts."""
    return f"{_MATERIALS[one.material]}, forecasts with {process_name(one.process)}".capitalize()


def rules_table(one: RuleReplay) -> str:
    """Give the rules for a terminal: rules of thumb as they are said, tuned to our wait, and ours."""
    return table(HEADS, rules_rows(one))


def rules_rows(one: RuleReplay) -> list[tuple[str, ...]]:
    """Give the rows of the rules."""
    said = (
        (rule, tally) for rule, tallies in one.thumbs.items() for tally in tallies if tally.at == 0
    )
    return [
        *(_row(_thumb_at(rule, 0.0), tally) for rule, tally in said),
        *(_row(f"{_thumb_at(rule, tally.at)}: tuned", tally) for rule, tally in one.beside.items()),
        _row(f"{OURS}, as practised", one.practised),
    ]


def curve_rows(one: RuleReplay) -> list[tuple[str, ...]]:
    """Give the rows of all points of the curves, the rules of thumb at whole degrees."""
    thumbs = (
        _row(_thumb_at(rule, tally.at), tally)
        for rule, tallies in one.thumbs.items()
        for tally in _whole(tallies)
    )
    return [*(_row(_ours_at(tally.at), tally) for tally in one.ours), *thumbs]


def _whole(tallies: Iterable[RuleTally]) -> Iterable[RuleTally]:
    return (tally for tally in tallies if tally.at % _SHOWN_MARGINS == 0)


def _row(name: str, rule: RuleTally) -> tuple[str, ...]:
    return (
        name,
        f"{rule.wait:.2f}",
        f"{rule.lost:.2f}",
        f"{rule.least:.2f} to {rule.most:.2f}",
        f"{rule.frosted:.1f}",
        f"{rule.over_sunday:.2f}",
        f"{rule.forced:.2f}",
        f"{rule.moves:.1f}",
        f"{rule.moved:.1f}",
        f"{rule.moved_twice:.1f}",
    )


def share(one: RuleReplay) -> str:
    """Say how the planner's rule does beside the best rule of thumb that waits as long."""
    rule, best = min(one.beside.items(), key=lambda each: each[1].lost)
    ratio = f"{one.share:.2f} of it" if one.share < float("inf") else "more"
    return (
        f"Waiting {one.practised.wait:.2f} days, the best rule of thumb ({thumb_name(rule)}, tuned) loses {best.lost:.2f} plants "
        f"in 100; the planner loses {one.practised.lost:.2f}, {ratio}."
    )


def description(one: RuleReplay) -> str:
    """Say in a sentence what a chart shows."""
    return f"Plants lost in 100 against the mean wait. {share(one)}"


def notes() -> tuple[str, ...]:
    """Say how to read the figures."""
    return (
        "All but the wait: in 100 parcels of one dahlia. Plants lost are the planner's own chances of loss in the weather",
        "that came, over the post's odds. Forced: could wait no longer than 28 days. The moves are those of announced days.",
        "The nights are real, the forecasts made up with published skill; every rule decides on the evening before.",
    )
