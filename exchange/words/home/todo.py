"""Task lines of the first page: what to do, why, what its button says."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted, listed

_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "post": "Post {name} to {other}",
        "did_it_go": "Did {name} go to {other}?",
        "day_asked": "Should {name} still go on {day}?",
        "did_it_come": "Did {name} come?",
        "take_over": "Say whether you can post {name} for {other}",
        "care": "Care for what came in {name}",
        "comes": "{name} should come from {other}",
        "act_for": "Ask {name} about {text}",
        "confirm": "Look at the share-out and confirm it",
        "work_out": "Work the share-out out",
        "pack": "Pack {name} for {other}",
        "long_wait": "Decide about {name}",
        "agree": "Say whether {parcels} can go",
        "give_address": "Give your postal address",
        "say_place": "Say where you grow",
        "claims_close": "Look over your claims",
        "letters": "Hand over {letters}",
        "no_backup": "See why no backup is written",
        "still_wanted": "Say whether you still want what you asked for",
        "begonia": "Say what kind of begonia ‘{name}’ is",
    }
)
_WHYS: Mapping[str, str] = MappingProxyType(
    {
        "post": "{plants}. {harm}",
        "did_it_go": "It was to go on {day}; until you say so it counts as probably posted.",
        "day_asked": "{text}",
        "did_it_come": (
            "It should be there by now, from {other}. Your answer tells the sender, and teaches us "
            "how the post runs."
        ),
        "take_over": "{plants}. They cannot post it themselves; its page says more.",
        "care": "Today:",
        "comes": "{plants}, by {day}. Open at once; the care sheet is in the box.",
        "act_for": "{parcels} to answer for; there is no account to do it from.",
        "confirm": "{name} has been worked out. Nobody has been told yet.",
        "work_out": "{name} closed on {day}.",
        "pack": "It goes tomorrow. {plants}. {harm}",
        "long_wait": "It has waited {days} without a good day.",
        "agree": "The share-out gives plants of yours to others. A quiet no is as welcome.",
        "give_address": "{parcels} planned for you; only who sends one sees the address.",
        "say_place": "Your town is enough; nights there decide when parcels may come.",
        "claims_close": "You have {claims}. They are decided together, not first come, first served.",
        "letters": "They are for members no mail can reach.",
        "no_backup": "The last is of {day}. Is there room on the disk? exchange run backup says what is wrong.",
        "still_wanted": "{claims} of an earlier season, not met yet. Without an answer they lapse; a letter says when.",
        "begonia": "Until somebody says so, it is kept as warm as the tenderer kind.",
    }
)
_BUTTONS: Mapping[str, str] = MappingProxyType(
    {
        "post": "I have posted it",
        "did_it_go": "It went that day",
        "day_asked": "Move or keep it",
        "did_it_come": "It came, all well",
        "take_over": "See the parcel",
        "care": "See the care",
        "comes": "It came, all well",
        "act_for": "Act for {name}",
        "confirm": "Look at it",
        "work_out": "Go to the share-out",
        "pack": "Print the papers",
        "long_wait": "See the choices",
        "agree": "Answer",
        "give_address": "Give the address",
        "say_place": "Say where",
        "claims_close": "Look at my claims",
        "letters": "See the letters",
        "no_backup": "How backups are kept",
        "still_wanted": "Look at my claims",
        "begonia": "From a tuber",
    }
)


def title(kind: str, said: Mapping[str, str], *, by_hand: bool = False) -> str:
    """Say what to do, beginning with a verb."""
    if by_hand and kind == "post":
        return "Hand {name} to {other}".format(**said)
    return _TITLES[kind].format(**said)


def why(kind: str, said: Mapping[str, str]) -> str:
    """Say in a sentence why, or what it is about."""
    return _WHYS[kind].format(**said).strip()


def button(kind: str, said: Mapping[str, str], *, by_hand: bool = False) -> str:
    """Say what the button does."""
    if by_hand and kind == "post":
        return "I have handed it over"
    return _BUTTONS[kind].format(**said)


def other_answer(kind: str) -> str:
    """Say what a second button does, where the question has two answers."""
    return {"begonia": "For its leaves, no tuber"}[kind]


def so_many(number: int) -> dict[str, str]:
    """Give a number as whatever it may count."""
    return {
        "plants": counted(number, "plant", "plants"),
        "parcels": counted(number, "parcel", "parcels"),
        "letters": counted(number, "letter", "letters"),
        "claims": counted(number, "claim", "claims"),
        "days": counted(number, "day", "days"),
    }


def since(day: date) -> str:
    """Give "Since Sat 17 April"."""
    return f"Since {dates.day(day)}"


def lead(things: int, first: str) -> str:
    """Count what is due and name the first of it."""
    if not things:
        return "Nothing needs you today."
    if things == 1:
        return f"One thing needs you: {_small(first)}."
    return f"{things} things need you; first: {_small(first)}."


def _small(text: str) -> str:
    return text[:1].lower() + text[1:] if text[1:2].islower() else text


def frost(place: str, low_c: float, *, forecast: bool) -> str:
    """Say how cold tonight will be at a place."""
    form = (
        "About {low} is expected at {place} tonight."
        if forecast
        else "Nights like tonight’s usually fall to about {low} at {place}."
    )
    return form.format(low=dates.degrees(low_c, 0.5), place=place)


def room_said(weeks: list[tuple[date, int]], places: int | None) -> str:
    """Say in which weeks there is more than room for."""
    over = [dates.day(monday) for monday, pots in weeks if places is not None and pots > places]
    if not over:
        return "There is room for what stands and what comes."
    return f"More than there is room for in the week of {listed(over)}."
