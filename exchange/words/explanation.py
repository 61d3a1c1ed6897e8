"""Sentences on what would have given way, and on what would change it. Nobody is ever named."""

from exchange.domain.sharing.explanation import Change, ChangeKind, WhatIf
from exchange.domain.sharing.preview import Preview
from exchange.domain.sharing.reason import Obstacle, Rule
from exchange.words import dates, plants
from exchange.words.phrase import _, counted

_GIVES_WAY = {
    Rule.MUST_NOT_BE_LOST: "a variety that must not be lost would have stood less safely.",
    Rule.ONE_EACH: "a member who had none would have gone without.",
    Rule.FAIR: "a member who had been given fewer would have been given fewer still.",
    Rule.WISHES: "somebody’s higher wish would not have been met.",
    Rule.FEWEST_PARCELS: "more parcels would have had to travel.",
    Rule.POSTAGE: "the postage would have been dearer.",
    Rule.DRAW: "all would have been equal: the draw number decided.",
}


def what_if_sentence(answer: WhatIf) -> str:
    """Say what would have given way, had the claim been given one plant more."""
    if answer.reason.given >= answer.reason.asked:
        return _("All that was asked for was given.")
    if not answer.possible or answer.rule is None:
        if answer.reason.obstacle in (None, Obstacle.FEWER):
            return _("No share-out could have given more: there are no more plants.")
        return _("No share-out could have given more, whatever the rules.")
    return _("Had you had it, {consequence}").format(consequence=_(_GIVES_WAY[answer.rule]))


def what_if_numbers(answer: WhatIf) -> str:
    """Give the numbers behind the sentence, for those who unfold them; empty when there are none."""
    if answer.rule is None or not answer.with_less:
        return ""
    less = counted(answer.with_less, _("household"), _("households"))
    if not answer.with_none:
        return _("{less} would have received fewer plants.").format(less=less)
    none = counted(answer.with_none, _("household"), _("households"))
    return _(
        "{less} would have received fewer plants, and {none} would have gone without a variety."
    ).format(less=less, none=none)


def change_sentence(change: Change) -> str:
    """Say what would have brought more plants."""
    more = counted(change.more, _("plant more"), _("plants more"))
    if change.kind is ChangeKind.MATERIAL and change.material is not None:
        return _("Taking it as {material} too would have brought {more}.").format(
            material=plants.material(change.material), more=more
        )
    if change.kind is ChangeKind.LATER and change.until is not None:
        return _("Still having use for it until {day} would have brought {more}.").format(
            day=dates.day(change.until), more=more
        )
    if change.kind is ChangeKind.TRAY:
        return _("Room for one more tray would have brought {more}.").format(more=more)
    return _("Plants hardened off first would have brought {more}.").format(more=more)


def preview_sentence(found: Preview) -> str:
    """Say how many claims other terms would change."""
    if not found.changed:
        return _("With this, no claim changes.")
    claims = counted(found.changed, _("claim changes"), _("claims change"))
    return _("With this, {claims}.").format(claims=claims)
