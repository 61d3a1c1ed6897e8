"""Words for what happens after a share-out: answers, changes, left-overs, the reserve."""

from collections.abc import Sequence

from exchange.domain.sharing.states import AllocationState
from exchange.words.kernel.letters import LetterReader, LetterText, bullets, signed
from exchange.words.kernel.phrase import counted
from exchange.words.sharing.explanation import carried_over

_CHANGES: dict[str, str] = {
    AllocationState.REFUSED: "the sender cannot send them after all",
    AllocationState.DECLINED: "the receiver cannot take them",
    AllocationState.FAILED: "they waited too long, and went to the reserve",
    AllocationState.LOST: "they did not come alive",
    "reserve": "given from the reserve, by the same rules",
    "left_over": "left over, and given to who came first",
}
_ANSWERS = {
    AllocationState.CONFIRMED: "not answered yet",
    AllocationState.AGREED: "yes",
    AllocationState.REFUSED: "no",
    AllocationState.DECLINED: "declined by the receiver",
    AllocationState.FAILED: "given to the reserve",
    AllocationState.LOST: "did not come alive",
}


def change_words(kind: str) -> str:
    """Say why something changed after confirming."""
    return _CHANGES[kind]


def answer_words(state: AllocationState) -> str:
    """Say what was answered to an allocation."""
    return _ANSWERS[state]


def declined(posted: int) -> str:
    """Tell a receiver what becomes of plants it declined, and of those of the line that were posted before."""
    text = "You have declined them; they go to the next in the reserve."
    if posted:
        return f"{text} {counted(posted, 'plant', 'plants')} had been posted before."
    return text


def not_sent(plants: int, *, looked_at: bool, lost: int = 0) -> str:
    """Say that plants that were given do not come; of the sender nothing is said.

    Parameters
    ----------
    looked_at : whether the reserve is still being asked for others
    lost : how many of them did not come alive; the others could not be sent [plants]
    """
    given = counted(plants, "plant", "plants")
    why = "cannot be sent after all" if not lost else "did not come alive"
    if 0 < lost < plants:
        why = "do not come after all"
    text = f"{given} given to this claim {why}"
    if looked_at:
        return f"{text}; whether others can be sent instead is being looked at."
    return f"{text}, and there was nothing to send instead."


def not_after_all(
    reader: LetterReader, plants: int, what: str, link: str, *, lost: bool = False
) -> LetterText:
    """Tell a household that plants it was given do not come, and that its claim stays open.

    Parameters
    ----------
    lost : whether they were sent and did not come alive
    """
    why = "did not come alive" if lost else "cannot be sent after all"
    return signed(
        reader,
        "Nothing in its place" if lost else "Not coming after all",
        f"The share-out gave you this, but it {why}, and there was nothing to send instead:",
        bullets((what,)),
        carried_over(plants),
        "Your claims, and what you can change:",
        link,
    )


def given_later(
    reader: LetterReader, given: Sequence[str], to_send: Sequence[str], link: str
) -> LetterText:
    """Tell a household what comes to it, or is asked of it, after the share-out."""
    parts = []
    if given:
        parts += ["Plants have come free, and you are next:", bullets(tuple(given))]
    if to_send:
        parts += ["You are asked to send, in place of others:", bullets(tuple(to_send))]
    subject = "Plants for you after all" if given else "Can you send these?"
    return signed(reader, subject, *parts, "All of it, and what you can answer:", link)
