"""Sentences on a share-out as a whole and on the organiser's choices. Nobody is ever named."""

from exchange.domain.sharing.quantities import PinRefused, Remark
from exchange.domain.sharing.reason import Obstacle, Rule
from exchange.words.kernel.phrase import counted
from exchange.words.sharing.reasons import plain_obstacle
from exchange.words.sharing.spares import choice as words_of_choice

_REMARKS = {
    Remark.NO_SPARES: "Nobody has listed a spare, so there is nothing to share out.",
    Remark.NO_CLAIMS: "Nobody has claimed anything, so nothing is given; what is listed stays open.",
    Remark.ONLY_OWN: "Spares and claims are all of one household, and nothing is sent within one.",
    Remark.NOTHING_MEETS: "Nothing that is claimed is among what is listed.",
}


def confirmed_sentence(plants: int, met: int) -> str:
    """Say what confirming did."""
    return "{plants} given; {met} in full. Everybody it touches is told.".format(
        plants=counted(plants, "plant is", "plants are"),
        met=counted(met, "claim is met", "claims are met"),
    )


def letters_sentence(by_mail: int, by_hand: int) -> str:
    """Say how many letters will go out, and how many of them somebody has to hand over."""
    if not by_mail + by_hand:
        return "No letter goes out."
    text = counted(by_mail + by_hand, "letter goes out", "letters go out")
    if not by_hand:
        return f"{text}, by mail."
    if not by_mail:
        return f"{text}, for you to hand over."
    return f"{text}: {by_mail} by mail, {by_hand} for you to hand over."


def giving_sentence(plants: int, senders: int, receivers: int) -> str:
    """Say how many plants will go, from how many households to how many."""
    if not plants:
        return "Nothing is given."
    return "{plants}, from {senders} to {receivers}.".format(
        plants=counted(plants, "plant is given", "plants are given"),
        senders=counted(senders, "household", "households"),
        receivers=receivers,
    )


def met_sentence(met: int, claims: int) -> str:
    """Say how many claims are met in full, and what becomes of the others."""
    text = "{met} of {claims} met in full".format(
        met=met, claims=counted(claims, "claim is", "claims are")
    )
    if met == claims:
        return f"{text}."
    return f"{text}; what the others lack stays open for the next share-out."


def too_late_sentence(spares: int) -> str:
    """Warn that spares must be sent before the closing day, so that they cannot be given."""
    return (
        "{spares} be sent before the closing day, so it cannot give {them}. Give an earlier day, or"
        " ask for a later last day for sending."
    ).format(
        spares=counted(spares, "spare has to", "spares have to"),
        them="it" if spares == 1 else "them",
    )


_LEFT_OUT = {
    Rule.MUST_NOT_BE_LOST: "a home for what must not be lost",
    Rule.ONE_EACH: "a household’s first plant of what many want",
    Rule.FAIR: "a further plant of what many want",
}


def lost_by_leaving_out(rule: int, choice: int) -> str:
    """Say what leaving a parcel of one plant out would lose: by the first rule that would fall."""
    return _LEFT_OUT.get(Rule(rule)) or f"somebody’s {words_of_choice(choice)}"


def remark_sentence(remark: Remark) -> str:
    """Say why a share-out as a whole comes to nothing."""
    return _REMARKS[remark]


def pin_sentence(refused: PinRefused) -> str:
    """Say why what the organiser wants is impossible."""
    if refused.obstacle is None:
        return "That cannot be: there are not so many plants, or not so many were asked for."
    if refused.obstacle is Obstacle.NOBODY_OFFERS:
        return (
            "That cannot be: the spare or the claim is no longer there, or it is a variety the claim"
            " does not take. Nothing is given instead of another without the receiver’s yes."
        )
    return f"That cannot be. {plain_obstacle(refused.obstacle)}"
