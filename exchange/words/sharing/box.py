"""What the box says of a line: why it is left out or in doubt, and what is asked."""

from collections.abc import Collection

from exchange.domain.sharing.box.entry import BoxDoubt, Why
from exchange.words.kernel.phrase import counted, listed

_LEFT_OUT = {
    Why.NOTHING_SAID: "says nothing of plants",
    Why.QUOTED: "quoted from an earlier mail",
    Why.SIGNATURE: "part of the signature",
    Why.HEADING: "a heading",
    Why.NONE_LEFT: "says there are none",
    Why.PROMISED: "says they are promised",
    Why.REPEATED: "written twice",
    Why.CORRECTED: "corrected further down",
}
_IN_DOUBT = {
    Why.QUOTED: "It stands in a quoted mail.",
    Why.SIGNATURE: "It stands in the signature.",
    Why.NONE_LEFT: "Another line may say there are none.",
    Why.PROMISED: "Some of these may be promised.",
    Why.REPEATED: "This plant stands on another line too.",
    Why.CORRECTED: "One line corrects another.",
    Why.QUESTION: "It is written as a question.",
    Why.SEVERAL: "There is more than one plant on this line; keep one here and write the others anew.",
    Why.UNCERTAIN: "Some words may change what is meant.",
    Why.HEADING: "It may be a heading.",
    Why.NOTHING_SAID: "It may say nothing of plants.",
}
_ASKED = {
    BoxDoubt.WHOSE: "whose it is",
    BoxDoubt.WHAT: "whether to list it",
    BoxDoubt.NAME: "which plant",
    BoxDoubt.COUNT: "how many",
    BoxDoubt.MATERIAL: "what it is sent as",
    BoxDoubt.RAISED: "how raised",
}


def left_out(why: Why | None) -> str:
    """Say why a line is proposed to be left out."""
    return _LEFT_OUT.get(why, "says nothing of plants") if why else "says nothing of plants"


def asked(doubts: Collection[BoxDoubt]) -> str:
    """Name the fields that are asked about: "please say which plant and how many"."""
    return f"please say {listed([words for one, words in _ASKED.items() if one in doubts])}"


def why_asked(why: Why | None) -> str:
    """Say in a sentence why it is asked whether a line is to be listed."""
    return _IN_DOUBT.get(why, "") if why else ""


def kept(spares: int, claims: int, there: int) -> str:
    """Say what was kept of a box."""
    parts = []
    if spares:
        parts.append(counted(spares, "spare", "spares") + " on the list")
    if claims:
        parts.append(counted(claims, "wish", "wishes") + " noted")
    if there:
        parts.append(counted(there, "wish", "wishes") + " stood already and stays as it was")
    return listed(parts) + "."
