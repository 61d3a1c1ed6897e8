"""One word for one thing; and nothing about the machine it was written on is in the tree."""

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from exchange.words.home.glossary import glossary
from tests.house import PACKAGE, ROOT, python_files, template_files, tree_of
from tests.programs import program


def any_of(*words: str) -> str:
    """Give a pattern of whole words; each is written with a dot in it, so that it is not found here."""
    return rf"\b(?:{'|'.join(words).replace('·', '')})\b"


MACHINE = {
    "a path of the machine": r"(?<![\w.~}])/(?:work|opt|tmp|root|home)/",
    "a host of packages": any_of(
        r"py·pi\.org", r"python·hosted\.org", r"npm·js\.\w+", r"(?:deb|security)\.deb·ian\.org"
    ),
    "how the work was organised": "(?i)"
    + any_of(
        "seed· document", "sub-?·agents?", r"issues?· #?\d+", "stop· check", "working· papers?"
    ),
    "a left-over mark": any_of("TO·DO", "FIX·ME", "XX·X"),
}

# What a member may not read, and why another word is used.
NOT_FOR_MEMBERS = {
    "calendars are subscribed to; a feed is plant food": r"\b(?:calendar|news|web|our|your) feeds?\b",
    "a draw number is no seed": r"\b(?:random|draw) seed\b",
    "a certificate is a plant-health word": r"\bcertificates?\b",
    "nobody is ranked": (
        r"\b(?:high ?scores?|scores?|badges?|ranks?|ranking|leader ?board"
        r"|\d+ points?|your points|your level)\b"
    ),
    "plants are no wares": (
        r"\b(?:inventory|SKUs?|customers?|checkout|wallet|(?:your|place an|new) orders?)\b"
    ),
    "a chance has one form, 20 in 100": r"\b\d+ in (?:[2-9]|\d\d|[2-9]\d\d|\d{4,})\b(?! [A-Za-z])",
    "pages have plain names": r"\b(?:dashboard|audit|digest|outbox)\b",
}
NOT_FOR_CODE = {
    "feed", "certificate", "level", "score", "points", "badge", "rank", "inventory", "sku",
    "order", "customer", "checkout", "wallet", "dashboard", "audit", "digest", "outbox",
}  # fmt: skip


def committed_files() -> list[Path]:
    """List the tree's text files: as git tracks them, or as they lie where there is no git."""
    listed = subprocess.run(
        [program("git"), "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if listed.returncode == 0:
        found = [ROOT / name for name in listed.stdout.split("\0") if name]
    else:
        found = [path for path in ROOT.rglob("*") if not _is_by_the_way(path)]
    return [path for path in found if path.is_file()]


def lines_with(pattern: str, path: Path) -> Iterator[str]:
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return
    for number, line in enumerate(text.splitlines(), start=1):
        if re.search(pattern, line):
            yield f"{path.relative_to(ROOT)}:{number}: {line.strip()[:100]}"


@pytest.mark.parametrize("what", MACHINE)
def test_nothing_of_where_it_was_written_stands_in_the_tree(what):
    found = [hit for path in committed_files() for hit in lines_with(MACHINE[what], path)]

    assert found == []


def test_only_documents_of_the_tree_are_named():
    files = committed_files()
    ours = {path.name for path in files}
    found = [
        line
        for path in files
        for line in lines_with(r"\w\.md\b", path)
        if not set(re.findall(r"[\w-]+\.md\b", line)) <= ours
    ]

    assert found == []


@pytest.mark.parametrize("why", NOT_FOR_MEMBERS)
def test_no_template_uses_a_word_that_is_not_ours(why):
    found = [
        f"{path.relative_to(ROOT)}: {hit.group()}"
        for path in template_files()
        for hit in re.finditer(NOT_FOR_MEMBERS[why], _visible(path), re.IGNORECASE)
    ]

    assert found == []


@pytest.mark.parametrize("why", NOT_FOR_MEMBERS)
def test_no_sentence_uses_a_word_that_is_not_ours(why):
    found = [
        f"{path.relative_to(ROOT)}: {sentence}"
        for path in python_files(PACKAGE)
        for sentence in _sentences(tree_of(path))
        if re.search(NOT_FOR_MEMBERS[why], sentence, re.IGNORECASE)
    ]

    assert found == []


@pytest.mark.parametrize("why", NOT_FOR_MEMBERS)
def test_no_entry_of_the_glossary_uses_a_word_that_is_not_ours(why):
    entries = [" – ".join(pair) for _heading, pairs in glossary() for pair in pairs]

    assert len(entries) > 50
    assert [one for one in entries if re.search(NOT_FOR_MEMBERS[why], one, re.IGNORECASE)] == []


def test_no_module_or_class_is_named_with_a_word_that_is_not_ours():
    found = [
        f"{path.relative_to(ROOT)}: {name}"
        for path in python_files(PACKAGE)
        for name in [path.stem, *_class_names(tree_of(path))]
        if NOT_FOR_CODE & set(_words_of(name))
    ]

    assert found == []


def test_the_visible_text_of_a_template_is_what_is_read():
    page = "{# digest #}<p class='badge' title=\"audit\">See {{ level }} {% if rank %}here{% endif %}</p>"

    assert _stripped(page).split() == ["audit", "See", "here"]


def _is_by_the_way(path: Path) -> bool:
    """Tell whether a file lies in an environment, a cache or git's own folder."""
    folders = path.relative_to(ROOT).parts[:-1]
    return any(name.startswith(".") and name != ".ci" for name in folders)


def _visible(path: Path) -> str:
    return _stripped(path.read_text(encoding="utf-8"))


def _stripped(text: str) -> str:
    """Keep what a reader sees or hears: text, titles, labels and strings given to macros."""
    spoken = " ".join(re.findall(r"(?:title|alt|aria-label|placeholder)=\"([^\"{]*)\"", text))
    calls = " ".join(re.findall(r"_\(\s*\"([^\"]*)\"", text))
    without_comments = re.sub(r"\{#.*?#\}", " ", text, flags=re.DOTALL)
    without_jinja = re.sub(r"\{\{.*?\}\}|\{%.*?%\}", " ", without_comments, flags=re.DOTALL)
    return f"{spoken} {calls} {re.sub(r'<[^>]*>', ' ', without_jinja)}"


def _sentences(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id="_"), args=[ast.Constant(value=str(text)), *_]):
                yield text


def _class_names(tree: ast.Module) -> list[str]:
    return [node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]


def _words_of(name: str) -> list[str]:
    return [word.lower() for word in re.findall(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])", name)]
