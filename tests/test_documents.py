"""The licence, the changelog and the commit hooks say what is so."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

TOP = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def project() -> dict[str, Any]:
    declared: dict[str, Any] = tomllib.loads((TOP / "pyproject.toml").read_text("utf-8"))
    return declared


def test_the_licence_is_named_where_people_look_and_its_text_is_there(
    project: dict[str, Any],
) -> None:
    assert project["project"]["license"] == "MIT"
    [file] = project["project"]["license-files"]
    assert (TOP / file).read_text("utf-8").startswith("MIT License\n")
    for page in ("README.md", "DEVELOPERS.md"):
        assert re.search(rf"^MIT; the text is `{file}`", (TOP / page).read_text("utf-8"), re.M)


def test_the_version_has_its_section_in_the_changelog(project: dict[str, Any]) -> None:
    text = (TOP / "DEVELOPERS.md").read_text("utf-8").partition("## Changelog\n")[2]
    sections = re.findall(r"^### (\S+),", text, re.MULTILINE)
    assert sections[:1] == [project["project"]["version"]]


def test_commit_hooks_run_the_tools_of_this_checkout_and_fetch_nothing() -> None:
    text = (TOP / ".pre-commit-config.yaml").read_text("utf-8")
    assert set(re.findall(r"repo: (\S+)", text)) == {"local"}
    assert "://" not in text
    entries = re.findall(r"entry: (\S+) ?(.*)", text)
    assert {tool for tool, _ in entries} == {".venv/bin/ruff", ".venv/bin/mypy"}
    assert len(re.findall(r"language: unsupported$", text, re.MULTILINE)) == len(entries)


NO_SOURCE = re.compile(
    r"#.*\b(?:stored (?:table|cop|page|seal|seller|catalogue|worked)|rule table|catalogue page"
    r"|printed catalogue|supply record|look-up of|(?:stored|public) seller"
    r"|public (?:page|list|copy|sheet|seed|tutorial|exercise|calculator|table|function|handbook)"
    r"|encyclopaedia|same page|\w+/\w+, \S+\.(?:csv|py|cpp|blt|scad))",
    re.IGNORECASE,
)
"""What is no source: a table that is not there, a page without author and year, a file's path, a
page of a catalogue or of a look-up."""

DATED = re.compile(r"memory|\b(?:18|19|20)\d\d\b|\bGOST [\d.]+-\d\d\b", re.IGNORECASE)
"""A year, that of a standard as well, or the word that no print was at hand."""


def test_no_figure_in_a_test_rests_on_a_catalogue_or_on_a_table_that_is_not_there() -> None:
    found = {
        (file.name, line.strip())
        for file in (TOP / "tests").rglob("*.py")
        for line in file.read_text("utf-8").splitlines()
        if NO_SOURCE.search(line) and not line.lstrip().startswith('r"')
    }
    assert found == set()


def _comments_above(lines: list[str], at: int) -> str:
    """The comments between a table and the last test or table of figures above it."""
    above = [line for line in lines[:at] if not line.strip().startswith("@")]
    start = max(
        (n for n, line in enumerate(above) if line.startswith(("def ", "import "))), default=0
    )
    return " ".join(line for line in above[start:] if line.lstrip().startswith("#"))


def test_each_table_of_published_figures_has_a_dated_source_or_memory_above_it() -> None:
    bare, seen = [], 0
    for file in sorted((TOP / "tests" / "standards").glob("test_second_*.py")):
        lines = file.read_text("utf-8").splitlines()
        for at, line in enumerate(lines):
            if re.match(r'[A-Z_0-9]+ = (?:"|\(|\{)', line):
                seen += 1
                if not DATED.search(_comments_above(lines, at)):
                    bare.append(f"{file.name}: {line}")
    assert seen > 25
    assert bare == []
