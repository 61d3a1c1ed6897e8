"""README, DEVELOPERS and the rest say what is true of the tree."""

import os
import re

import pytest

from tests.house import PACKAGE, ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
DOCUMENTS = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])
AT_THE_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml"} | {
    "exchange", "templates", "tests", "seed_data", "docs",
}  # fmt: skip


def commands() -> list[str]:
    return [line for line in README.splitlines() if line.startswith("python3 -m venv")]


def test_the_readme_has_two_commands_that_set_everything_up():
    endings = [command.rsplit("/", 1)[1] for command in commands()]

    assert endings == ["exchange demo", "pytest"]


@pytest.mark.parametrize("number", [0, 1])
def test_each_command_installs_the_locked_versions(number):
    command = commands()[number]

    assert command.startswith("python3 -m venv .venv && .venv/bin/pip install ")
    assert " -c .ci/constraints.txt " in command


def test_the_run_of_all_tests_takes_its_command_from_the_readme():
    script = ROOT / ".ci" / "run"
    pattern = re.search(r"grep -E '(\S.*)' README\.md", script.read_text(encoding="utf-8"))[1]

    assert [line for line in README.splitlines() if re.search(pattern, line)] == [commands()[1]]
    assert os.access(script, os.X_OK)


def test_the_locked_versions_are_plain():
    lines = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()

    odd = [line for line in lines if not re.fullmatch(r"#.*|[a-z0-9-]+==[\w.]+", line)]
    assert odd == []


def test_only_the_agreed_files_lie_at_the_top():
    ours = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}

    assert ours - {"dist", "build", "__pycache__"} == AT_THE_TOP


def test_the_map_shows_every_room():
    rooms = [path.parent for path in PACKAGE.glob("*/__init__.py")]
    rooms += [path.parent for path in (PACKAGE / "domain").glob("*/__init__.py")]

    assert [room.name for room in rooms if f"{room.name}/" not in DEVELOPERS] == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_link_to_a_file_leads_somewhere(document):
    targets = re.findall(r"\]\((?!https?:)([^)#\s]+)[^)]*\)", document.read_text(encoding="utf-8"))

    assert [target for target in targets if not (document.parent / target).exists()] == []


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_file_named_in_a_document_exists(document):
    text = document.read_text(encoding="utf-8")
    named = re.findall(
        r"`((?:exchange|tests|docs|templates|seed_data)/[\w/.-]+|\.ci/\w[\w.]*)`", text
    )
    named += [f"exchange/{name}" for name in _shortened(document.name, text)]

    assert [name for name in named if not (ROOT / name).exists()] == []


def test_every_decision_is_listed():
    folder = ROOT / "docs" / "decisions"
    listed = re.findall(r"\]\((\d{4}-[\w-]+\.md)\)", (folder / "README.md").read_text("utf-8"))

    assert listed == sorted(path.name for path in folder.glob("0*.md"))


def _shortened(document: str, text: str) -> list[str]:
    """Find the paths DEVELOPERS.md names from within the package."""
    if document != "DEVELOPERS.md":
        return []
    return re.findall(r"`((?:actions|cli|domain|records|settings|words|web|papers)/[\w/.]+)`", text)
