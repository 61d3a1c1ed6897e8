"""Why two parcels stay apart, in words."""

from exchange.domain.posting.bundling import Apart

_APART = {
    Apart.ENDS: "They do not go between the same two places, or not by the same hands.",
    Apart.DAMP: "Cuttings without roots are wrapped damp, and travel apart from what must stay dry.",
    Apart.WINDOWS: "One has to go before the other is ready.",
    Apart.TWICE: "Two plants of a variety that must not be lost never share a parcel.",
    Apart.TOLD: "Its day has been told already, and is not the same; move one of them first.",
}


def apart(why: Apart) -> str:
    """Say why two parcels cannot become one."""
    return _APART[why]
