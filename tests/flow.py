"""The most that happens on any one path through a function, by its syntax tree.

Branches of an `if` or a `match` are ways of their own; a `return`, a `raise` and an `abort()` end a
way. What stands in a loop counts twice. After a block that catches refusals (`with refusals_...`,
`with town_beside(...)`, `try`) the way goes on either from the block's end, with all that was done
in it, or from its refusal: then nothing of it was kept, and counting begins anew. Functions within
the function, and lambdas, are values: they count where they are called, if anybody sees it.
"""

import ast
from collections.abc import Callable, Iterable
from dataclasses import dataclass

CATCHES_REFUSALS = ("refusals_beside", "refusals_told", "town_beside")
"""Makers of context managers that end a block at a refusal; all are in the web's frame and people."""

Weight = Callable[[ast.Call], int]


@dataclass(frozen=True)
class Ways:
    """The most on any way.

    Attributes
    ----------
    through : on ways that come to the end of the block, None when none does
    ended : on ways that end within it
    """

    through: int | None = 0
    ended: int = 0

    @property
    def most(self) -> int:
        return max(self.through or 0, self.ended)

    def then(self, after: "Ways") -> "Ways":
        """Give the ways of two blocks, one after the other."""
        if self.through is None:
            return self
        through = None if after.through is None else self.through + after.through
        return Ways(through, max(self.ended, self.through + after.ended))

    def beside(self, other: "Ways") -> "Ways":
        """Give the ways of either of two blocks."""
        open_ends = [each for each in (self.through, other.through) if each is not None]
        return Ways(max(open_ends, default=None), max(self.ended, other.ended))


def most_on_one_way(function: ast.FunctionDef, weight: Weight) -> int:
    """Give the most that a function's calls weigh on any one way through it."""
    return _block(function.body, weight).most


def _block(statements: Iterable[ast.stmt], weight: Weight) -> Ways:
    ways = Ways()
    for statement in statements:
        ways = ways.then(_statement(statement, weight))
    return ways


def _statement(statement: ast.stmt, weight: Weight) -> Ways:
    match statement:
        case ast.FunctionDef() | ast.AsyncFunctionDef() | ast.ClassDef():
            return Ways()
        case ast.If(test=test, body=body, orelse=orelse):
            branches = _block(body, weight).beside(_block(orelse, weight))
            return Ways(_weighed(test, weight)).then(branches)
        case ast.Match(subject=subject, cases=cases):
            branches = Ways()
            for case in cases:
                branches = branches.beside(_block(case.body, weight))
            return Ways(_weighed(subject, weight)).then(branches)
        case ast.For(iter=once, body=body, orelse=orelse):
            return Ways(_weighed(once, weight)).then(_twice(Ways(), body, orelse, weight))
        case ast.While(test=test, body=body, orelse=orelse):
            return _twice(Ways(_weighed(test, weight)), body, orelse, weight)
        case ast.With(items=items, body=body):
            begun = Ways(sum(_weighed(item.context_expr, weight) for item in items))
            whole = begun.then(_block(body, weight))
            return whole.beside(Ways()) if any(map(_catches, items)) else whole
        case ast.Try(body=body, handlers=handlers, orelse=orelse, finalbody=final):
            ways = _block([*body, *orelse], weight)
            for handler in handlers:
                ways = ways.beside(_block(handler.body, weight))
            return ways.then(_block(final, weight))
    done = _weighed(statement, weight)
    return Ways(None, done) if _ends(statement) else Ways(done)


def _twice(begun: Ways, body: list[ast.stmt], orelse: list[ast.stmt], weight: Weight) -> Ways:
    """Give the ways through a loop that goes round twice, or ends in its second round."""
    once = begun.then(_block(body, weight))
    through = once.through or 0
    return Ways(2 * through, through + once.ended).then(_block(orelse, weight))


def _catches(item: ast.withitem) -> bool:
    call = item.context_expr
    return isinstance(call, ast.Call) and ast.unparse(call.func) in CATCHES_REFUSALS


def _ends(statement: ast.stmt) -> bool:
    if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Call):
        return ast.unparse(statement.value.func) == "abort"
    return isinstance(statement, ast.Return | ast.Raise)


def _weighed(node: ast.AST, weight: Weight) -> int:
    if isinstance(node, ast.Lambda):
        return 0
    if isinstance(node, ast.IfExp):
        either = max(_weighed(node.body, weight), _weighed(node.orelse, weight))
        return _weighed(node.test, weight) + either
    inner = sum(_weighed(child, weight) for child in ast.iter_child_nodes(node))
    if isinstance(node, ast.ListComp | ast.SetComp | ast.DictComp | ast.GeneratorExp):
        first = _weighed(node.generators[0].iter, weight)
        return first + 2 * (inner - first)
    return inner + weight(node) if isinstance(node, ast.Call) else inner
