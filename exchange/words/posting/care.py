"""The steps and nights of care, as sentences."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TypeVar

from exchange.domain.arriving.course import ROOTING_WARMTH_C
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    CareGroup,
    CareStep,
    ColdNights,
    InsertWithin,
    NoCover,
    OnlyFor,
    PlantsSafeFrom,
    RaisedInHeat,
    SafeDateUnknown,
    StandIn,
    StepKind,
    ThenIn,
    UsuallyCold,
)
from exchange.domain.growing.batch import Raised
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import listed

R = TypeVar("R")

_TITLES = {
    StepKind.OPEN: "Open at once.",
    StepKind.CHECK: "Count, read the labels, say how they came.",
    StepKind.INSERT: "Recut and insert the same day.",
    StepKind.POT_UP: "Pot up, one to a 9 cm pot.",
    StepKind.SHADE: "Keep out of the sun.",
    StepKind.COLD_NIGHT: "Cold night.",
    StepKind.KEEP_COOL: "Keep cool, dry and free of frost.",
    StepKind.POT_ROOTED: "Pot up when rooted.",
    StepKind.START: "Pot and start into growth.",
    StepKind.APART: "Keep apart from your own.",
    StepKind.HARDEN: "Harden off.",
    StepKind.PLANT_OUT: "Plant out.",
    StepKind.UNDER_GLASS: "Keep under glass.",
    StepKind.TRUE_TO_NAME: "True to name?",
}
_GROUPS = {
    CareGroup.UNROOTED: "unrooted cuttings",
    CareGroup.GREEN: "rooted plants",
    CareGroup.STOOL: "stools",
    CareGroup.RESTING: "tubers and roots",
    CareGroup.SEED: "seed",
}
_ON_THE_DAY = frozenset({StepKind.OPEN, StepKind.INSERT, StepKind.POT_UP})
_UNTIL = frozenset({StepKind.SHADE, StepKind.FIRST_NIGHTS, StepKind.APART})


def when(step: CareStep) -> str:
    """Say when to take the step: "the day they come", "to Fri 30 April", "from Wed 5 May"."""
    if _reason(step, SafeDateUnknown):
        return "after the last frost"
    if step.kind is StepKind.COLD_NIGHT:
        cold = _reason(step, ColdNights)
        return dates.days(cold.nights if cold else (step.first,))
    if step.kind is StepKind.TRUE_TO_NAME:
        return dates.month(step.first)
    if step.kind in _ON_THE_DAY:
        alone = step.last is None or step.last == step.first
        return dates.day(step.first) if alone else "the day they come"
    if step.kind is StepKind.CHECK and step.last is not None:
        return f"by {dates.day(step.last)}"
    safe = _reason(step, PlantsSafeFrom)
    if safe and safe.day == step.first:
        return f"from about {dates.day(step.first)}"
    if step.kind in _UNTIL and step.last is not None:
        return f"to {dates.day(step.last)}"
    return f"from {dates.day(step.first)}"


def title(step: CareStep) -> str:
    """Say the step in a few words, with its full stop."""
    if step.kind is StepKind.POT_UP and step.group is CareGroup.STOOL:
        return "Pot up each stool."
    stand = _reason(step, StandIn)
    if step.kind is StepKind.FIRST_NIGHTS and stand:
        return f"By night {plants.in_shelter(stand.shelter)}."
    if step.kind is StepKind.COLD_NIGHT and stand:
        return f"Stand them {plants.in_shelter(stand.shelter)}."
    if step.kind is StepKind.KEEP_COOL and step.group is CareGroup.SEED:
        return "Keep the seed cool and dry until you sow."
    only = _reason(step, OnlyFor)
    if only:
        kinds = listed(sorted(plants.kinds(kind) for kind in only.kinds))
        return f"{_TITLES[step.kind].rstrip('.')} the {kinds}."
    return _TITLES[step.kind]


def text(step: CareStep) -> str:
    """Say what there is to know about the step beyond its title; may be empty."""
    return _TEXTS[step.kind](step)


def _open(_step: CareStep) -> str:
    return "Nip off any leaf that has gone black."


def _check(_step: CareStep) -> str:
    return "On the parcel’s page, or to the organiser."


def _insert(step: CareStep) -> str:
    within = _reason(step, InsertWithin)
    sentences = ["Cut below a joint with a clean blade, away from your hand, on a board."]
    if within:
        sentences.append(
            f"Best within {within.hours} hours of opening, in gritty, just-damp compost."
        )
    return " ".join(sentences)


def _pot_up(step: CareStep) -> str:
    if step.group is CareGroup.STOOL:
        return "Just-damp compost, the crown level with the top; light and cool."
    return (
        "Just-damp compost, watered in; then almost dry for a few days, no feed for three weeks. "
        "If it must wait: upright and moist, five days at most."
    )


def _shade(step: CareStep) -> str:
    if step.group is not CareGroup.UNROOTED:
        return "They come out of the dark: bright, not in the sun, not outdoors."
    uncovered = _reason(step, NoCover)
    form = "Warm, {low} to {high}, under a cover, until rooted."
    if uncovered and uncovered.all_of_them:
        form = "Warm, {low} to {high}, without a cover: they rot under one."
    elif uncovered:
        form = "Warm, {low} to {high}, under a cover, but pelargoniums without: they rot."
    low, high = ROOTING_WARMTH_C
    return form.format(low=low, high=dates.degrees(high))


def _first_nights(step: CareStep) -> str:
    sentences = []
    if _reason(step, RaisedInHeat):
        sentences.append("Raised in heat: one cold night can kill them.")
    then = _reason(step, ThenIn)
    if then:
        sentences.append(f"After that {plants.in_shelter(then.shelter)}.")
    usual = _reason(step, UsuallyCold)
    if usual:
        sentences.append(
            f"After that {plants.in_shelter(usual.shelter)} on mild nights only: {_some_nights(usual.share)} are usually too cold there; "
            "that is the usual weather of the place, not a forecast."
        )
    return " ".join(sentences)


def _some_nights(share: float) -> str:
    tenths = round(share * 10)
    if tenths >= 9:
        return "nearly all nights"
    return f"about {max(1, tenths)} nights in 10"


def _cold_night(step: CareStep) -> str:
    cold = _reason(step, ColdNights)
    if not cold:
        return ""
    return f"About {dates.degrees(cold.lowest_c)} expected outside; they should not stand below {dates.degrees(cold.limit_c)}."


def _keep_cool(step: CareStep) -> str:
    if step.group is CareGroup.SEED:
        return "Named, in paper, away from mice."
    return "A cool room, not the refrigerator; not wet. Mist lightly if they look shrivelled."


def _pot_rooted(_step: CareStep) -> str:
    return "When a light tug meets resistance: one to a 9 cm pot, no feed for three weeks."


def _start(_step: CareStep) -> str:
    return "Just-damp compost, the crown showing, light and free of frost; a cool room until then."


def _apart(_step: CareStep) -> str:
    return "Look for galls, mites and mottled leaves; use a fresh blade."


def _harden(_step: CareStep) -> str:
    return "Out by day, in at evening."


def _plant_out(step: CareStep) -> str:
    safe, early = _reason(step, PlantsSafeFrom), _reason(step, BeforeSafeDate)
    if _reason(step, SafeDateUnknown):
        return (
            "We do not know your last frosts: ask a gardener near you. Before that, harden off: "
            "out by day, in at evening."
        )
    if early:
        return f"Cover any shoot that shows until {dates.day(early.day)}."
    if safe and safe.cover_until and safe.cover_until > step.first:
        return f"By the station, a fortnight either way; keep fleece at hand until about {dates.day(safe.cover_until)}."
    if safe:
        return "Frost is unlikely with you from then on; look at the forecast all the same."
    return ""


def _under_glass(_step: CareStep) -> str:
    return "Nights here are seldom warm enough for long: they keep better under glass."


def _true_to_name(_step: CareStep) -> str:
    return "Say what flowered."


_TEXTS: Mapping[StepKind, Callable[[CareStep], str]] = MappingProxyType(
    {
        StepKind.OPEN: _open,
        StepKind.CHECK: _check,
        StepKind.INSERT: _insert,
        StepKind.POT_UP: _pot_up,
        StepKind.SHADE: _shade,
        StepKind.FIRST_NIGHTS: _first_nights,
        StepKind.COLD_NIGHT: _cold_night,
        StepKind.KEEP_COOL: _keep_cool,
        StepKind.POT_ROOTED: _pot_rooted,
        StepKind.START: _start,
        StepKind.APART: _apart,
        StepKind.HARDEN: _harden,
        StepKind.PLANT_OUT: _plant_out,
        StepKind.UNDER_GLASS: _under_glass,
        StepKind.TRUE_TO_NAME: _true_to_name,
    }
)


def whom(group: CareGroup, raised: Raised | None = None) -> str:
    """Say which plants of a mixed parcel a step is for: "rooted plants raised in heat"."""
    name = _GROUPS[group]
    return name if raised is None else f"{name} {plants.raised(raised)}"


def _reason(step: CareStep, kind: type[R]) -> R | None:
    return next((reason for reason in step.reasons if isinstance(reason, kind)), None)
