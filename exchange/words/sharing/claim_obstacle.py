"""What a claim that nothing offered can meet is told, and the press that would change it."""

from collections.abc import Mapping

from exchange.domain.sharing.claim import Claim
from exchange.domain.sharing.reason import ClaimReason
from exchange.words.growing import plants
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import as_sentence, listed
from exchange.words.sharing.reasons import obstacle_sentence

LOOK_AT_CLAIMS = "Nothing offered can meet it yet; your claims say why."


def cannot_be_met(reason: ClaimReason) -> str:
    """Say that nothing offered can meet a claim, and why."""
    return f"Nothing offered can meet it yet. {obstacle_sentence(reason)}"


def press(claim: Claim, change: Claim, places: Mapping[int, str]) -> str:
    """Give the words on the button that changes a claim: "Also take unrooted cuttings"."""
    parts = []
    kinds = sorted(change.materials - claim.materials)
    if kinds:
        parts.append(f"also take {listed([plants.material(one, 2) for one in kinds])}")
    if change.no_use_after is not None and change.no_use_after != claim.no_use_after:
        parts.append(f"take it until {dates.day(change.no_use_after)}")
    if change.place_id != claim.place_id:
        parts.append(f"have it sent to {places[change.place_id]}")
    return as_sentence(listed(parts)).removesuffix(".")
