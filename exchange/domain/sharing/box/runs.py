"""Which words of a line are its name, and which are other words."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from exchange.domain.sharing.box.tokens import Token, TokenKind

LONGEST_RUN = 6
"""Most words of an unknown name; more are taken for a sentence and asked about (judgement) [words]."""


_LEADING = frozenset({
    "of", "the", "x", "×", "plant", "plants", "pcs", "pieces", "pots", "pot", "good", "nice",
    "healthy", "strong", "large", "small", "big", "fine", "lovely", "also", "and", "i", "we",
    "can", "could", "offer", "spare", "spares", "have", "extra", "give", "is", "are", "there",
    "got", "i've", "we've", "hello", "hi", "still",
})  # fmt: skip


_TRAILING = frozenset({
    "of", "the", "x", "×", "plant", "plants", "pcs", "pieces", "pot", "pots", "please", "thanks",
    "spare", "each", "and", "is", "are", "-",
})  # fmt: skip


_TAIL = frozenset({
    "from", "in", "with", "on", "at", "that", "which", "ready", "to", "by", "as", "is", "are",
    "for", "still", "under", "off", "until", "has", "have", "was", "all", "my", "our",
})  # fmt: skip


@dataclass(slots=True)
class Runs:
    """Runs of words in a line: the name's, and the others'."""

    name: list[Token]
    others: list[Token]
    odd: bool = False


def _runs(tokens: Sequence[Token]) -> list[list[Token]]:
    """Give the runs of words and names that stand together."""
    runs: list[list[Token]] = [[]]
    for one in tokens:
        if one.part in {TokenKind.WORD, TokenKind.NAME}:
            runs[-1].append(one)
        elif runs[-1]:
            runs.append([])
    return [trimmed for run in runs if (trimmed := _trimmed(run))]


def _trimmed(run: list[Token]) -> list[Token]:
    while run and run[0].text in _LEADING | {one.capitalize() for one in _LEADING if run[1:]}:
        run = run[1:]
    while run and run[-1].text in _TRAILING:
        run = run[:-1]
    return [one for one in run if re.search(r"\w|[\ue000-\ue03f]", one.text)]


def runs_in(tokens: Sequence[Token], *, known: bool) -> Runs:
    """Tell the name's words from the others.

    Parameters
    ----------
    known : whether a covered name stands in the line
    """
    runs = _runs(tokens)
    if not runs:
        return Runs([], [])
    if known:
        return _around_a_name(runs)
    chosen = next((run for run in runs if any(one.text[:1].isupper() for one in run)), runs[0])
    tail = next((at for at, one in enumerate(chosen) if at and one.text in _TAIL), len(chosen))
    name, others = chosen[:tail], chosen[tail:]
    following = _bracket_after(name[-1], tokens)
    others += [one for run in runs for one in run if run is not chosen and one not in following]
    lower = sum(one.text[:1].islower() for one in name)
    odd = len(name) > LONGEST_RUN or (len(name) > 3 and lower > 2)
    return Runs([*name, *following], others, odd)


def _bracket_after(last: Token, tokens: Sequence[Token]) -> list[Token]:
    """Give the capitalised words in brackets straight after an unknown name: they may belong to it."""
    at = next(place for place, one in enumerate(tokens) if one.start == last.start) + 1
    if at >= len(tokens) or tokens[at].text != "(":
        return []
    inside: list[Token] = []
    for one in tokens[at + 1 :]:
        if one.text == ")":
            return inside
        if one.part is not TokenKind.WORD or not one.text[:1].isupper():
            return []
        inside.append(one)
    return []


def _around_a_name(runs: list[list[Token]]) -> Runs:
    """Split the run that holds the covered name into what belongs to the name and what does not."""
    chosen = next(run for run in runs if any(one.part is TokenKind.NAME for one in run))
    others = [one for run in runs if run is not chosen for one in run if one.part is TokenKind.WORD]
    at = next(place for place, one in enumerate(chosen) if one.part is TokenKind.NAME)
    before, after = chosen[:at], chosen[at + 1 :]
    tail = next((place for place, one in enumerate(after) if one.text in _TAIL), len(after))
    if any(one.part is TokenKind.NAME for one in after):
        return Runs([chosen[at]], others + before + after)
    prose = bool(before) and before[0].text[:1].islower()
    longer = [] if prose else before
    odd = prose or bool({one.text for one in before} & {"I", "My", "The", "We"})
    return Runs(
        [*longer, chosen[at], *after[:tail]],
        [*(before if prose else []), *after[tail:], *others],
        odd,
    )
