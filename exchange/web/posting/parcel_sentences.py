"""What the templates of parcels say of a page: sentences of exchange.words filled from it."""

from datetime import time

from markupsafe import Markup

from exchange.actions.posting.in_parcel import InParcel
from exchange.actions.posting.other_day import Change
from exchange.actions.posting.page_parcel import ParcelPage, Side
from exchange.actions.posting.page_parcels import ParcelLine, ParcelsPage, WeatherBehind
from exchange.actions.posting.post_anyway import OfferedDay, offered_day
from exchange.domain.arriving.arrival import ArrivalWindow, JourneyState
from exchange.domain.posting.parcel import ParcelState
from exchange.domain.posting.reasons import DayNote
from exchange.domain.posting.strip import StripDay
from exchange.domain.posting.transit import expected_days
from exchange.domain.weather.forecast import WeatherSource
from exchange.web.frame.filters import plant
from exchange.web.posting.posting_strip import about_shut_days
from exchange.web.weather.credit import credit
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.dates import span
from exchange.words.kernel.phrase import NBSP
from exchange.words.posting import anyway as anyway_words
from exchange.words.posting import ended as ended_words
from exchange.words.posting import parcels as words
from exchange.words.posting import postage as postage_words
from exchange.words.posting import posting_days as posting_words
from exchange.words.posting import somebody_else as else_words
from exchange.words.posting.anyway import take_offered, warned
from exchange.words.posting.parcels import stands
from exchange.words.posting.posting_days import asked, moved, packing, wait_rule, weather_source
from exchange.words.weather import weather

__all__ = [
    "about_shut_days",
    "asked",
    "moved",
    "packing",
    "span",
    "stands",
    "take_offered",
    "wait_rule",
    "warned",
    "weather_source",
]

_SOURCES = {
    WeatherSource.FORECAST: "forecast",
    WeatherSource.CLIMATE: "climate",
    WeatherSource.BOTH: "both",
    WeatherSource.NONE: "not known",
}


def source(value: WeatherSource) -> str:
    """Give in a word where the weather comes from."""
    return _SOURCES[value]


def lead_of_all(page: ParcelsPage) -> str:
    """Count the household's parcels and name the first."""
    to_post = [one for one in page.to_post if one.entry.closed_at is None]
    to_post = [one for one in to_post if one.entry.posted_on is None]
    to_come = [one for one in page.to_come if one.entry.closed_at is None]
    first = to_post[0].entry if to_post else None
    return words.lead_of_all(
        len(to_post),
        first.code if first else "",
        posting_words.goes_on(first.posting_day, announced=first.is_announced)
        if first and first.posting_day
        else "",
        len(to_come),
    )


def day_of(line: ParcelLine) -> str:
    """Give the day that matters: when it came, went or goes."""
    entry = line.entry
    day = entry.arrived_on or entry.posted_on or entry.posting_day
    if day is None:
        return "no day yet"
    return posting_words.day_or_week(day, announced=entry.is_announced)


def ends(page: ParcelPage) -> str:
    """Say whom it goes to or comes from."""
    if page.side is Side.SENDER:
        return words.to_somebody(page.receiver.names)
    if page.side is Side.RECEIVER:
        return words.from_somebody(page.sender.names)
    return words.between(page.sender.names, page.receiver.names)


def lead(page: ParcelPage) -> str:
    """Give the answer: what to do, when it comes, how sure that is."""
    entry = page.entry
    if page.journey in {JourneyState.ARRIVED, JourneyState.LOST, JourneyState.RETURNED}:
        return words.ended(entry.arrived_on, entry.condition)
    if entry.posted_on is not None:
        late = page.journey is JourneyState.OVERDUE and page.expected is not None
        then = words.overdue(page.expected.last) if late and page.expected else ""
        return f"{words.went(entry.posted_on)} {then or words.comes(page.expected)}"
    if entry.posting_day is None:
        if page.plan is None:
            return "No day yet."
        why = page.entry.reasons[:1]
        return " ".join([posting_words.answer(page.plan), *why])
    if not entry.is_announced:
        first = words.is_meant(entry.posting_day, page.announced_days, by_hand=page.by_hand)
        return f"{first} {words.chance_of_harm(entry.loss_chance)}"
    if page.journey is JourneyState.PROBABLY_POSTED:
        return f"{words.probably_posted(entry.posting_day)} {words.comes(page.expected)}"
    first = words.is_to_go(entry.posting_day, by_hand=page.by_hand)
    if page.side is not Side.RECEIVER:
        cut_off = _cut_off(page)
        first = words.goes(entry.posting_day, page.today, cut_off, by_hand=page.by_hand)
    return f"{first} {words.comes(page.expected)} {words.chance_of_harm(entry.loss_chance, _note(page))}"


def _note(page: ParcelPage) -> DayNote:
    days = page.plan.strip if page.plan else ()
    return next((one.note for one in days if one.chosen), DayNote.NONE)


def _cut_off(page: ParcelPage) -> time | None:
    return words.clock(page.way.cut_off_hour if page.way else None)


def of_its_end(page: ParcelPage) -> tuple[str, ...]:
    """Say that it is late, and what follows from what did not live."""
    entry, receiver = page.entry, page.side is Side.RECEIVER
    late = entry.missed_on is not None and entry.closed_at is None
    said = [ended_words.said_late(entry.missed_on)] if late and entry.missed_on else []
    if page.missing:
        said.append(
            ended_words.missing(page.missing, of_share_out=page.made_good, receiver=receiver)
        )
    return tuple(said)


def who_posts(page: ParcelPage) -> str:
    """Say who posts it for its sender, or is asked to."""
    who = page.who_posts
    if who.poster:
        return else_words.posts(who.poster, page.sender.names, is_reader=who.is_reader)
    return else_words.asked(who.asked, is_reader=who.is_reader)


def may_have_come(page: ParcelPage) -> bool:
    """Say whether "it came" can be asked: it was posted, its day has passed, or it is handed over today."""
    gone = page.entry.state is ParcelState.POSTED
    day = page.entry.posting_day
    return gone or (day is not None and (day < page.today or (page.by_hand and day == page.today)))


def weather_said(page: ParcelPage) -> str:
    """Warn where the answer does not rest on a forecast."""
    if not page.is_open or page.plan is None:
        return ""
    if page.entry.weather_source is WeatherSource.CLIMATE:
        return words.weather_warning(known=True)
    if page.entry.weather_source is WeatherSource.NONE:
        return words.weather_warning(known=False)
    return ""


def against(page: ParcelPage) -> str:
    """Say who chose its day against the plan's advice, and when; nothing where nobody did."""
    said = page.against
    return "" if said is None else anyway_words.chosen_by(said.who, said.at, said.loss)


def offered_day_of(page: ParcelPage) -> OfferedDay | None:
    """Give the day that whoever posts it may take against the plan's advice."""
    return offered_day(page.entry, page.today) if page.may_post and page.is_open else None


def offered(best: OfferedDay) -> str:
    """Offer the best of days that are all over the limit."""
    return anyway_words.offered(best.day, best.loss)


def in_box(one: InParcel) -> Markup:
    """Give "3 rooted cuttings of Dahlia ‘Chapel Lantern’, raised in heat", the name as on its label."""
    line = one.line
    what = f"{line.count}{NBSP}{plants.material(line.material, line.count)} of "
    how = f", {plants.raised(line.raised)}" if line.material in plants.RAISED else ""
    name = plant(one.variety.name, plants.species(line.species))
    return Markup("{}{}{}").format(what, name, how)


def reasons(page: ParcelPage) -> tuple[str, ...]:
    """Give every reason the plan recorded."""
    return tuple(one for one in page.entry.reasons if one)


def notes(page: ParcelPage) -> tuple[str, ...]:
    """Give what must be known of the weather at either end, each with whose end it is."""
    found, doubtful = [], []
    ends = ((page.sender, Side.SENDER), (page.receiver, Side.RECEIVER))
    for (end, side), nights in zip(ends, page.nights_that_matter(), strict=True):
        where = "your garden" if page.side is side else end.label
        found += [
            f"{where.capitalize() if page.side is side else where}: {weather.note_sentence(one)}"
            for one in end.outlook.notes
        ]
        doubtful.append((where, end.outlook.doubts(nights)))
    return (*found, *weather.doubts(doubtful))


def attribution(behind: WeatherBehind) -> Markup:
    return credit(behind.source, behind.attribution)


def attribution_of(page: ParcelPage) -> Markup:
    """Give the credit the service behind the strip asks for."""
    for end in (page.sender, page.receiver):
        if end.outlook.attribution:
            return credit("", end.outlook.attribution)
    return Markup("")


def journey_facts(page: ParcelPage) -> list[tuple[str, str]]:
    """Give the journey as pairs of word and what."""
    entry = page.entry
    by_whom = page.way.name if page.way else "not chosen yet"
    pairs = [("Way", by_whom)]
    if entry.posted_on or entry.posting_day:
        pairs.append(("Posted" if entry.posted_on else "Goes", _goes(page)))
    if page.expected is not None and (entry.is_announced or entry.arrived_on):
        came = entry.arrived_on is not None
        when = span(page.expected.first, page.expected.last)
        pairs.append(("Came" if came else "Should come", when))
    if not page.by_hand and page.may_post and (entry.posted_on or entry.postage is not None):
        country = page.sender.place.country
        said = postage_words.said(entry.postage, country, repaid=entry.postage_repaid)
        pairs.append(("Postage", said))
    you = "you"
    pairs.append(("From", you if page.side is Side.SENDER else page.sender.label))
    pairs.append(("To", you if page.side is Side.RECEIVER else page.receiver.label))
    return pairs


def _goes(page: ParcelPage) -> str:
    entry = page.entry
    day = entry.posted_on or entry.posting_day
    return posting_words.day_or_week(day, announced=entry.is_announced) if day else ""


def return_address(page: ParcelPage) -> str:
    return words.return_address(page.return_address_allowed, own=page.side is Side.SENDER)


def change_rows(page: ParcelPage, change: Change) -> list[list[str]]:
    """Lay the day that stands and the day it would go side by side."""
    before, after = change.before, change.after

    def row(what: str, figure: str, now: str) -> list[str]:
        return [what, now, figure]

    ways = {one.id: one.name for one in page.ways}
    return [
        row("Should come", _comes(after), _comes(before) if before else "–"),
        row("Lost of 100", in_hundred(after.loss), in_hundred(before.loss) if before else "–"),
        row(
            "Lies over a Sunday or holiday",
            in_hundred(after.over_rest),
            in_hundred(before.over_rest) if before else "–",
        ),
        row(
            "Way",
            ways.get(after.way_id or 0, "–"),
            ways.get(before.way_id or 0, "–") if before else "–",
        ),
    ]


def _comes(one: StripDay) -> str:
    if not one.coming:
        return "not known"
    window = ArrivalWindow(*expected_days(one.coming))
    return dates.span(window.first, window.last)
