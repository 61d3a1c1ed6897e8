"""The first page: what needs doing."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from flask import Blueprint, render_template, url_for

from exchange.actions.home.chores import Chore, ChoreKind
from exchange.actions.home.page_todo import TodoPage, todo_page
from exchange.actions.posting.page_room import RoomAhead
from exchange.actions.weather.frost_tonight import FrostTonight
from exchange.domain.growing.variety import Species
from exchange.domain.weather.forecast import WeatherSource
from exchange.web.frame.chart_figure import Words
from exchange.web.frame.session import actor, now
from exchange.web.home.first_steps import view_of
from exchange.web.posting.chart_room import RoomView, RoomWeek, draw_room
from exchange.words.home import todo as words
from exchange.words.kernel import dates
from exchange.words.posting import anyway, parcels

blueprint = Blueprint("todo", __name__, url_prefix="/todo")

_LATE = frozenset({ChoreKind.DID_IT_GO, ChoreKind.DID_IT_COME})
_PRESSED = frozenset(
    {
        ChoreKind.POST,
        ChoreKind.DID_IT_GO,
        ChoreKind.DID_IT_COME,
        ChoreKind.COMES,
        ChoreKind.ACT_FOR,
        ChoreKind.BEGONIA,
    }
)


@dataclass(frozen=True, slots=True)
class TaskLine:
    """One task line; `pressed` says whether its button does the thing at once.

    Attributes
    ----------
    fields : what the button sends
    about : the parcel's page, where the button does not lead there itself
    other, other_fields : a second button that answers at once, and what it sends; empty where there is one
    """

    when: str
    title: str
    why: str
    state: str
    button: str
    url: str
    pressed: bool = False
    fields: dict[str, str] = field(default_factory=dict)
    about: str = ""
    lines: tuple[str, ...] = ()
    other: str = ""
    other_fields: dict[str, str] = field(default_factory=dict)


@blueprint.get("")
def show() -> str:
    page = todo_page(actor(), now())
    lines = task_lines(page)
    steps = view_of(page.first_steps) if page.first_steps else None
    return render_template(
        "todo/show.html",
        page=page,
        lines=lines,
        lead=steps.lead
        if steps and not lines
        else words.lead(len(lines), lines[0].title if lines else ""),
        steps=steps,
        words=words,
        offered_words=anyway,
        room_view=_room(page.room) if page.room else None,
    )


def task_lines(page: TodoPage) -> list[TaskLine]:
    """Give what is due, the most urgent first; tonight's frost comes after what goes today."""
    urgent = [one for one in page.chores if one.kind <= ChoreKind.DID_IT_GO]
    rest = [one for one in page.chores if one.kind > ChoreKind.DID_IT_GO]
    return [
        *(_line(one, page.today) for one in urgent),
        *(_frost(one) for one in page.frost),
        *(_line(one, page.today) for one in rest),
    ]


def _line(one: Chore, today: date) -> TaskLine:
    key = one.kind.name.lower()
    said = {
        "name": one.name,
        "other": one.other,
        "text": one.text,
        "day": dates.day(one.day) if one.day != date.max else "",
        "harm": parcels.chance_of_harm(one.chance),
        **words.so_many(one.number),
    }
    url = _url(one)
    about = url_for("parcels.show", parcel_id=one.target_id) if _is_parcel(one) else ""
    return TaskLine(
        when=_when(one, today),
        title=words.title(key, said, by_hand=one.by_hand),
        why=words.why(key, said),
        state=_state(one, today),
        button=words.button(key, said, by_hand=one.by_hand),
        url=url,
        pressed=one.kind in _PRESSED,
        fields=_fields(one, today),
        about=about if one.kind in _PRESSED else "",
        lines=one.lines,
        other=words.other_answer(key) if one.kind is ChoreKind.BEGONIA else "",
        other_fields=_kind_of_begonia(Species.FOLIAGE_BEGONIA),
    )


def _kind_of_begonia(kind: Species) -> dict[str, str]:
    return {"kind": kind.value, "back": url_for("todo.show")}


def _is_parcel(one: Chore) -> bool:
    others = {ChoreKind.ACT_FOR, ChoreKind.CONFIRM, ChoreKind.WORK_OUT, ChoreKind.BEGONIA}
    return one.target_id is not None and one.kind not in others


def _when(one: Chore, today: date) -> str:
    if one.kind is ChoreKind.BEGONIA:
        return "Any day"
    if one.kind is ChoreKind.POST:
        by = parcels.by_when(parcels.clock(one.hour), today, one.day).strip()
        return by[:1].upper() + by[1:] if by and not one.by_hand else "Today"
    if one.kind is ChoreKind.PACK:
        return "Tonight"
    if one.kind is ChoreKind.COMES:
        return f"To {dates.day(one.day)}" if one.day > today else "Today"
    if one.day < today and one.kind is not ChoreKind.CARE:
        return words.since(one.day)
    return "Today" if one.day in (today, date.max) else dates.day(one.day)


def _state(one: Chore, today: date) -> str:
    if one.kind in _LATE:
        return "overdue"
    if one.kind is ChoreKind.LONG_WAIT:
        return "held"
    if one.kind is ChoreKind.BEGONIA:
        return "later"
    return "due" if one.day <= today + timedelta(days=1) else "later"


def _fields(one: Chore, today: date) -> dict[str, str]:
    here = {"back": url_for("todo.show")}
    if one.kind in {ChoreKind.POST, ChoreKind.DID_IT_GO}:
        return {"day": one.day.isoformat(), **here}
    if one.kind in {ChoreKind.COMES, ChoreKind.DID_IT_COME}:
        return {"day": today.isoformat(), "condition": "well", **here}
    if one.kind is ChoreKind.BEGONIA:
        return _kind_of_begonia(Species.TUBEROUS_BEGONIA)
    return {}


def _url(one: Chore) -> str:
    match one.kind:
        case ChoreKind.POST | ChoreKind.DID_IT_GO:
            return url_for("parcels.posted", parcel_id=one.target_id)
        case ChoreKind.COMES | ChoreKind.DID_IT_COME:
            return url_for("parcels.came", parcel_id=one.target_id)
        case ChoreKind.PACK:
            return url_for("papers.choose", parcel_id=one.target_id)
        case ChoreKind.CARE:
            return url_for("parcels.show", parcel_id=one.target_id, _anchor="care")
        case ChoreKind.LONG_WAIT | ChoreKind.DAY_ASKED | ChoreKind.TAKE_OVER:
            return url_for("parcels.show", parcel_id=one.target_id)
        case ChoreKind.ACT_FOR:
            return url_for("act_for.start", member_id=one.target_id)
        case ChoreKind.BEGONIA:
            return url_for("varieties.begonia", variety_id=one.target_id)
        case ChoreKind.CONFIRM | ChoreKind.WORK_OUT:
            return url_for("share_out.show", share_out_id=one.target_id)
    return _PAGES[one.kind]


_PAGES = {
    ChoreKind.GIVE_ADDRESS: "/garden/address",
    ChoreKind.SAY_PLACE: "/garden/places/new",
    ChoreKind.CLAIMS_CLOSE: "/claims",
    ChoreKind.STILL_WANTED: "/claims",
    ChoreKind.AGREE: "/parcels/answer",
    ChoreKind.LETTERS: "/letters",
    ChoreKind.NO_BACKUP: "/help/circle",
}


def _frost(one: FrostTonight) -> TaskLine:
    forecast = one.source is not WeatherSource.CLIMATE
    return TaskLine(
        when=f"By {dates.hour(one.sunset)}" if one.sunset else "Tonight",
        title="Carry in what cannot stand tonight’s cold",
        why=words.frost(one.place.name, one.low_c, forecast=forecast),
        state="due",
        button="Look at my garden",
        url="/garden",
        lines=tuple(pots.sentence for pots in one.pots),
    )


def _room(room: RoomAhead) -> RoomView:
    weeks = [
        RoomWeek(
            f"{one.monday.day} {dates.month(one.monday)[:3]}", one.standing, one.kept, room.places
        )
        for one in room.weeks
    ]
    filled = [(one.monday, one.standing + one.kept) for one in room.weeks]
    no_limit = "no limit"
    return draw_room(
        weeks,
        Words(
            title="Room for pots, week by week",
            description=words.room_said(filled, room.places),
            caption="Pots by week",
            heads=("Week of", "Standing", "Kept for what comes", "Room for"),
            rows=tuple(
                (
                    dates.day(one.monday),
                    one.standing,
                    one.kept,
                    no_limit if room.places is None else room.places,
                )
                for one in room.weeks
            ),
        ),
    )
