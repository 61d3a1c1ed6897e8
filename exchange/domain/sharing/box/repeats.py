"""Lines beside each other: what is written twice, what corrects an earlier line, and numbers that only count the lines."""

from dataclasses import replace

from exchange.domain.growing.names import fold
from exchange.domain.sharing.box import doubts as words
from exchange.domain.sharing.box.entry import BoxDoubt, BoxEntry, What, Why
from exchange.domain.sharing.box.layout import TextLine, TextPart

FEWEST_COUNTED = 3
"""From how many lines numbers 1, 2, 3 may only count the lines (judgement) [lines]."""

_BOTH = frozenset({BoxDoubt.WHAT, BoxDoubt.COUNT})


def beside_each_other(
    entries: tuple[BoxEntry, ...], lines: tuple[TextLine, ...]
) -> tuple[BoxEntry, ...]:
    """Compare the entries of a box with each other."""
    bare = {one.number: one.bare for one in lines}
    found = _spoken_of(_counting(entries, bare), {one.number: one for one in lines})
    for at, one in enumerate(found):
        if one.what is What.OUT or one.fault:
            continue
        earlier = [
            place
            for place in range(at)
            if (fold(found[place].name), found[place].leader) == (fold(one.name), one.leader)
            and found[place].what is one.what
        ]
        corrects = words.without_correction(bare[one.number]) is not None
        if corrects or (words.may_correct(bare[one.number]) and earlier):
            _correct(found, at, earlier, plain=corrects)
        elif earlier:
            _repeat(found, at, earlier)
    return tuple(found)


def _correct(found: list[BoxEntry], at: int, earlier: list[int], *, plain: bool) -> None:
    one = found[at]
    clean = (
        plain and len(earlier) == 1 and not one.doubts & {*_BOTH, BoxDoubt.MATERIAL, BoxDoubt.NAME}
    )
    before = found[earlier[0]] if earlier else None
    if clean and before is not None and before.material is one.material:
        found[earlier[0]] = replace(before, what=What.OUT, why=Why.CORRECTED, doubts=frozenset())
        return
    for place in (*earlier, at):
        found[place] = replace(found[place], why=Why.CORRECTED, doubts=found[place].doubts | _BOTH)


def _repeat(found: list[BoxEntry], at: int, earlier: list[int]) -> None:
    one = found[at]
    for place in earlier:
        before = found[place]
        if (
            one.what is What.SPARE
            and one.material is not before.material
            and (one.material is not None and before.material is not None)
        ):
            continue
        same = (one.count, one.raised, one.rest) == (before.count, before.raised, before.rest)
        if same and one.doubts == before.doubts and BoxDoubt.COUNT not in one.doubts:
            found[at] = replace(one, what=What.OUT, why=Why.REPEATED, doubts=frozenset())
            return
        for both in (place, at):
            found[both] = replace(found[both], why=Why.REPEATED, doubts=found[both].doubts | _BOTH)


def _spoken_of(found: list[BoxEntry], lines: dict[int, TextLine]) -> list[BoxEntry]:
    """Ask about lines that a nameless line beside them speaks of: "(both promised)", "scrap that", "Maud"."""
    for at, one in enumerate(found):
        line = lines[one.number]
        if line.part is TextPart.SIGNATURE or one.why in {Why.HEADING, Why.QUOTED}:
            continue
        above = (
            not one.named
            and words.speaks_of_above(line.bare)
            and (
                one.what is What.OUT
                or BoxDoubt.WHAT in one.doubts
                or one.fault
                or one.name.islower()
            )
        )
        leads = (
            one.why is Why.UNCERTAIN
            and one.count is None
            and not one.says_material
            and BoxDoubt.NAME in one.doubts
            and (at == 0 or lines[found[at - 1].number].block != line.block)
        )
        if above:
            _ask(found, [place for place in range(at) if _near(lines, found[place], line)])
        if leads:
            same = range(at + 1, len(found))
            _ask(found, [place for place in same if lines[found[place].number].block == line.block])
    return found


def _near(lines: dict[int, TextLine], entry: BoxEntry, line: TextLine) -> bool:
    return line.block - lines[entry.number].block <= 1


def _ask(found: list[BoxEntry], places: list[int]) -> None:
    for place in places:
        one = found[place]
        if one.what is not What.OUT and not one.fault:
            found[place] = replace(one, why=one.why or Why.UNCERTAIN, doubts=one.doubts | _BOTH)


def _counting(entries: tuple[BoxEntry, ...], bare: dict[int, str]) -> list[BoxEntry]:
    """Ask for the number of every line where 1, 2, 3 before the names may only count the lines."""
    found = list(entries)
    leading = [
        place
        for place, one in enumerate(found)
        if one.what is not What.OUT and _begins_with_its_count(one, bare[one.number])
    ]
    run: list[int] = []
    for place in [*leading, -1]:
        if place >= 0 and found[place].count == len(run) + 1:
            run.append(place)
            continue
        if len(run) >= FEWEST_COUNTED:
            for one in run:
                found[one] = replace(found[one], doubts=found[one].doubts | {BoxDoubt.COUNT})
        run = [place] if place >= 0 and found[place].count == 1 else []
    return found


def _begins_with_its_count(entry: BoxEntry, bare: str) -> bool:
    said = str(entry.count)
    rest = bare[len(said) :].lstrip()
    return (
        entry.count is not None
        and bare.startswith(said)
        and fold(rest).startswith(fold(entry.name))
    )
