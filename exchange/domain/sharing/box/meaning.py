"""What a line means by itself: a spare, a wish or neither, and what of it has to be asked."""

from dataclasses import replace

from exchange.domain.sharing.box import doubts as words
from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What, Why
from exchange.domain.sharing.box.names import Covered
from exchange.domain.sharing.box.other_words import harmless, odd_name
from exchange.domain.sharing.box.phrase import Phrase, read_phrase


def read_asking(covered: Covered) -> Phrase:
    """Read a line; where it asks for plants, without the words that ask."""
    return read_phrase(_without_asking(covered) if words.wish(covered.text) else covered)


def _without_asking(covered: Covered) -> Covered:
    """Give a line that asks for plants without the words that ask."""
    text = words.WISH_WORDS.sub(" ", covered.text).replace("?", " ")
    return Covered(text, covered.names, covered.known)


def entry_of(blank: BoxEntry, covered: Covered, phrase: Phrase) -> BoxEntry:
    """Make an entry of a line read by itself."""
    entry = replace(
        blank,
        named=bool(covered.known),
        what=What.SPARE,
        count=phrase.count,
        material=phrase.material,
        species=phrase.species,
        raised=phrase.raised,
        name=phrase.name,
        says_material=phrase.said_material,
        rest=" ".join(one for one in (phrase.rest, phrase.sizes) if one),
        doubts=phrase.doubts | (frozenset() if phrase.count is not None else {BoxDoubt.COUNT}),
    )
    said = covered.text
    counted = phrase.counted
    bare = not phrase.numbers and not phrase.said_material
    if phrase.names > 1 and not words.none_left(said, counted=counted):
        every = {BoxDoubt.WHAT, BoxDoubt.COUNT, BoxDoubt.MATERIAL, BoxDoubt.NAME}
        return replace(entry, why=Why.SEVERAL, doubts=entry.doubts | every)
    if words.wish(said):
        return _wish(entry, phrase, said)
    if words.promised(said) and phrase.numbers < 2 and not words.says_no(said):
        return replace(entry, what=What.OUT, why=Why.PROMISED, doubts=frozenset())
    if words.none_left(said, counted=counted):
        return replace(entry, what=What.OUT, why=Why.NONE_LEFT, doubts=frozenset())
    if bare and not phrase.known:
        return _bare(entry, phrase, covered)
    if not phrase.name:
        return replace(blank, fault="no name")
    odd = odd_name(phrase.name, known_inside=bool(covered.known)) and not phrase.known
    if odd or not harmless(phrase.rest):
        more = {BoxDoubt.WHAT, BoxDoubt.COUNT}
        entry = replace(entry, why=Why.UNCERTAIN, doubts=entry.doubts | more)
    return _questioned(entry, phrase.said)


def _questioned(entry: BoxEntry, said: str) -> BoxEntry:
    """Ask whether it is a spare at all where a word of the line makes that uncertain."""
    why = None
    if "?" in said:
        why = Why.QUESTION
    elif words.says_no(said) or words.uncertain(said):
        why = Why.UNCERTAIN
    elif words.promised(said) or words.perhaps_promised(said):
        why = Why.PROMISED
    if why is None:
        more = {BoxDoubt.WHAT} if BoxDoubt.WHAT in entry.doubts else set()
        return replace(entry, why=Why.UNCERTAIN if more else None)
    return replace(entry, why=why, doubts=entry.doubts | {BoxDoubt.WHAT, BoxDoubt.COUNT})


def _wish(entry: BoxEntry, phrase: Phrase, said: str) -> BoxEntry:
    """Read a line that asks for plants; where it says no number, one is asked for."""
    name = phrase.name
    unsure = entry.doubts & {BoxDoubt.COUNT} if phrase.numbers else frozenset()
    if not name:
        return replace(entry, what=What.OUT, why=Why.NOTHING_SAID, name="", doubts=frozenset())
    doubts = set(unsure) | (set() if phrase.known else {BoxDoubt.NAME})
    if words.says_no(said) or words.promised(said) or not harmless(phrase.rest):
        doubts |= {BoxDoubt.WHAT}
    return replace(
        entry, what=What.WISH, name=name, count=phrase.count or 1, doubts=frozenset(doubts)
    )


def _bare(entry: BoxEntry, phrase: Phrase, covered: Covered) -> BoxEntry:
    """Leave a line out that says neither number nor material nor a known name; a likely name is asked about."""
    parts = phrase.name.split()
    likely = (
        0 < len(parts) <= 4
        and not phrase.rest
        and all(one[:1].isupper() or one[:1].isdigit() for one in parts)
    )
    mentioned = bool(covered.known)
    if not likely and not mentioned:
        return replace(entry, what=What.OUT, why=Why.NOTHING_SAID, doubts=frozenset())
    asked = {BoxDoubt.WHAT, BoxDoubt.NAME}
    return replace(entry, why=Why.UNCERTAIN, doubts=entry.doubts | asked)
