"""Why a claim came out as it did, in one sentence. Nobody is named, but to other readers the household that asked."""

from datetime import date

from exchange.domain.sharing.reason import ClaimOutcome, ClaimReason, Obstacle, WentTo
from exchange.words.kernel import dates
from exchange.words.kernel.phrase import NBSP, counted
from exchange.words.sharing.asker import YOU, Asker

_OBSTACLES = {
    Obstacle.NOBODY_OFFERS: "Nobody offers it.",
    Obstacle.LEFT: "Whoever offered or claimed it has left the circle.",
    Obstacle.OWN_ONLY: "The only plants offered are {your} own household’s.",
    Obstacle.HELD: "It is held back: the variety may be protected. Ask {authority}.",
    Obstacle.MATERIAL: "It is offered, but not as anything ticked in the claim.",
    Obstacle.WINDOW: "It is offered, but on no day on which it could be posted and would still be of use.",
    Obstacle.BORDER: "A border lies between. {caution} Ask {authority}.",
    Obstacle.SHELTER: "There is no shelter for it where it would stand{from_day}.",
    Obstacle.ROOM: "There is no room left for it where it would stand.",
    Obstacle.FORBIDDEN: "The organiser keeps these two apart, and has said why.",
    Obstacle.MOST: "More of a contested variety than one household may have.",
    Obstacle.FEWER: "No more plants of it are offered than were given.",
}

_LESS = "had been given less of what is scarce"
_TO_ONE = {
    WentTo.HAD_NONE: "to a household that had none of it yet",
    WentTo.GIVEN_LESS: "to a household that had been given less",
    WentTo.LESS_OF_SCARCE: f"to a household that {_LESS}",
    WentTo.EARLIER: "to a household that comes earlier for what it gave and received",
    WentTo.HIGHER_WISH: "to a member who had put it higher among their wishes",
    WentTo.NO_MORE_THAN_YOU: "to a household that has no more of it than {you}",
}
_TO_MANY = {
    WentTo.HAD_NONE: "to households that had none of it yet",
    WentTo.GIVEN_LESS: "to households that had been given less",
    WentTo.LESS_OF_SCARCE: f"to households that {_LESS}",
    WentTo.EARLIER: "to households that come earlier for what they gave and received",
    WentTo.LESS_OR_EARLIER: f"to households that {_LESS} or come earlier for what they gave and received",
    WentTo.HIGHER_WISH: "to members who had put it higher among their wishes",
    WentTo.NO_MORE_THAN_YOU: "to households that have no more of it than {you}",
}
_WENT = {
    WentTo.NEW_PLACES: "where there was none of it, as it must not be lost",
    WentTo.SAFER_PLACES: "where it is safer, as it must not be lost",
    WentTo.FEWER_PARCELS: "so that fewer parcels are needed",
    WentTo.LESS_POSTAGE: "so that less postage is needed",
    WentTo.DRAWN: "by the draw number, since all was equal",
    WentTo.LAST_DRAWN: "to others by the rules, some of them by the draw number",
    WentTo.BY_RULES: "to others by the rules in their order",
}


def reason_sentence(reason: ClaimReason, asker: Asker = YOU) -> str:
    """Say in one sentence why a claim came out as it did."""
    if reason.standing is ClaimOutcome.MET:
        return "Met in full."
    if reason.went is not None:
        return _of_what_went(reason, asker)
    if reason.obstacle is None:
        return "Met in part." if reason.standing is ClaimOutcome.PART else "Not met."
    sentence = obstacle_sentence(reason, asker)
    return f"In part only. {sentence}" if reason.standing is ClaimOutcome.PART else sentence


def retold(sentence: str, reason: ClaimReason, asker: Asker) -> str:
    """Give a kept sentence as it reads to another reader; what an earlier version wrote stays as it was."""
    return reason_sentence(reason, asker) if sentence == reason_sentence(reason) else sentence


def obstacle_sentence(reason: ClaimReason, asker: Asker = YOU) -> str:
    """Say what stood in the way."""
    return _OBSTACLES[reason.obstacle or Obstacle.NOBODY_OFFERS].format(
        caution=reason.caution or "Plants may not pass it without papers.",
        authority=reason.authority or "the plant health service",
        from_day=_before_about(reason.fits_from),
        your=asker.your,
    )


def _before_about(fits: date | None) -> str:
    """Give " before about 20 May": the day follows from a weather station, which holds to a fortnight."""
    return "" if fits is None else f" before about {fits.day}{NBSP}{dates.month(fits)}"


def plain_obstacle(obstacle: Obstacle) -> str:
    """Say what stands in the way, where nothing more is known of it."""
    return obstacle_sentence(ClaimReason(ClaimOutcome.UNMET, 0, 0, obstacle))


def _of_what_went(reason: ClaimReason, asker: Asker) -> str:
    part = reason.standing is ClaimOutcome.PART
    if reason.went is WentTo.ALL_GIVEN:
        return f"Only {_offered(reason, asker)}."
    if reason.went is WentTo.OWN_CLAIM:
        start = "In part only: what else" if part else "All that"
        return f"{start} could come to {asker.you} went to another claim of {asker.yours}."
    return "{start}{plants} and {others}; {rest}.".format(
        start="In part only: " if part else "",
        plants=_offered(reason, asker),
        others=counted(reason.others, "other household asked", "other households asked"),
        rest=_rest(reason, asker, part),
    )


def _offered(reason: ClaimReason, asker: Asker) -> str:
    if reason.offered == reason.in_all:
        return counted(reason.offered, "plant was offered", "plants were offered")
    plants = counted(reason.in_all, "plant", "plants")
    return f"{reason.offered} of {plants} offered could come to {asker.you}"


def _rest(reason: ClaimReason, asker: Asker, part: bool) -> str:
    if reason.went is WentTo.NONE_LEFT:
        return "no more was left for this claim" if part else "none was left for this claim"
    own = ""
    if reason.own:
        plants = counted(reason.own, "plant", "plants")
        own = f"{plants} went to another claim of {asker.yours}, "
    rest = "the rest" if part or reason.own else "it" if reason.offered == 1 else "they"
    return f"{own}{rest} went {_where(reason, asker)}"


def _where(reason: ClaimReason, asker: Asker) -> str:
    went = reason.went or WentTo.BY_RULES
    told = _TO_ONE if reason.winners == 1 else _TO_MANY
    return (told.get(went) or _WENT[went]).format(you=asker.you)
