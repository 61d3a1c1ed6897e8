"""Sentences on a share-out: why a claim came out as it did. Nobody is ever named."""

from exchange.domain.sharing.quantities import PinRefused, Remark
from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, Rule
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import counted
from exchange.words.sharing.spares import choice as words_of_choice

_OBSTACLES = {
    Obstacle.NOBODY_OFFERS: "Nobody offers it.",
    Obstacle.LEFT: "Whoever offered or claimed it has left the circle.",
    Obstacle.OWN_ONLY: "The only plants offered are your own household’s.",
    Obstacle.HELD: "It is held back: the variety may be protected. Ask {authority}.",
    Obstacle.MATERIAL: "It is offered, but not as anything ticked in the claim.",
    Obstacle.WINDOW: "It is offered, but not on days on which it would still be of use.",
    Obstacle.BORDER: "A border lies between. {caution} Ask {authority}.",
    Obstacle.SHELTER: "There is no shelter for it where it would stand{from_day}.",
    Obstacle.ROOM: "There is no room left for it where it would stand.",
    Obstacle.FORBIDDEN: "The organiser keeps these two apart, and has said why.",
    Obstacle.MOST: "More of a contested variety than one household may have.",
    Obstacle.FEWER: "No more plants of it are offered than were given.",
}
_RULES = {
    Rule.MUST_NOT_BE_LOST: "so that a variety that must not be lost stands where it is safest",
    Rule.ONE_EACH: "so that everybody has a first plant before anybody has a second",
    Rule.FAIR: "to households that had been given less",
    Rule.WISHES: "to members who had put it higher among their wishes",
    Rule.FEWEST_PARCELS: "so that fewer parcels are needed",
    Rule.POSTAGE: "so that less postage is needed",
    Rule.DRAW: "by the draw number, since all was equal",
}
_REMARKS = {
    Remark.NO_SPARES: "Nobody has listed a spare, so there is nothing to share out.",
    Remark.NO_CLAIMS: "Nobody has claimed anything, so nothing is given; what is listed stays open.",
    Remark.ONLY_OWN: "Spares and claims are all of one household, and nothing is sent within one.",
    Remark.NOTHING_MEETS: "Nothing that is claimed is among what is listed.",
}

_OTHERS = "to others by the rules in their order"


def reason_sentence(reason: ClaimReason) -> str:
    """Say in one sentence why a claim came out as it did."""
    if reason.standing is ClaimOutcome.MET:
        return "Met in full."
    if reason.obstacle is None:
        return _competition(reason)
    if reason.obstacle is Obstacle.FEWER and reason.others:
        return _none_left(reason)
    sentence = obstacle_sentence(reason)
    if reason.standing is ClaimOutcome.PART and reason.obstacle is not Obstacle.FEWER:
        return f"In part only. {sentence}"
    return sentence


def _none_left(reason: ClaimReason) -> str:
    """Say that all was given elsewhere before any rule had to choose, as when the organiser chose."""
    text = "{plants} and {others}; none was left for this claim."
    if reason.standing is ClaimOutcome.PART:
        text = "In part only: {plants} and {others}; no more was left for this claim."
    return text.format(plants=_offered(reason), others=_others(reason))


def _offered(reason: ClaimReason) -> str:
    return counted(reason.offered, "plant was offered", "plants were offered")


def _others(reason: ClaimReason) -> str:
    return counted(reason.others, "other household asked", "other households asked")


def obstacle_sentence(reason: ClaimReason) -> str:
    """Say what stood in the way."""
    return _OBSTACLES[reason.obstacle or Obstacle.NOBODY_OFFERS].format(
        caution=reason.caution or "Plants may not pass it without papers.",
        authority=reason.authority or "the plant health service",
        from_day=_from_day(reason),
    )


def plain_obstacle(obstacle: Obstacle) -> str:
    """Say what stands in the way, where nothing more is known of it."""
    return obstacle_sentence(ClaimReason(ClaimOutcome.UNMET, 0, 0, obstacle))


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


def _from_day(reason: ClaimReason) -> str:
    if reason.fits_from is None:
        return ""
    return f" before {dates.day(reason.fits_from)}"


def _competition(reason: ClaimReason) -> str:
    if not reason.others:
        return "Only {plants} could go to you.".format(
            plants=counted(reason.given, "plant", "plants")
        )
    plants, others = _offered(reason), _others(reason)
    went = _RULES[reason.rule] if reason.rule is not None and reason.sure else _OTHERS
    start = "In part only: " if reason.standing is ClaimOutcome.PART else ""
    text = (
        "{plants} and {others}; the rest went {went}."
        if start
        else "{plants} and {others}; it went {went}."
        if reason.offered == 1
        else "{plants} and {others}; they went {went}."
    )
    return start + text.format(plants=plants, others=others, went=went)
