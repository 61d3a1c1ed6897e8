"""Which modules of the program a test file reaches, read from the files without running them.

Seen: what the file, and the helpers of `tests/` it imports, import from the program, and what those
modules import in turn, two steps on. Pages and commands are reached by name as well: a page where
the path of its blueprint stands in the file, a command where its word stands there or in a helper
and the program is called. A package's own `__init__` passes names on and counts as no step.

Not seen: whether a line of the module runs, and what comes in by a fixture alone.
"""

import ast
from collections.abc import Iterable, Iterator
from functools import cached_property
from pathlib import Path

STEPS = 2


class Checkout:
    """The files of the program, `exchange/`, and of its `tests/` below one root."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._trees: dict[Path, ast.Module] = {}
        self._imports: dict[Path, set[str]] = {}

    @cached_property
    def files(self) -> dict[str, Path]:
        """Give each module's file by its dotted name; migrations stay as they were written."""
        found = [path for top in ("exchange", "tests") for path in (self.root / top).rglob("*.py")]
        return {self.name_of(path): path for path in found if "migrations" not in path.parts}

    def name_of(self, path: Path) -> str:
        parts = path.relative_to(self.root).with_suffix("").parts
        return ".".join(part for part in parts if part != "__init__")

    def tree(self, path: Path) -> ast.Module:
        if path not in self._trees:
            self._trees[path] = ast.parse(path.read_text(encoding="utf-8"), filename=str(path))
        return self._trees[path]

    def imports(self, path: Path) -> set[str]:
        """Give the modules a file imports, wherever in it the import stands."""
        if path not in self._imports:
            self._imports[path] = set(_imported(self.tree(path))) & self.files.keys()
        return self._imports[path]

    def reached(self, test: Path) -> set[str]:
        """Give the names of the program's modules that a test file reaches."""
        front = self._passed_on(self._begun(test))
        seen = set(front)
        for _ in range(STEPS):
            onward = {each for name in front for each in self.imports(self.files[name])}
            front = self._passed_on(onward) - seen
            seen |= front
        return seen

    def _begun(self, test: Path) -> set[str]:
        """Give what a test, and the helpers it imports, begin with."""
        begun: set[str] = set()
        words: set[str] = set()
        left, helpers = [test], {test}
        while left:
            path = left.pop()
            words |= _words(self.tree(path))
            for name in self.imports(path):
                if name.split(".")[0] == "exchange":
                    begun.add(name)
                elif self.files[name] not in helpers:
                    helpers.add(self.files[name])
                    left.append(self.files[name])
        if "exchange.cli" in begun or "exchange" in words:
            begun |= {module for word, module in self._commands.items() if word in words}
        own = _words(self.tree(test))
        return begun | {
            page for page, paths in self._pages.items() if any(_within(one, paths) for one in own)
        }

    def _passed_on(self, names: Iterable[str]) -> set[str]:
        """Add what the packages among the names import themselves."""
        known = set(names)
        left = list(known)
        while left:
            path = self.files[left.pop()]
            if path.name == "__init__.py":
                more = self.imports(path) - known
                known |= more
                left += more
        return known

    @cached_property
    def _pages(self) -> dict[str, set[str]]:
        """Give the paths each page module answers at."""
        return {
            name: paths
            for name, path in self.files.items()
            if name.startswith("exchange.web.") and (paths := set(_paths(self.tree(path))))
        }

    @cached_property
    def _commands(self) -> dict[str, str]:
        """Give the module of each command by the word it is called with."""
        table = self.files.get("exchange.cli")
        return dict(_entries(self.tree(table))) if table else {}


def _imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _words(tree: ast.AST) -> set[str]:
    """Give every string of a file; of one with values in it, the pieces between them."""
    constants = (node.value for node in ast.walk(tree) if isinstance(node, ast.Constant))
    return {value for value in constants if isinstance(value, str)}


def _paths(tree: ast.Module) -> Iterator[str]:
    """Give the path a module's blueprint stands at, or those of its views where it has none."""
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    for call in calls:
        if ast.unparse(call.func) == "Blueprint":
            set_paths = [each.value for each in call.keywords if each.arg == "url_prefix"]
            views = [each.args[0] for each in calls if _is_view(each)]
            for path in set_paths or views:
                yield ast.literal_eval(path).split("<")[0].rstrip("/")


def _is_view(call: ast.Call) -> bool:
    return ast.unparse(call.func) in {f"blueprint.{kind}" for kind in ("get", "post", "route")}


def _entries(tree: ast.Module) -> Iterator[tuple[str, str]]:
    """Give the word and the module of each `"word": Entry("module:name", ...)`."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Dict):
            for word, entry in zip(node.keys, node.values, strict=True):
                if isinstance(word, ast.Constant) and isinstance(entry, ast.Call):
                    yield word.value, ast.literal_eval(entry.args[0]).split(":")[0]


def _within(word: str, paths: set[str]) -> bool:
    """Whether a word of a test is one of these paths or lies below it; the front page is no sign."""
    return any(
        path and (word == path or word.startswith((path + "/", path + "?"))) for path in paths
    )
