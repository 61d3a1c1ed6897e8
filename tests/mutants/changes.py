"""Small changes to a module's syntax tree, each of which a test should notice."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
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


_Place = tuple[ast.stmt | ast.expr, dict | list, str | int, str]


class Mutant(NamedTuple):
    """A module with one change, described so that it stays the same when lines move."""

    function: str
    line: int
    change: str
    tree: ast.Module


def mutants_of(file: str) -> Iterator[Mutant]:
    """Give every module that differs from the file in one place; its tree only until the next."""
    tree, seen = ast.parse(Path(file).read_text("utf-8")), Counter[str]()
    for node, fields, at, function in list(_places(tree)):
        old, before = fields[at], _first_line(node)
        for fields[at] in _changes(old):
            change = f"{function}: {before} -> {_first_line(fields[at] if node is old else node)}"
            seen[change] += 1
            again = f" ({seen[change]})" if seen[change] > 1 else ""
            yield Mutant(function, node.lineno, change + again, ast.fix_missing_locations(tree))
        fields[at] = old


def _places(node: ast.AST, function: str = "", *, inside: bool = False) -> Iterator[_Place]:
    """Give where each part of the tree is, in which statement or expression and function."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef) and not inside:
        function = f"{function}.{node.name}".lstrip(".")
    inside = inside or isinstance(node, ast.FunctionDef)
    for name, value in ast.iter_fields(node):
        if name in UNREAD or isinstance(node, ast.JoinedStr):
            continue
        fields = value if isinstance(value, list) else vars(node)
        for at, child in enumerate(value) if isinstance(value, list) else [(name, value)]:
            if isinstance(child, ast.AST):
                shown = child if isinstance(child, ast.stmt | ast.expr) else node
                yield shown, fields, at, function
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
        case _ if type(old).__name__ in TWINS:
            yield getattr(ast, TWINS[type(old).__name__])()
        case ast.BoolOp(op, values):
            yield from (ast.BoolOp(op, rest) if rest[1:] else rest[0] for rest in _less(values))
        case ast.UnaryOp(ast.Not(), inside):
            yield inside
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
        case ast.comprehension(target, over, ifs):
            yield from (ast.comprehension(target, over, rest, 0) for rest in _less(ifs))
        case ast.Call(ast.Attribute(value, name) as func, args, keywords) if name in LINKS:
            yield from (ast.Call(func, rest, keywords) if rest else value for rest in _less(args))
        case ast.Call(func, args, keywords) if ast.unparse(func).rpartition(".")[2] in ASKED:
            yield from (ast.Call(func, args, rest) for rest in _less(keywords))


def _first_line(node: ast.AST) -> str:
    return ast.unparse(node).partition("\n")[0]


def _less(values: list) -> Iterator[list]:
    """Give the list without each of its members in turn."""
    return ([*values[:at], *values[at + 1 :]] for at in range(len(values)))
