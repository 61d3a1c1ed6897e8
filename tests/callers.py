"""What stands above the acts, a view or a command, and how many acts it calls on any one path."""

import ast
from collections.abc import Callable

from tests.flow import most_on_one_way
from tests.functions import Program, acts_of


class Callers:
    """The functions of a layer that somebody outside calls, and the acts each calls on one way.

    Parameters
    ----------
    layer : what the names of the layer begin with; what a door calls of it is followed
    is_door : says whether a function is called from outside
    before : what the names of functions begin with that are done with before any act
    """

    def __init__(
        self,
        program: Program,
        layer: str,
        is_door: Callable[[ast.FunctionDef], bool],
        before: tuple[str, ...],
    ) -> None:
        self.program, self.layer, self.is_door, self.before = program, layer, is_door, before
        self.acts = acts_of(program)
        self._counted: dict[str, int] = {}

    def doors(self) -> list[str]:
        functions = self.program.functions.items()
        return sorted(
            name for name, node in functions if name.startswith(self.layer) and self.is_door(node)
        )

    def acts_in(self, name: str) -> int:
        """Give the most acts on one way through a function, with what it calls of its layer."""
        if name not in self._counted:
            self._counted[name] = 0  # one that calls itself counts once
            module = self.program.module_of(name)
            self._counted[name] = most_on_one_way(
                self.program.functions[name], lambda call: self._weight(module, call)
            )
        return self._counted[name]

    def _weight(self, module: str, call: ast.Call) -> int:
        called = self.program.called(module, call) or ""
        if called in self.acts and called.startswith("exchange.actions."):
            return 1
        followed = called in self.program.functions and called.startswith(self.layer)
        return self.acts_in(called) if followed and not called.startswith(self.before) else 0

    def too_many(self) -> set[str]:
        return {name.removeprefix(self.layer) for name in self.doors() if self.acts_in(name) > 1}
