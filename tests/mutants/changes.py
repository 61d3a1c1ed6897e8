"""Small changes to a module's syntax tree, each of which a test should notice."""

import ast
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from types import CodeType
from typing import NamedTuple

_OPERATORS = "Lt-LtE Gt-GtE Eq-NotEq Is-IsNot In-NotIn Add-Sub Mult-Div BitOr-BitAnd And-Or"
_NAMES = "min-max any-all or_-and_ is_-is_not in_-not_in asc-desc"
_PAIRS = [pair.split("-") for pair in f"{_OPERATORS} {_NAMES}".split()]
TWINS = {a: b for pair in _PAIRS for a, b in (pair, pair[::-1])}
LINKS = {"where", "order_by", "limit"}
"""Parts of a query that can be left out."""
ASKED = {"all", "find", "first", "sorted", "min", "max"}
"""Calls that can be made with one keyword fewer."""
UNREAD = {"annotation", "returns", "decorator_list"}
"""Fields of the tree that change nothing a test could see."""
DROPPED = ast.Expr | ast.Raise | ast.AugAssign | ast.Delete | ast.Continue | ast.Break


class Mutant(NamedTuple):
    """A module with one change, described so that it stays the same when lines move."""

    function: str
    line: int
    change: str
    code: Callable[[], CodeType]


def mutants_of(file: str) -> Iterator[Mutant]:
    """Give every module that differs from the file in one place."""
    tree, seen = ast.parse(Path(file).read_text("utf-8")), Counter[str]()
    for fields, at, function in list(_places(tree)):
        old = fields[at]
        for new in _changes(old):
            before, after = (ast.unparse(one).partition("\n")[0] for one in (old, new))
            change = f"{function}: {before} -> {after}"
            seen[change] += 1
            again = f" ({seen[change]})" if seen[change] > 1 else ""
            code = partial(_compiled, tree, file, fields, at, ast.copy_location(new, old))
            yield Mutant(function, old.lineno, change + again, code)


def _compiled(
    tree: ast.Module, file: str, fields: dict | list, at: str | int, new: ast.AST
) -> CodeType:
    """Give the code of a tree with one node changed, and put the node back."""
    old, fields[at] = fields[at], new
    code = compile(ast.fix_missing_locations(tree), file, "exec")
    fields[at] = old
    return code


def _places(
    node: ast.AST, function: str = "", *, inside: bool = False
) -> Iterator[tuple[dict | list, str | int, str]]:
    """Give where each statement and expression sits, and the outermost function around it."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef) and not inside:
        function = f"{function}.{node.name}".lstrip(".")
    inside = inside or isinstance(node, ast.FunctionDef)
    for name, value in ast.iter_fields(node):
        if name in UNREAD or isinstance(node, ast.JoinedStr):
            continue
        for at, child in enumerate(value) if isinstance(value, list) else [(name, value)]:
            if isinstance(child, ast.stmt | ast.expr):
                yield value if isinstance(value, list) else vars(node), at, function
            if isinstance(child, ast.AST):
                yield from _places(child, function, inside=inside)


def _changes(old: ast.AST) -> Iterator[ast.AST]:
    """Give what can replace a node."""
    match old:
        case ast.If(_, body, otherwise):
            yield ast.If(ast.Constant(True), body, otherwise)
            if otherwise or len(body) > 1 or not isinstance(body[0], DROPPED):
                yield ast.If(ast.Constant(False), body, otherwise)
        case ast.Expr(ast.Constant() | ast.Yield() | ast.YieldFrom()):
            pass  # a docstring; a generator must stay one
        case ast.Assign([ast.Attribute() | ast.Subscript()]):
            yield ast.Pass()
        case ast.Return(ast.expr() as value) if ast.unparse(value) != "None":
            yield ast.Return(ast.Constant(None))
        case _ if isinstance(old, DROPPED):
            yield ast.Pass()
        case ast.Compare(left, [op], right):
            yield ast.Compare(left, [_twin(op)], right)
        case ast.BoolOp(op, values):
            yield ast.BoolOp(_twin(op), values)
            yield from (ast.BoolOp(op, rest) if rest[1:] else rest[0] for rest in _less(values))
        case ast.UnaryOp(ast.Not(), inside):
            yield inside
        case ast.BinOp(left, op, right) if type(op).__name__ in TWINS:
            yield ast.BinOp(left, _twin(op), right)
        case ast.Constant(bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(int() | float() as value):
            step = 1 if isinstance(value, int) else value / 10 or 1.0
            yield from (ast.Constant(value + step), ast.Constant(value - step))
        case ast.Name(name, context) if name in TWINS:
            yield ast.Name(TWINS[name], context)
        case ast.Attribute(value, name, context) if name in TWINS and name != "all":
            yield ast.Attribute(value, TWINS[name], context)
        case ast.IfExp(_, body, otherwise):
            yield from (body, otherwise)
        case ast.ListComp() | ast.SetComp() | ast.GeneratorExp() | ast.DictComp():
            for part in old.generators:
                for ifs in _less(part.ifs):
                    new = ast.comprehension(part.target, part.iter, ifs, 0)
                    parts = [new if one is part else one for one in old.generators]
                    yield type(old)(**{**vars(old), "generators": parts})
        case ast.Call(ast.Attribute(value, name) as func, args, keywords) if name in LINKS:
            yield from (ast.Call(func, rest, keywords) if rest else value for rest in _less(args))
        case ast.Call(func, args, keywords) if ast.unparse(func).rpartition(".")[2] in ASKED:
            yield from (ast.Call(func, args, rest) for rest in _less(keywords))


def _twin(op: ast.AST) -> ast.AST:
    return getattr(ast, TWINS[type(op).__name__])()


def _less(values: list) -> Iterator[list]:
    """Give the list without each of its members in turn."""
    return ([*values[:at], *values[at + 1 :]] for at in range(len(values)))
