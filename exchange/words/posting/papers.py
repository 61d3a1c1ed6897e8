"""What the papers say: packing by material, the weather rule, marks for labels, lines for a card."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

from exchange.domain.arriving.step import CareStep, StepKind
from exchange.domain.growing.batch import RESTING, Material
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence, listed
from exchange.words.posting import care


@dataclass(frozen=True, slots=True)
class PackingAdvice:
    """What to see to for one kind of material; the heading is empty for all of them."""

    heading: str
    points: tuple[str, ...]


def packing(kinds: Iterable[tuple[Species, Material]]) -> tuple[PackingAdvice, ...]:
    """Give what to see to before closing the box, by what is in it."""
    there = set(kinds)
    materials = {material for _species, material in there}
    found = []
    if Material.UNROOTED in materials:
        found.append(PackingAdvice("Unrooted cuttings", _unrooted_points(there)))
    if materials & {Material.ROOTED, Material.YOUNG_PLANT, Material.STOOL}:
        found.append(PackingAdvice("Rooted plants", _rooted_points()))
    if materials & (RESTING - {Material.STOOL}):
        found.append(PackingAdvice("Tubers and roots", _resting_points()))
    if Material.SEED in materials:
        found.append(PackingAdvice("Seed", ("Dry, in paper, “seedling of …” on the packet",)))
    together = (
        "One label to each plant or bundle, with the mark from this slip",
        "Nothing moves when the box is turned over; no fruit in it",
        "Care sheet on top",
    )
    heading = "All of it" if len(found) > 1 else ""
    return (*found, PackingAdvice(heading, together))


def _unrooted_points(there: set[tuple[Species, Material]]) -> tuple[str, ...]:
    points = [
        "Plant watered the evening before, cuttings taken in the morning",
        "Lower end cut on the slant, upper end straight",
    ]
    species = {kind for kind, material in there if material is Material.UNROOTED}
    if species - {Species.PELARGONIUM}:
        points.append("Rolled in just-damp paper, the bag left open")
    if Species.PELARGONIUM in species:
        points.append("Pelargoniums in dry paper only: they rot in damp")
    points.append("Rooting powder on them? Say so on the label")
    return tuple(points)


def _rooted_points() -> tuple[str, ...]:
    return (
        "Watered the evening before and drained",
        "Root balls held so that none can slip onto the tops",
        "Leaves dry and clear of the lid",
    )


def _resting_points() -> tuple[str, ...]:
    return (
        "Eye or crown bud seen on each piece",
        "Name written on the tuber itself and on the bag",
        "Dry, in paper or in a bag with holes; never a damp wrap",
    )


def slip_title(receiver_first_name: str, sender_first_name: str) -> str:
    """Give "For Colin, from Maud"."""
    return f"For {receiver_first_name}, from {sender_first_name}"


@dataclass(frozen=True, slots=True)
class Going:
    """How and when a parcel goes.

    Attributes
    ----------
    cut_off : latest time of day for handing it over, or None
    packed_in : "a shoe box with crumpled newspaper", or empty where any box will do
    """

    way: str
    by_hand: bool
    posting_day: date | None
    cut_off: time | None = None
    packed_in: str = ""


def slip_when(going: Going) -> str:
    """Give "Post on Tue 27 April by 4 pm. First class. Pack it in a foam box."."""
    if going.posting_day is None:
        wait = "No posting day yet: wait until you hear."
        return f"{wait} {as_sentence(going.way)}" if going.way else wait
    form = "Hand over on {day}. {way}." if going.by_hand else "Post on {day}. {way}."
    if going.cut_off is not None and not going.by_hand:
        form = "Post on {day} by {hour}. {way}."
    said = form.format(
        day=dates.day(going.posting_day),
        hour=dates.hour(going.cut_off) if going.cut_off is not None else "",
        way=going.way.rstrip("."),
    )
    if not going.packed_in:
        return said
    return f"{said} Pack it in {going.packed_in}."


def no_day_yet(as_if: date) -> str:
    """Say that a care sheet's days are not yet those of the parcel."""
    return f"No posting day yet: the days below are reckoned as if it came on {dates.day(as_if)}."


def weather_source(source: WeatherSource, issued_at: datetime | None = None) -> str:
    """
    Say where the figures come from; climate is never passed off as a forecast.

    Parameters
    ----------
    issued_at : when the forecast was issued, in the reader's zone
    """
    issued = f" issued {dates.moment(issued_at)}" if issued_at else ""
    return {
        WeatherSource.FORECAST: "By the forecast{issued}.",
        WeatherSource.BOTH: "By the forecast{issued}; beyond it, from the usual weather of the place.",
        WeatherSource.CLIMATE: "From the usual weather of the place, not from a forecast.",
        WeatherSource.NONE: "Neither a forecast nor the usual weather of the place is known.",
    }[source].format(issued=issued)


LOOK_AGAIN = "Look once more before you set out."


def label_marks(code: str, names: Sequence[str]) -> tuple[str, ...]:
    """Give each variety of a parcel its own short mark, such as "CL 27" from Bramble 27."""
    number = "".join(sign for sign in code if sign.isdigit())
    marks: list[str] = []
    for name in names:
        mark = f"{_initials(name)} {number}".strip()
        turn = 2
        while mark in marks:
            mark = f"{_initials(name)}{turn} {number}".strip()
            turn += 1
        marks.append(mark)
    return tuple(marks)


def _initials(name: str) -> str:
    words = [word for word in name.split() if word[0].isalnum()]
    if len(words) == 1:
        return words[0][:2].upper()
    return "".join(word[0] for word in words[:3]).upper() or "X"


def card(code: str, contents: Sequence[str], steps: Sequence[CareStep]) -> tuple[str, ...]:
    """Give four lines to copy by hand on a card, for those without a printer."""
    by_kind = {step.kind: step for step in reversed(steps)}
    first = [by_kind[kind] for kind in _FIRST_ON_CARD if kind in by_kind]
    later = [by_kind[kind] for kind in _LATER_ON_CARD if kind in by_kind]
    return (
        f"LIVE PLANTS, open at once. {code}",
        f"{listed(contents)}.",
        " ".join(_card_step(step) for step in first),
        " ".join(_card_step(step) for step in later),
    )


_FIRST_ON_CARD = (StepKind.INSERT, StepKind.POT_UP, StepKind.FIRST_NIGHTS, StepKind.KEEP_COOL)
_LATER_ON_CARD = (StepKind.START, StepKind.HARDEN, StepKind.PLANT_OUT, StepKind.UNDER_GLASS)


def _card_step(step: CareStep) -> str:
    if step.kind in {StepKind.INSERT, StepKind.POT_UP, StepKind.KEEP_COOL}:
        return care.title(step)
    return "{title} {when}.".format(title=care.title(step).rstrip(".") + ":", when=care.when(step))
