"""The posting strip of one parcel, and what it answers about a day."""

from dataclasses import dataclass
from datetime import date, timedelta

from flask import url_for

from exchange.actions.posting.other_day import MAY_GO, speaks_against
from exchange.actions.posting.page_parcel import ParcelEnd, ParcelPage, Side
from exchange.domain.plan import ParcelPlan
from exchange.domain.posting.reasons import WEATHER_WORDS, WEIGHED_WORDS, DayWord, PostingReason
from exchange.domain.posting.strip import StripDay
from exchange.domain.weather.forecast import Night, WeatherSource
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.chart_waves import TraceDay
from exchange.web.posting.chart_strip import DayState, End, ShownDay, Strip, StripView, draw_strip
from exchange.web.posting.chart_traces import Limits
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.posting import parcels as words
from exchange.words.posting import posting_days as posting_words
from exchange.words.posting.posting_days import wait_mark
from exchange.words.posting.strip_weather import StripNight, StripNights, in_words
from exchange.words.weather.frost import EIGHT_IN_TEN

_OPEN = WEATHER_WORDS | WEIGHED_WORDS


@dataclass(frozen=True, slots=True)
class AskedDay:
    """A day asked about, beside the one that stands.

    Attributes
    ----------
    sentences : why it is, or is not, the day
    rows : (what, the day asked about, the chosen day); the last is empty without a chosen day
    may_move : whether "what moving would change" is worth asking
    may_go_anyway : whether only its loss speaks against it, so that a person may choose it all the same
    """

    day: date
    chosen: StripDay | None
    sentences: tuple[str, ...]
    rows: tuple[tuple[str, str, str], ...]
    may_move: bool
    may_go_anyway: bool


def strip_of(page: ParcelPage, asked: date | None) -> StripView | None:
    """Draw the strip of a parcel; None where none of its days could be weighed."""
    plan = page.plan
    if plan is None or not any(one.word in _OPEN for one in plan.strip):
        return None
    days = [one.day for one in plan.strip]
    said = [_in_words(page, days[first : first + 7]) for first in range(0, len(days), 7)]
    return draw_strip(
        Strip(
            days=tuple(_cell(page, one, asked) for one in plan.strip),
            sender=_end("From", page, Side.SENDER, days),
            receiver=_end("To", page, Side.RECEIVER, days),
            limits=Limits(plan.warn_at_c, page.heat_limit_c),
            weeks=tuple(zip(_weeks(days, page.today), said, strict=True)),
            words=_words(page, plan),
            limit_words=wait_mark(plan.warn_at_c),
            heat_words=f"over {dates.degrees(page.heat_limit_c)} these are hurt"
            if page.heat_limit_c is not None
            else "",
            in_words=_in_words(page, days),
        )
    )


def about_shut_days(view: StripView) -> str:
    """Say what the narrow days of a strip are."""
    shut = any(any(week.shut) for week in view.weeks)
    return words.choose_a_day(has_shut=shut)


def asked_day(page: ParcelPage, asked: date | None) -> AskedDay | None:
    """Answer about a day of the strip; None for a day that is not in it."""
    plan = page.plan
    found = next((one for one in plan.strip if one.day == asked), None) if plan else None
    if plan is None or found is None:
        return None
    chosen = next((one for one in plan.strip if one.day == page.entry.posting_day), None)
    may_take = (
        page.may_post and page.is_open and found is not chosen and found.word in MAY_GO
    ) and bool(found.coming)
    return AskedDay(
        found.day,
        chosen,
        _answer(page, found, chosen),
        _beside(found, chosen if chosen is not found else None),
        may_take,
        may_take and speaks_against(found, page.loss_limit),
    )


def _cell(page: ParcelPage, one: StripDay, asked: date | None) -> ShownDay:
    loss = one.loss if one.word in WEIGHED_WORDS else None
    return ShownDay(
        day=one.day,
        word=words.day_word(one, side=page.side.value),
        chance=words.chance_in_cell(loss),
        chance_spoken=words.chance_spoken(loss),
        more=one.note.value,
        loss=loss,
        state=_state(page, one),
        url=url_for("parcels.show", parcel_id=page.entry.id, day=one.day.isoformat()) + "#why-day",
        is_asked=one.day == asked,
        is_quiet=one.word is DayWord.NO_POST,
    )


def _state(page: ParcelPage, one: StripDay) -> DayState:
    if one.day == page.entry.posting_day:
        return DayState.CHOSEN
    if page.plan and page.plan.moved and page.plan.moved.from_day == one.day:
        return DayState.ANNOUNCED
    if one.word is DayWord.PAST:
        return DayState.GONE
    return DayState.OPEN if one.word in _OPEN else DayState.SHUT


def _at(page: ParcelPage, side: Side) -> ParcelEnd:
    return page.sender if side is Side.SENDER else page.receiver


def _place_name(page: ParcelPage, side: Side) -> str:
    """Name an end by its county; two ends in one county by whose they are."""
    if page.side is side:
        return "your garden"
    end = _at(page, side)
    if page.side is Side.NEITHER and page.sender.place.county == page.receiver.place.county:
        return f"the {side.value}’s garden"
    return end.place.county or end.label


def _in_words(page: ParcelPage, days: list[date]) -> str:
    return in_words(
        *(
            StripNights(
                _place_name(page, side),
                tuple(
                    StripNight(
                        one.day, one.mean_c, is_forecast=one.source is not WeatherSource.CLIMATE
                    )
                    for one in map(_at(page, side).outlook.night, days)
                    if one is not None
                ),
            )
            for side in (Side.SENDER, Side.RECEIVER)
        )
    )


def _end(form: str, page: ParcelPage, side: Side, days: list[date]) -> End:
    traced = [_trace(_at(page, side), day) for day in days]
    known = tuple(one for one in traced if one is not None)
    whole = len(known) == len(days)
    return End(f"{form}: {_place_name(page, side)}", known if whole else ())


def _trace(end: ParcelEnd, day: date) -> TraceDay | None:
    """Give a day's course: its low is that of the night which began the day before."""
    night, day_itself = end.outlook.night(day - timedelta(days=1)), end.outlook.night(day)
    if night is None or day_itself is None:
        return None
    low, high = night.mean_c, max(day_itself.day_high_c, night.mean_c)
    below, above = EIGHT_IN_TEN * night.sd_c, EIGHT_IN_TEN * day_itself.sd_c
    return TraceDay(
        low,
        high,
        (low - below, low + below),
        (high - above, high + above),
        is_forecast=night.source is not WeatherSource.CLIMATE,
    )


def _weeks(days: list[date], today: date) -> tuple[str, ...]:
    """Title the weeks; the strip begins on any weekday, so each is named by its first day."""
    names = ["The next seven days", "The week after", "The third week"]
    firsts = days[::7]
    if firsts and firsts[0].weekday() == 0:
        names = ["This week", "Next week", "The week after"]
    if firsts and firsts[0] < today:
        names[0] = f"From {dates.day(firsts[0])}"
    return tuple(names[: len(firsts)])


def _words(page: ParcelPage, plan: ParcelPlan) -> Words:
    ends = [
        (_at(page, side).outlook, _place_name(page, side)) for side in (Side.SENDER, Side.RECEIVER)
    ]
    return Words(
        title=f"Days to post {page.entry.code}",
        description=posting_words.answer(plan),
        caption="Every day, and what would be lost",
        heads=(
            "Day",
            "Of 100 lost",
            "In a word",
            *(f"Low that night, {where}" for _, where in ends),
        ),
        rows=tuple(
            (
                dates.day(one.day),
                in_hundred(one.loss) if one.word in WEIGHED_WORDS else "–",
                words.spoken_word(one, side=page.side.value),
                *(_low(outlook.night(one.day)) for outlook, _ in ends),
            )
            for one in plan.strip
        ),
    )


def _low(night: Night | None) -> str:
    return "not known" if night is None else dates.degrees(night.mean_c)


def _coldest(one: StripDay) -> str:
    if one.box_middle is None:
        return "not known"
    middle = dates.degrees(one.box_middle)
    if one.box_tenth is None:
        return middle
    return f"{middle}, perhaps {dates.degrees(one.box_tenth)}"


def _beside(found: StripDay, chosen: StripDay | None) -> tuple[tuple[str, str, str], ...]:
    def row(what: str, day: str, other: str) -> tuple[str, str, str]:
        return what, day, other if chosen is not None else ""

    other = chosen or found
    return (
        row("Lost of 100", in_hundred(found.loss), in_hundred(other.loss)),
        row("Coldest in the box", _coldest(found), _coldest(other)),
        row("Comes the next day", in_hundred(found.next_day), in_hundred(other.next_day)),
        row(
            "Lies over a Sunday or holiday",
            in_hundred(found.over_rest),
            in_hundred(other.over_rest),
        ),
    )


def _answer(page: ParcelPage, found: StripDay, chosen: StripDay | None) -> tuple[str, ...]:
    if chosen is not None and found.day == chosen.day:
        return ("That is the posting day.", *_why_chosen(page))
    stop = PostingReason(found.word, found.day, None, found.loss, found.label)
    if words.is_senders_affair(found) and page.side is Side.RECEIVER:
        return (f"{dates.day(found.day)} does not suit.",)
    sentence = posting_words.reason(stop)
    if found.word is DayWord.GOOD and chosen is not None and chosen.loss is not None:
        return (sentence, _compared(page, found, chosen))
    return (sentence,)


def _compared(page: ParcelPage, found: StripDay, chosen: StripDay) -> str:
    if found.loss is not None and chosen.loss is not None and found.loss < chosen.loss:
        told = page.plan is not None and page.plan.announced
        return words.safer_but(found.day, chosen.day, chosen.note, told=told, today=page.today)
    if found.day < chosen.day:
        return f"{dates.day(chosen.day)} is safer."
    return f"{dates.day(chosen.day)} is sooner, and as good or better."


def _why_chosen(page: ParcelPage) -> tuple[str, ...]:
    return (words.chance_of_harm(page.entry.loss_chance),) if page.entry.loss_chance else ()
