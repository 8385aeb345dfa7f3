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
    r"|printed catalogue|supply record|look-up of|(?:stored|public) seller)",
    re.IGNORECASE,
)
"""What is no source: a table that is not there, a page of a catalogue or of a look-up."""


def test_no_figure_in_a_test_rests_on_a_catalogue_or_on_a_table_that_is_not_there() -> None:
    found = {
        (file.name, line.strip())
        for file in (TOP / "tests").rglob("*.py")
        for line in file.read_text("utf-8").splitlines()
        if NO_SOURCE.search(line) and not line.lstrip().startswith('r"')
    }
    assert found == set()
