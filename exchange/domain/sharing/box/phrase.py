"""One line read by itself: what it says of number, material, raising, kind and name, and what is unsure."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from exchange.domain.growing.batch import Material, Raised
from exchange.domain.growing.variety import Species
from exchange.domain.sharing.box.entry import BoxDoubt
from exchange.domain.sharing.box.names import Covered
from exchange.domain.sharing.box.numbers import Number
from exchange.domain.sharing.box.plant_words import material_of, raised_of
from exchange.domain.sharing.box.runs import Runs, runs_in
from exchange.domain.sharing.box.tokens import Token, TokenKind, tokens_of

_SAID = frozenset({TokenKind.WORD, TokenKind.NAME, TokenKind.MARK})


@dataclass(frozen=True, slots=True)
class Phrase:
    """What a line says by itself.

    Attributes
    ----------
    count : the one number, None where there is none or several [plants]
    numbers : how many numbers of plants stand in the line
    names : how many names the line seems to hold
    known : whether the name is one the circle knows
    leads : whether the line begins with a bare number and the name, as a numbered list would
    counted : whether a number with a value stands in the line
    rest : words that were not understood
    sizes : sizes, prices and days, which are not kept
    said : the line without its numbers, sizes and plant words, for the doubts that words raise
    """

    count: int | None
    numbers: int
    material: Material | None
    raised: Raised | None
    species: Species | None
    name: str
    names: int
    known: bool
    said_material: bool
    leads: bool
    counted: bool
    rest: str
    sizes: str
    said: str
    doubts: frozenset[BoxDoubt]


def read_phrase(covered: Covered) -> Phrase:
    """Read a covered line by itself."""
    tokens = _settled(tokens_of(covered.text))
    named = [one for one in tokens if one.part is TokenKind.NAME]
    words = runs_in(tokens, known=bool(named))
    doubts = set[BoxDoubt]()
    numbers = _numbers(tokens)
    count = numbers[0].number if len(numbers) == 1 else None
    if len(numbers) > 1 or (count and not _surely(numbers[0], count, tokens, words)):
        doubts.add(BoxDoubt.COUNT)
    if any(re.search(r"\d", one.text) for one in words.others if one.part is TokenKind.WORD) or any(
        re.search(r"\d", one.text) and not one.text.casefold().startswith(("no", "nr", "#"))
        for one in words.name
    ):
        doubts.add(BoxDoubt.COUNT)
    material, sure_of_material = _material(tokens, bare_name=not named and bool(words.name))
    if not sure_of_material:
        doubts.add(BoxDoubt.MATERIAL)
    raised, sure_of_raising = _raised(tokens)
    if not sure_of_raising:
        doubts.add(BoxDoubt.RAISED)
    if words.odd:
        doubts |= {BoxDoubt.WHAT, BoxDoubt.COUNT}
    kinds = {one.species for one in tokens if one.species}
    name = _joined(covered, words.name)
    return Phrase(
        count=count.value if count else None,
        numbers=len(numbers),
        material=material,
        raised=raised,
        species=kinds.pop() if len(kinds) == 1 else None,
        name=name,
        names=max(len(named), 1 if name else 0),
        known=len(words.name) == 1 and words.name[0].part is TokenKind.NAME
        and ord(words.name[0].text) - 0xE000 < covered.known,
        said_material=any(one.part is TokenKind.MATERIAL for one in tokens),
        leads=bool(tokens) and tokens[0].part is TokenKind.NUMBER and tokens[0].text.isdigit()
        and len(tokens) > 1 and tokens[1].part in {TokenKind.NAME, TokenKind.WORD, TokenKind.MARK, TokenKind.SPECIES},
        counted=any(one.number.value is not None for one in numbers if one.number),
        said=" ".join(one.text for one in tokens if one.part in _SAID),
        rest=" ".join(covered.uncovered(one.text) for one in words.others),
        sizes=" ".join(one.text for one in tokens if one.part is TokenKind.SIZE),
        doubts=frozenset(doubts),
    )  # fmt: skip


def _settled(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """Take a capitalised plant word inside an unknown name, and a lone raising word beside words, for words."""
    settled: list[Token] = []
    for at, one in enumerate(tokens):
        before = tokens[at - 1] if at else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        alone = _apart(before) and _apart(after)
        embedded = (
            one.part is TokenKind.RAISED
            and not alone
            and one.text[:1].isupper()
            and raised_of(one.text, alone=False) in {None, (None,)}
        )
        seedling = one.text.casefold() == "seedling"
        word = Token(TokenKind.WORD, one.text, one.start, one.end)
        settled.append(word if embedded or seedling else one)
    return tuple(settled)


def _apart(token: Token | None) -> bool:
    return token is None or token.part is TokenKind.MARK


def _joined(covered: Covered, name: Sequence[Token]) -> str:
    """Give the name as it was written; words in brackets stay in them."""
    if not name:
        return ""
    written = covered.text[name[0].start : name[-1].end]
    if "(" in written and ")" not in written:
        written += ")"
    return " ".join(covered.uncovered(written).split()).strip(" ,;:.-*'\"‘’“”`")


def _numbers(tokens: Sequence[Token]) -> list[Token]:
    """Give the numbers of plants; "a" is one only before what is sent or at the beginning."""
    found: list[Token] = []
    articles: list[Token] = []
    for at, one in enumerate(tokens):
        if one.number is None:
            continue
        after = tokens[at + 1].part if at + 1 < len(tokens) else TokenKind.MARK
        if not one.number.article or after is TokenKind.MATERIAL:
            found.append(one)
        elif at == 0 and after in {TokenKind.NAME, TokenKind.SPECIES}:
            articles.append(one)
    return found or articles


def _surely(token: Token, number: Number, tokens: Sequence[Token], words: Runs) -> bool:
    """Say whether a number is surely how many plants there are."""
    if not number.sure:
        return False
    at = tokens.index(token)
    beginning = max(
        (place + 1 for place in range(at) if tokens[place].part is TokenKind.MARK), default=0
    )
    before = tokens[beginning:at]
    if any(one in words.others for one in before):
        return False
    after = tokens[at + 1] if at + 1 < len(tokens) else None
    last = before[-1] if before else None
    # "Larksong 3" may be a name with a number in it; "x3" and "3 x" are numbers of plants.
    in_a_name = (
        last is not None
        and last in words.name
        and last.part is TokenKind.WORD
        and not re.search(r"[x×]|of$", token.text)
    )
    # A number on its own beside words that were not understood: "only 2 look good".
    lost = after is not None and after.part is TokenKind.WORD and after in words.others
    return not in_a_name and not lost


def _material(tokens: Sequence[Token], *, bare_name: bool) -> tuple[Material | None, bool]:
    read = [
        (one, said)
        for one in tokens
        if one.part is TokenKind.MATERIAL and (said := material_of(one.text))
    ]
    strong = {material for _one, (material, decides) in read if decides}
    if len(strong) != 1:
        return None, False
    (material,) = strong
    if material in {None, Material.SEED}:
        return material, False
    # "2 Stool Pigeon": a capitalised word before an unknown name may be part of it.
    in_name = bare_name and any(
        one.text[:1].isupper() and _is_word(tokens, tokens.index(one) + 1) and tokens[0] != one
        for one, (_material_, decides) in read
        if decides
    )
    return material, not in_name


def _is_word(tokens: Sequence[Token], at: int) -> bool:
    return at < len(tokens) and tokens[at].part is TokenKind.WORD and tokens[at].text[:1].isupper()


def _raised(tokens: Sequence[Token]) -> tuple[Raised | None, bool]:
    found: set[Raised | None] = set()
    for at, one in enumerate(tokens):
        if one.part is not TokenKind.RAISED:
            continue
        alone = _apart(tokens[at - 1] if at else None) and _apart(
            tokens[at + 1] if at + 1 < len(tokens) else None
        )
        said = raised_of(one.text, alone=alone)
        found.add(said[0] if said else None)
    if len(found) == 1:
        (raised,) = found
        return raised, raised is not None
    return None, not found
