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
    "reserve": "given from the reserve, by the same rules",
    "left_over": "left over, and given to who came first",
}
_ANSWERS = {
    AllocationState.CONFIRMED: "not answered yet",
    AllocationState.AGREED: "yes",
    AllocationState.REFUSED: "no",
    AllocationState.DECLINED: "declined by the receiver",
    AllocationState.FAILED: "given to the reserve",
}


def change_words(kind: str) -> str:
    """Say why something changed after confirming."""
    return _CHANGES[kind]


def answer_words(state: AllocationState) -> str:
    """Say what was answered to an allocation."""
    return _ANSWERS[state]


def not_sent(plants: int, *, looked_at: bool) -> str:
    """Say that plants that were given are not sent; of the sender nothing is said.

    Parameters
    ----------
    looked_at : whether the reserve is still being asked for others
    """
    text = "{plants} given to this claim cannot be sent after all".format(
        plants=counted(plants, "plant", "plants")
    )
    if looked_at:
        return f"{text}; whether others can be sent instead is being looked at."
    return f"{text}, and there was nothing to send instead."


def not_after_all(reader: LetterReader, plants: int, what: str, link: str) -> LetterText:
    """Tell a household that plants it was given are not sent, and that its claim stays open."""
    return signed(
        reader,
        "Not coming after all",
        "The share-out gave you this, but it cannot be sent after all, and there was nothing to send instead:",
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
