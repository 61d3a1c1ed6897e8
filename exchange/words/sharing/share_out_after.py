"""Words for what happens after a share-out: answers, changes, left-overs, the reserve."""

from collections.abc import Sequence

from exchange.words.kernel.letters import LetterText, Reader, bullets, signed

_CHANGES = {
    "refused": "the sender cannot send them after all",
    "declined": "the receiver cannot take them",
    "failed": "they waited too long, and went to the reserve",
    "reserve": "given from the reserve, by the same rules",
    "left_over": "left over, and given to who came first",
}
_ANSWERS = {
    "confirmed": "not answered yet",
    "agreed": "yes",
    "refused": "no",
    "declined": "declined by the receiver",
    "failed": "given to the reserve",
}


def change_words(kind: str) -> str:
    """Say why something changed after confirming."""
    return _CHANGES[kind]


def answer_words(state: str) -> str:
    """Say what was answered to an allocation."""
    return _ANSWERS[state]


def given_later(
    reader: Reader, given: Sequence[str], to_send: Sequence[str], link: str
) -> LetterText:
    """Tell a household what comes to it, or is asked of it, after the share-out."""
    parts = []
    if given:
        parts += ["Plants have come free, and you are next:", bullets(tuple(given))]
    if to_send:
        parts += ["You are asked to send, in place of others:", bullets(tuple(to_send))]
    subject = "Plants for you after all" if given else "Can you send these?"
    return signed(reader, subject, *parts, "All of it, and what you can answer:", link)
