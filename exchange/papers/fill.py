"""Filling the papers from what is known of a parcel; the print pages are filled the same way."""

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from exchange.domain.arriving.arrival import ArrivalWindow
from exchange.domain.arriving.care import Receiving, care_steps, from_day, nights_ahead
from exchange.domain.arriving.cautions import cautions
from exchange.domain.arriving.nights import NightPlacement
from exchange.domain.arriving.step import CareStep
from exchange.domain.posting.parcel import Line
from exchange.domain.weather.forecast import WeatherSource
from exchange.papers.paper import (
    CareSheet,
    PackingList,
    PotLabel,
    SheetNight,
    SheetStep,
    Slip,
    SlipLine,
)
from exchange.words.growing import plants
from exchange.words.growing.together import together
from exchange.words.kernel import cautions as caution_words
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import as_sentence, listed
from exchange.words.posting import care
from exchange.words.posting import papers as words
from exchange.words.posting.posting_days import wait_rule
from exchange.words.weather import weather

NIGHTS_ON_SHEET = 8
"""Nights in the table of a care sheet, so that it stays one page [nights]."""


@dataclass(frozen=True, slots=True)
class InBox:
    """One line of a parcel with the name its label bears."""

    line: Line
    variety_name: str


@dataclass(frozen=True, slots=True)
class ParcelFacts:
    """What papers need of a parcel and its two ends.

    Attributes
    ----------
    expected : the days on which it should come; the posting day for what has none yet
    wait_limit_c : cold at which it should wait at either end, or None where none applies [degrees C]
    weather_source : where the choice of the day comes from
    issued_at : when the forecast was issued, in the sender's zone
    against_advice : who posts it against the plan's advice and when, as it is printed
    address, return_address : lines; empty where they may not stand on paper
    """

    circle: str
    code: str
    sender_first_name: str
    receiver_first_name: str
    contents: tuple[InBox, ...]
    going: words.Going
    expected: ArrivalWindow
    weather_source: WeatherSource
    wait_limit_c: float | None = None
    issued_at: datetime | None = None
    against_advice: str = ""
    address: tuple[str, ...] = ()
    return_address: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines alone."""
        return tuple(each.line for each in self.contents)

    @property
    def in_box(self) -> tuple[InBox, ...]:
        """Give what is in the parcel, one line for each kind of plant."""
        names = {each.line.variety_id: each.variety_name for each in self.contents}
        return tuple(InBox(line, names[line.variety_id]) for line in together(self.lines))


@dataclass(frozen=True, slots=True)
class ReceivingPlace:
    """The place that receives, as the care sheet needs it.

    Attributes
    ----------
    issued_at : when the forecast was issued, in the zone of the place
    today : nothing is dated before it
    """

    receiving: Receiving
    town: str
    country: str
    subdivision: str = ""
    issued_at: datetime | None = None
    today: date = date.min


def slip_of(facts: ParcelFacts) -> Slip:
    """Give the packing slip of a parcel."""
    kinds = [(line.species, line.material) for line in facts.lines]
    return Slip(
        circle=facts.circle,
        code=facts.code,
        title=words.slip_title(facts.receiver_first_name, facts.sender_first_name),
        when=words.slip_when(facts.going),
        lines=_slip_lines(facts),
        packing=tuple(PackingList(each.heading, each.points) for each in words.packing(kinds)),
        weather=_weather(facts),
        address=() if facts.going.by_hand else facts.address,
        return_address=() if facts.going.by_hand else facts.return_address,
    )


def care_sheet_of(facts: ParcelFacts, place: ReceivingPlace) -> CareSheet:
    """Give the care sheet of a parcel."""
    at = place.receiving
    steps = from_day(care_steps(facts.lines, facts.expected, at), place.today)
    nights = nights_ahead(facts.lines, facts.expected, at)[:NIGHTS_ON_SHEET]
    found = cautions(facts.lines, place.country, place.subdivision)
    return CareSheet(
        circle=facts.circle,
        code=facts.code,
        title=f"Open at once, {facts.receiver_first_name}",
        lead=_lead(facts),
        steps=sheet_steps(steps),
        nights_title=f"The nights at {place.town}",
        nights_note=_nights_note(place, nights, facts.expected.first),
        nights=tuple(_night(night) for night in nights),
        cautions=tuple(caution_words.caution(each) for each in found),
    )


def card_of(facts: ParcelFacts, place: ReceivingPlace) -> tuple[str, ...]:
    """Give four lines to copy on a card."""
    steps = from_day(care_steps(facts.lines, facts.expected, place.receiving), place.today)
    return words.card(facts.code, _contents(facts), steps)


def labels_of(facts: ParcelFacts, spare_labels: int = 0) -> tuple[PotLabel, ...]:
    """Give a label for each plant of a parcel, and a number of spare ones for each variety."""
    marks = words.label_marks(facts.code, [each.variety_name for each in facts.in_box])
    detail = f"from {facts.sender_first_name}, {dates.month_and_year(facts.expected.first)}"
    return tuple(
        PotLabel(plants.variety(each.line.species, each.variety_name), mark, detail)
        for each, mark in zip(facts.in_box, marks, strict=True)
        for _number in range(each.line.count + spare_labels)
    )


def sheet_steps(steps: tuple[CareStep, ...]) -> tuple[SheetStep, ...]:
    """Write each step once, and say for which plants where it is not for all of them."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    for step in steps:
        row = (care.when(step), care.title(step), care.text(step))
        for_whom = care.whom(step.group, step.raised) if step.group else ""
        rows.setdefault(row, []).append(for_whom)
    everyone = {name for names in rows.values() for name in names if name}
    return tuple(
        SheetStep(when, title, text, "" if everyone == set(names) or "" in names else listed(names))
        for (when, title, text), names in rows.items()
    )


def _slip_lines(facts: ParcelFacts) -> tuple[SlipLine, ...]:
    marks = words.label_marks(facts.code, [each.variety_name for each in facts.in_box])
    return tuple(
        SlipLine(
            count=each.line.count,
            variety=plants.variety(each.line.species, each.variety_name),
            sent_as=plants.sent_as(each.line.material, each.line.raised, each.line.count),
            label=mark,
        )
        for each, mark in zip(facts.in_box, marks, strict=True)
    )


def _weather(facts: ParcelFacts) -> tuple[str, ...]:
    if facts.against_advice:
        return (facts.against_advice, words.weather_source(facts.weather_source, facts.issued_at))
    return (
        wait_rule(facts.wait_limit_c, by_hand=facts.going.by_hand),
        words.weather_source(facts.weather_source, facts.issued_at),
        words.LOOK_AGAIN,
    )


def _contents(facts: ParcelFacts) -> tuple[str, ...]:
    return tuple(
        plants.some(each.line.count, each.line.material, each.line.species, each.variety_name)
        for each in facts.in_box
    )


def _lead(facts: ParcelFacts) -> str:
    what = as_sentence(listed(_contents(facts)))
    if facts.going.posting_day is None:
        return f"{what} {words.no_day_yet(facts.expected.first)}"
    return what


def _nights_note(place: ReceivingPlace, nights: tuple[NightPlacement, ...], arrival: date) -> str:
    outlook = place.receiving.outlook
    named = {arrival + timedelta(days=number) for number in range(NIGHTS_ON_SHEET)}
    doubtful = outlook.doubts(named | {night.day for night in nights})
    source = outlook.source
    if source in {WeatherSource.FORECAST, WeatherSource.BOTH} and not nights:
        sentences = ["No forecast reaches as far as these nights yet; look again before they come."]
    else:
        shown = WeatherSource.FORECAST if nights else source
        sentences = [words.weather_source(shown, place.issued_at if nights else None)]
    if outlook.attribution and nights:
        sentences.append(as_sentence(outlook.attribution))
    sentences += [as_sentence(note) for note in outlook.notes]
    return " ".join([*sentences, *weather.doubts([("", doubtful)])])


def _night(night: NightPlacement) -> SheetNight:
    return SheetNight(
        night=dates.day(night.day),
        low=dates.degrees(night.low_c, 0.5),
        frost=in_hundred(night.frost_chance),
        stand=as_sentence(plants.in_shelter(night.stand)).rstrip("."),
        cold=night.too_cold,
    )


def without_addresses(paper: Slip) -> Slip:
    """Give the slip for somebody who may not see the addresses."""
    return replace(paper, address=(), return_address=())
