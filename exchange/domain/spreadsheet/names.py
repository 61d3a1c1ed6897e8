"""Which variety a name in a file means: the same name is found, near ones are asked about once."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from exchange.domain.growing.alike import AlikeNames
from exchange.domain.growing.names import fold
from exchange.domain.growing.variety import Species, Variety
from exchange.domain.spreadsheet.choices import LEFT_OUT, NEW

AS = "as:"
"""Before a folded name, in the answer that a name means the same as another new one of the file."""


@dataclass(frozen=True, slots=True)
class NameMeant:
    """Which variety a name means.

    Attributes
    ----------
    meant : "12", "new:dahlia" or "out"; empty where it has to be asked
    name : the name to keep, where it is a new one
    may_be : varieties it may mean, to choose from
    like : new names of the file it is like
    """

    meant: str
    name: str
    may_be: tuple[Variety, ...] = ()
    like: tuple[str, ...] = ()


class FileNames:
    """The varieties a file can speak of, and the new names in it so far."""

    def __init__(self, known: Iterable[Variety], answers: Mapping[str, str] | None = None) -> None:
        """Know the circle's varieties.

        Parameters
        ----------
        answers : which variety names mean [folded name -> answer]
        """
        self.known = tuple(known)
        self.by_id = {str(one.id): one for one in self.known}
        self._answers = dict(answers or {})
        self._same: dict[str, list[Variety]] = {}
        for one in self.known:
            self._same.setdefault(fold(one.name), []).append(one)
        self._spellings = frozenset(one.name for one in self.known)
        self._near_names = AlikeNames(one.name for one in self.known)
        self._by_name: dict[str, list[Variety]] = {}
        for one in self.known:
            self._by_name.setdefault(one.name, []).append(one)
        self._alike: dict[str, tuple[str, ...]] = {}
        self.new: dict[str, tuple[str, Species | None]] = {}

    def find(
        self, written: str, name: str, species: Species | None, *, sure: bool = True
    ) -> NameMeant:
        """Give which variety is meant.

        Parameters
        ----------
        written : the cell, by which an answer is known
        name : the name read in it
        sure : whether that is surely the name
        """
        said = self._answers.get(fold(written), "")
        if said:
            return self.as_answered(said, name)
        same = self._same.get(fold(name), [])
        exact = [one for one in same if species in {None, one.species}]
        if len(exact) == 1 and sure:
            return NameMeant(str(exact[0].id), exact[0].name)
        if same:
            return NameMeant("", name, tuple(same))
        told = self.new.get(fold(name), ("", None))[1]
        if sure and told is not None:
            return self._known_new(name, species or told)
        alike = self._near(name)
        may_be = tuple(one for name in alike for one in self._by_name.get(name, ()))
        like = tuple(one for one in alike if one not in self._spellings)
        if may_be or like or not sure:
            return NameMeant("", name, may_be, like)
        if species is None or species is Species.BEGONIA:
            self._add(name, None)
            return NameMeant("", name)
        self._add(name, species)
        return self._known_new(name, species)

    def _known_new(self, name: str, species: Species) -> NameMeant:
        first_name, first = self.new[fold(name)]
        if first is not None and first is not species:
            return NameMeant("", name, like=(first_name,))
        return NameMeant(f"{NEW}:{species.value}", first_name)

    def as_answered(self, said: str, name: str) -> NameMeant:
        """Give what an answer says a name means; nothing where it is no answer."""
        if said in self.by_id:
            return NameMeant(said, self.by_id[said].name)
        if said.startswith(f"{NEW}:"):
            kind = said.removeprefix(f"{NEW}:")
            known = kind in set(Species)
            if known:
                self._add(name, Species(kind))
            return NameMeant(said if known else "", name)
        if said.startswith(AS):
            other = self.new.get(said.removeprefix(AS))
            if other and other[1]:
                return NameMeant(f"{NEW}:{other[1].value}", other[0])
            there = self._answers.get(said.removeprefix(AS), "")
            return self.as_answered(there, other[0]) if other and there else NameMeant("", name)
        return NameMeant(LEFT_OUT if said == LEFT_OUT else "", name)

    def _add(self, name: str, species: Species | None) -> None:
        there = self.new.get(fold(name))
        if there is None or (there[1] is None and species is not None):
            self.new[fold(name)] = (name, species)
            self._near_names.add(name)

    def _near(self, name: str) -> tuple[str, ...]:
        """Give the names of the circle and of the file that are like this one, reckoned once a name."""
        key = fold(name)
        if key not in self._alike:
            self._alike[key] = self._near_names.near(name)
        return self._alike[key]
