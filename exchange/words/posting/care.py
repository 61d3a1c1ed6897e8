"""The steps and nights of care, as sentences."""

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import TypeVar

from exchange.domain.arriving.course import ROOTING_WARMTH_C
from exchange.domain.arriving.step import (
    BeforeSafeDate,
    CareGroup,
    CareStep,
    ColdNights,
    Holds,
    HollowUp,
    InsertWithin,
    InWarmth,
    NextYear,
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
from exchange.domain.growing.variety import Species
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
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
    StepKind.CUTTINGS: "Take cuttings at 7 to 10 cm, if you like.",
    StepKind.WINTER: "Overwinter.",
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
_UNTIL = frozenset({StepKind.SHADE, StepKind.FIRST_NIGHTS, StepKind.KEEP_COOL, StepKind.APART})
_ABOUT = frozenset({StepKind.CUTTINGS, StepKind.WINTER})


def when(step: CareStep) -> str:
    """Say when to take the step: "the day they come", "to Fri 30 April", "from Wed 5 May"."""
    if _reason(step, SafeDateUnknown):
        return "after the last frost"
    if step.kind is StepKind.COLD_NIGHT:
        cold = _reason(step, ColdNights)
        return dates.days(cold.nights if cold else (step.first,))
    if step.kind is StepKind.TRUE_TO_NAME:
        return dates.month_and_year(step.first) if _next_year(step) else dates.month(step.first)
    if step.kind in _ON_THE_DAY:
        alone = step.last is None or step.last == step.first
        return dates.day(step.first) if alone else "the day they come"
    if step.kind is StepKind.CHECK and step.last is not None:
        return f"by {dates.day(step.last)}"
    if step.kind in _UNTIL and step.last is not None:
        return f"to {_day(step, step.last)}"
    safe = _reason(step, PlantsSafeFrom)
    if step.kind in _ABOUT or (safe and safe.day == step.first):
        return f"from about {_day(step, step.first)}"
    return f"from {_day(step, step.first)}"


def _day(step: CareStep, value: date) -> str:
    """Give a day of the step, with its year where that is the year after they come."""
    latest = (step.last or step.first).year
    return (
        dates.day_and_year(value) if _next_year(step) and value.year == latest else dates.day(value)
    )


def _next_year(step: CareStep) -> bool:
    return _reason(step, NextYear) is not None


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
    if step.kind is StepKind.WINTER and only == OnlyFor(frozenset({Species.OTHER})):
        return "Overwinter them."
    if only:
        kinds = listed(sorted(plants.kinds(kind) for kind in only.kinds))
        return f"{_TITLES[step.kind].rstrip('.')} the {kinds}."
    return _TITLES[step.kind]


def text(step: CareStep) -> str:
    """Say what there is to know about the step beyond its title; may be empty."""
    return _TEXTS[step.kind](step)


def _open(step: CareStep) -> str:
    return _for_each(step, _ON_OPENING)


def _for_each(step: CareStep, sentences: Mapping[CareGroup, str]) -> str:
    """Give the sentence of each kind of thing in the parcel, once."""
    holds = _reason(step, Holds)
    groups = holds.groups if holds else frozenset(CareGroup)
    told = (sentences[one] for one in CareGroup if one in groups and one in sentences)
    return " ".join(dict.fromkeys(told))


_LEAVES = "Nip off any leaf that has gone black."
_ON_OPENING = {
    CareGroup.UNROOTED: _LEAVES,
    CareGroup.GREEN: _LEAVES,
    CareGroup.STOOL: "Stools: firm roots and pale shoots at the base are good; cut away what is soft.",
    CareGroup.RESTING: "Tubers should be firm: cut away soft rot. An eye or bud at the crown will grow.",
    CareGroup.SEED: "Keep seed dry.",
}
_LOOK_FOR = {
    CareGroup.UNROOTED: "Look for galls, mites and mottled leaves.",
    CareGroup.GREEN: "Look for galls, mites and mottled leaves.",
    CareGroup.STOOL: "Look for galls, mites and mottled shoots.",
    CareGroup.RESTING: "Look for galls at the crown, and at the first leaves for mottling.",
}


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
        return "Just-damp compost, the crown level with the top; light, cool and airy."
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
            f"After that {plants.in_shelter(usual.shelter)}, and in on cold nights: {in_hundred(usual.share)} nights "
            "by the usual weather of the place, not a forecast."
        )
    return " ".join(sentences)


def _cold_night(step: CareStep) -> str:
    cold = _reason(step, ColdNights)
    if not cold:
        return ""
    return f"About {dates.degrees(cold.lowest_c)} expected outside; they should not stand below {dates.degrees(cold.limit_c)}."


def _keep_cool(step: CareStep) -> str:
    if step.group is CareGroup.SEED:
        return "Named, in paper, away from mice."
    return "Dark, 4 to 8 °C, never frozen, never wet. Mist lightly if they shrivel."


def _pot_rooted(_step: CareStep) -> str:
    return "When a light tug meets resistance: one to a 9 cm pot, no feed for three weeks."


def _start(step: CareStep) -> str:
    hollow = _reason(step, HollowUp)
    crown = "the crown showing"
    if hollow:
        crown = "hollow side up, hardly covered"
        crown = crown if hollow.all_of_them else f"the crown showing; begonias {crown}"
    sentence = f"Just-damp compost, {crown}; light."
    if _reason(step, InWarmth):
        return f"{sentence} At 16 °C or more shoots come in three to five weeks."
    return f"{sentence} Free of frost; without warmth shoots take six weeks or more."


def _cuttings(step: CareStep) -> str:
    until = f"To {dates.day(step.last)}." if step.last else ""
    if step.group is CareGroup.STOOL:
        return f"Shoots from below ground, not from the old stalk. {until}".strip()
    return f"Above the lowest joint, so that more shoots follow; hollow ones do not root. {until}".strip()


def _winter(step: CareStep) -> str:
    only = _reason(step, OnlyFor)
    kinds = only.kinds if only else frozenset({Species.OTHER})
    return " ".join(dict.fromkeys(_WINTERS[kind] for kind in sorted(kinds)))


_WARM_WINTER = "In good light at 12 °C or more, hardly watered."
_WINTERS = {
    Species.DAHLIA: "Growing until the leaves die down; then dry off, and store in the pot at 4 to 8 °C.",
    Species.PELARGONIUM: "Light and cool, 5 to 7 °C if you can, nearly dry; pick off dead leaves.",
    Species.FUCHSIA: "Light and free of frost, just damp; cut back in early spring.",
    Species.CHRYSANTHEMUM: "In a cold house or frame, light and just damp.",
    Species.SALVIA: "Light and free of frost, barely damp.",
    Species.COLEUS: _WARM_WINTER,
    Species.BEGONIA: _WARM_WINTER,
    Species.FOLIAGE_BEGONIA: _WARM_WINTER,
    Species.TUBEROUS_BEGONIA: "Let the leaves yellow, then keep the tuber dry at 5 to 10 °C.",
    Species.OTHER: "Light and free of frost, hardly watered.",
}


def _apart(step: CareStep) -> str:
    holds = _reason(step, Holds)
    # What is in growth decides: its sentence fits what is at rest beside it.
    first = next(one for one in _LOOK_FOR if not holds or one in holds.groups)
    return (
        f"On another bench, later at the end of the bed. {_LOOK_FOR[first]} A fresh blade for each."
    )


def _harden(_step: CareStep) -> str:
    return "Out by day, in at evening."


def _plant_out(step: CareStep) -> str:
    safe, early = _reason(step, PlantsSafeFrom), _reason(step, BeforeSafeDate)
    if _reason(step, SafeDateUnknown):
        return (
            "We do not know your last frosts: ask a gardener near you. Before that, harden off: "
            "out by day, in at evening."
        )
    if step.group is CareGroup.RESTING and step.last is not None:
        cover = f" Cover any shoot that shows until about {dates.day(early.day)}." if early else ""
        return f"10 cm deep, the name beside each; cool and dry until then.{cover}"
    return " ".join(_safely(step, safe)) if safe else ""


def _safely(step: CareStep, safe: PlantsSafeFrom) -> Iterator[str]:
    if safe.stands_frost:
        yield "Hardened, they stand a touch of frost."
    if safe.nights_c is not None:
        yield f"Nights are usually above {dates.degrees(safe.nights_c)} from then on; bring them in on colder ones."
    elif safe.cover_until and safe.cover_until > step.first:
        cover = dates.day(safe.cover_until)
        yield f"By the station, a fortnight either way; keep fleece at hand until about {cover}."
    else:
        yield "Frost is unlikely with you from then on; look at the forecast all the same."


def _under_glass(_step: CareStep) -> str:
    return "Nights here are not warm enough for long enough: they keep better under glass."


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
        StepKind.CUTTINGS: _cuttings,
        StepKind.WINTER: _winter,
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
