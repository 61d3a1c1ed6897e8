"""Words for what happens after a share-out: answers, changes, left-overs, the reserve."""

from collections.abc import Sequence

from exchange.domain.sharing.states import AllocationState
from exchange.words.kernel.letters import LetterReader, LetterText, bullets, signed

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
