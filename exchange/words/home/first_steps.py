"""The first steps in words: what to do, why, what its button says, and what it reads once done."""

from collections.abc import Mapping, Sequence
from datetime import date
from types import MappingProxyType

from exchange.domain.growing.shelter import ShelterKind
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence, counted, listed

_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "people": "Write down who is in the circle",
        "spares": "List the first spares",
        "share_out": "Open a share-out",
        "shelter": "Where can plants stand with you?",
        "plants": "What do you grow already?",
        "wish": "Wish for one thing",
    }
)
_WHYS: Mapping[str, str] = MappingProxyType(
    {
        "people": "One a line: name, town, mail. For those without mail you do it all, and they need do nothing.",
        "spares": "Your own, or what stands in a mail somebody sent you: one a line, as it is written. What is doubtful is asked about.",
        "share_out": "Say until when people can ask. The day can be moved.",
        "shelter": "Tick all there are. It decides what can come to you, and when.",
        "plants": "What can be passed on, and what you have to spare of it. One a line.",
        "wish": "Being first makes no difference: it is decided on one day, and you read why.",
    }
)
_BUTTONS: Mapping[str, str] = MappingProxyType(
    {
        "people": "Write down the people",
        "spares": "List several spares",
        "share_out": "Open a share-out",
        "shelter": "Keep this",
        "plants": "List what I can spare",
        "wish": "Look at the spares",
    }
)
_DONE: Mapping[str, str] = MappingProxyType(
    {
        "spares": "There are some.",
        "plants": "Something is listed.",
        "wish": "You have asked for something.",
    }
)
ORDER = ("First", "Then", "Last")


def title(step: str) -> str:
    """Say what the step is."""
    return _TITLES[step]


def why(step: str) -> str:
    """Say what is written there, or what it is good for."""
    return _WHYS[step]


def button(step: str) -> str:
    """Say what the button does."""
    return _BUTTONS[step]


def once_done(step: str, people: int, shelters: Sequence[ShelterKind]) -> str:
    """Say what there is of a step that is done."""
    if step == "people":
        return f"{counted(people, 'member', 'members')} so far."
    if step == "shelter":
        return as_sentence(listed([plants.shelter(kind) for kind in shelters]) or "said")
    return _DONE[step]


def lead(of_circle: bool) -> str:
    """Say what the steps come to."""
    if of_circle:
        return "Three steps bring the circle to its first share-out. You can stop after each and go on another day."
    return "Three short things, and the circle can send you plants. None of them is a must."


def ends(ends_on: date | None) -> str:
    """Say when the steps go by themselves."""
    if ends_on is None:
        return "By themselves, once a share-out is open."
    return f"By themselves: when the three are done, or after {dates.day(ends_on)}."


def drawn(done: Sequence[bool]) -> str:
    """Say what the drawing of the steps shows."""
    return f"{sum(done)} of {len(done)} steps done."


def afterwards(of_circle: bool) -> tuple[tuple[str, str], ...]:
    """Give what comes by itself after the steps, each with when."""
    if not of_circle:
        return (
            ("Once shared out", "A letter with what you are given, or why not this time."),
            ("Some days before", "When your parcel comes and where it should stand at night."),
        )
    return (
        (
            "On closing day",
            "A proposal who gets what, each with its reason. You look, and confirm.",
        ),
        (
            "After that",
            "A posting day for each parcel, by the frost at both ends and the working days of the post.",
        ),
        ("The night before", "Papers to print, and a letter to each sender."),
    )
