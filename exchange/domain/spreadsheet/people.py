"""Whose a row is: members called by their names, and near names only asked about."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from exchange.domain.growing.names import fold, near
from exchange.domain.spreadsheet.choices import LEFT_OUT
from exchange.domain.spreadsheet.known import KnownMember

IN_FILE = "file:"
"""Before the folded name of a member who is in the same file, where a member is meant."""


@dataclass(frozen=True, slots=True)
class PersonFound:
    """Which member a name means.

    Attributes
    ----------
    meant : "12", "file:maud hart" or "out"; empty where it has to be asked
    may_be : whom it may mean, to choose from [answer, name]
    """

    meant: str
    may_be: tuple[tuple[str, str], ...] = ()


class FilePeople:
    """The members a file can speak of: those of the circle, and those in the file itself."""

    def __init__(
        self,
        members: Iterable[KnownMember],
        in_file: Iterable[tuple[str, str]] = (),
        answers: Mapping[str, str] | None = None,
    ) -> None:
        """Know the members.

        Parameters
        ----------
        in_file : first and full names of members who are new in the file
        answers : whom names mean [folded name -> answer]
        """
        those = tuple(members)
        self.by_id = {str(one.id): one for one in those}
        self._answers = dict(answers or {})
        here = [(str(one.id), one.first_name, one.full_name) for one in those]
        known = {fold(full) for _id, _first, full in here}
        here += [
            (f"{IN_FILE}{fold(full)}", first, full)
            for first, full in in_file
            if fold(full) not in known
        ]
        self.everybody = tuple((meant, full) for meant, _first, full in here)
        self._names = dict(self.everybody)
        self._called = _unambiguous(here, those)
        self._found: dict[str, PersonFound] = {}

    def spoken_of(self) -> frozenset[str]:
        """Give the folded names by which members may be called, those of several among them."""
        first = {fold(full).split(" ")[0] for _meant, full in self.everybody}
        return frozenset(self._called) | frozenset(first)

    def find(self, text: str) -> PersonFound:
        """Give which member a name means."""
        key = fold(text)
        if key not in self._found:
            self._found[key] = self._look(key, text)
        return self._found[key]

    def name_of(self, meant: str) -> str:
        """Give the full name of a member."""
        return self._names.get(meant, "")

    def has_place(self, meant: str) -> bool:
        """Say whether it is known, or said in the file, where a member grows."""
        return self.by_id[meant].has_place if meant in self.by_id else True

    def household(self, meant: str) -> int:
        """Give a member's household, 0 for one who is in the file only."""
        return self.by_id[meant].household_id if meant in self.by_id else 0

    def _look(self, key: str, text: str) -> PersonFound:
        said = self._answers.get(key, "")
        if said == LEFT_OUT or said in self._names:
            return PersonFound(said)
        found = self._called.get(key) or self._called.get(_turned(key))
        if found:
            return PersonFound(found)
        alike = near(text, self._names.values())
        begins = [full for full in self._names.values() if key and key in fold(full).split()]
        names = dict.fromkeys([*alike, *begins])
        return PersonFound(
            "", tuple((meant, full) for meant, full in self.everybody if full in names)
        )


def _turned(key: str) -> str:
    """Give "maud hart" for "hart, maud"."""
    last, comma, first = key.partition(",")
    return f"{first.strip()} {last.strip()}" if comma else key


def _unambiguous(
    here: list[tuple[str, str, str]], members: Iterable[KnownMember]
) -> dict[str, str]:
    """Give the names that only one member is called by: whole ones, first names, addresses."""
    whole = Counter(fold(full) for _meant, _first, full in here)
    first = Counter(fold(one) for _meant, one, _full in here)
    called = {fold(one): meant for meant, one, _full in here if first[fold(one)] == 1}
    for one in whole:
        called.pop(one, None)
    called |= {fold(full): meant for meant, _first, full in here if whole[fold(full)] == 1}
    return called | {fold(one.email): str(one.id) for one in members if one.email}
