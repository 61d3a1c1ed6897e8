"""The house seen from outside: its files and its own commands."""

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "exchange"
TEMPLATES = ROOT / "templates"
MIGRATIONS = PACKAGE / "records" / "migrations" / "versions"
TEMPLATE_ENDINGS = (".html", ".txt", ".svg", ".xml", ".j2")


def python_files(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*.py") if MIGRATIONS not in path.parents)


def template_files() -> list[Path]:
    return sorted(path for path in TEMPLATES.rglob("*") if path.suffix in TEMPLATE_ENDINGS)


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def functions_in(path: Path) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node


def run(
    *words: str, at: Path = ROOT, given: str = "", **variables: str
) -> subprocess.CompletedProcess[str]:
    """Run one of the tools installed beside this Python, at the root of a tree."""
    tool = Path(sys.executable).parent / words[0]
    return subprocess.run(
        [str(tool), *words[1:]],
        cwd=at,
        env={**os.environ, "PYTHONPATH": str(at), "NO_COLOR": "1", "COLUMNS": "160", **variables},
        capture_output=True,
        text=True,
        check=False,
        input=given,
    )


def said(result: subprocess.CompletedProcess[str]) -> str:
    return f"{result.stdout}\n{result.stderr}".strip()
