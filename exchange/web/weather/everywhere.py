"""The weather of all places as one table that is its own picture: coldest first, a night a column."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from flask import url_for
from markupsafe import Markup

from exchange.actions.weather.page_weather import NIGHTS_SHOWN, PlaceWeather, WeatherPage
from exchange.domain.weather.blend import chance_in
from exchange.domain.weather.forecast import Night
from exchange.web.frame.chart_figure import tidy
from exchange.web.weather.credit import credit
from exchange.words.kernel import dates
from exchange.words.kernel.chances import in_hundred
from exchange.words.kernel.phrase import NBSP
from exchange.words.weather import everywhere as words
from exchange.words.weather import weather

CERTAIN, LIKELY = 0.9, 0.5
_DEPTH, _LEAST_DEPTH = 24.0, 1.0
_PER_DEGREE, _MOST_HEIGHT = 2.0, 20.0


@dataclass(frozen=True, slots=True)
class NightCell:
    """One night of one place.

    Attributes
    ----------
    low : "−3°"
    chance : of frost, as it is said
    depth, height : how far the hatching reaches down, and degrees above 0 reach up
    is_frost : whether frost is likelier than not
    """

    day: date
    low: str
    chance: str
    depth: float
    height: float
    is_frost: bool


@dataclass(frozen=True, slots=True)
class PlaceRow:
    """One place; no nights where the reader may see the coldest alone, no address likewise."""

    where: str
    who: str
    url: str
    low: str
    degrees: str
    night: str
    chance: str
    nights: tuple[NightCell | None, ...]


@dataclass(frozen=True, slots=True)
class PlaceGroup:
    """Places under one head, the coldest first."""

    head: str
    rows: tuple[PlaceRow, ...]


@dataclass(frozen=True, slots=True)
class EverywhereView:
    """The table and what is said once for all of it.

    Attributes
    ----------
    behind : sentences on forecasts, each with whether it is older than it should be
    doubts : what is doubtful in nights shown
    remarks : what they lack, said once or with the places it holds for
    credits : how the sources ask to be credited
    """

    lead: str
    days: tuple[date, ...]
    groups: tuple[PlaceGroup, ...]
    behind: tuple[tuple[str, bool], ...]
    doubts: tuple[str, ...]
    remarks: tuple[str, ...]
    credits: tuple[Markup, ...]


def everywhere(page: WeatherPage) -> EverywhereView:
    """Lay out the coming nights of every place of a circle."""
    seen = [*page.own, *page.others]
    first = min((one.tonight for one in seen), default=date.min)
    days = tuple(first + timedelta(days=n) for n in range(NIGHTS_SHOWN))
    ranked = sorted(seen, key=_coldest_first)
    return EverywhereView(
        lead=_lead(seen, days) if seen else "",
        days=days,
        groups=tuple(_groups(ranked, days, page)),
        behind=tuple(_behind(seen, page)),
        doubts=weather.doubts([(_where(one, page), one.doubts()) for one in page.own]),
        remarks=tuple(_remarks(seen, page)),
        credits=tuple(dict.fromkeys(credit(*pair) for pair in _credits(seen))),
    )


def _coldest(one: PlaceWeather) -> Night | None:
    return min(one.nights(NIGHTS_SHOWN), key=lambda night: night.mean_c, default=None)


def _coldest_first(one: PlaceWeather) -> tuple[bool, float, str]:
    night = _coldest(one)
    return night is None, night.mean_c if night else 0.0, one.place.town


def _kind(one: PlaceWeather) -> str:
    night = _coldest(one)
    if night is None:
        return "unknown"
    chance = chance_in(night)
    if chance >= CERTAIN:
        return "certain"
    return "likely" if chance >= LIKELY else "perhaps"


def _groups(
    ranked: Sequence[PlaceWeather], days: Sequence[date], page: WeatherPage
) -> Iterable[PlaceGroup]:
    for kind in ("certain", "likely", "perhaps", "unknown"):
        of_kind = [one for one in ranked if _kind(one) == kind]
        if of_kind:
            rows = tuple(_row(one, days, page) for one in of_kind)
            yield PlaceGroup(words.kind_words(kind, len(rows)), rows)


def _row(one: PlaceWeather, days: Sequence[date], page: WeatherPage) -> PlaceRow:
    night = _coldest(one)
    is_open = one in page.own
    by_day = {each.day: each for each in one.nights(NIGHTS_SHOWN)} if is_open else {}
    return PlaceRow(
        where=_where(one, page),
        who=one.names,
        url=_url(one) if is_open else "",
        low=dates.degrees(night.mean_c) if night else "not known",
        degrees=_degrees(night) if night else "not known",
        night=f"{dates.weekday(night.day)} {night.day.day}" if night else "",
        chance=in_hundred(chance_in(night)) if night else "",
        nights=tuple(_cell(by_day.get(day)) for day in days) if is_open else (),
    )


def _cell(night: Night | None) -> NightCell | None:
    if night is None:
        return None
    chance = chance_in(night)
    depth = tidy(_DEPTH * chance)
    return NightCell(
        night.day,
        _degrees(night),
        in_hundred(chance),
        depth if depth >= _LEAST_DEPTH else 0.0,
        tidy(min(max(night.mean_c, 0.0) * _PER_DEGREE, _MOST_HEIGHT)),
        chance >= LIKELY,
    )


def _degrees(night: Night) -> str:
    """Give "−3°", without the unit that the table names once."""
    return dates.degrees(night.mean_c).partition(NBSP)[0] + "°"


def _url(one: PlaceWeather) -> str:
    return url_for("weather.place", place_id=one.place.id)


def _where(one: PlaceWeather, page: WeatherPage) -> str:
    """Name a place by its town, of others by their county, and further where a town has two."""
    if one not in page.own:
        return one.place.county
    same = [each for each in page.own if each.place.town == one.place.town]
    return one.place.town if len(same) == 1 else f"{one.place.town}, {one.place.name}"


def _lead(seen: Sequence[PlaceWeather], days: Sequence[date]) -> str:
    frosty = [
        [night.day for night in one.nights(NIGHTS_SHOWN) if chance_in(night) >= LIKELY]
        for one in seen
    ]
    nights = sorted({day for of_place in frosty for day in of_place})
    return words.lead(sum(map(bool, frosty)), len(seen), nights, days[-1])


def _behind(seen: Sequence[PlaceWeather], page: WeatherPage) -> Iterable[tuple[str, bool]]:
    groups: dict[tuple[object, ...], list[PlaceWeather]] = {}
    for one in seen:
        groups.setdefault((one.behind.source, one.behind.issued_at), []).append(one)
    for of_group in groups.values():
        behind = of_group[0].behind
        where = [] if len(of_group) == len(seen) else [_where(one, page) for one in of_group]
        if behind.issued_at is None or behind.age is None:
            yield words.usual_only(where), False
        else:
            yield (
                words.forecast_of(where, behind.source, behind.issued_at, behind.age),
                any(one.behind.expired for one in of_group),
            )


def _remarks(seen: Sequence[PlaceWeather], page: WeatherPage) -> list[str]:
    said: dict[str, list[str]] = {}
    for one in seen:
        for text in dict.fromkeys((*one.behind.lacks, *one.notes)):
            said.setdefault(text, []).append(_where(one, page))
    return words.remarks(said, len(seen))


def _credits(seen: Sequence[PlaceWeather]) -> Iterable[tuple[str, str]]:
    for one in seen:
        if one.behind.attribution:
            yield one.behind.source, one.behind.attribution
