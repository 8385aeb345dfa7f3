"""The shipped tables name standards and kinds of source, in words of the trade, and in whole ones.

Never a host, a repository or an index, and nothing of how a figure was come by.
"""

from __future__ import annotations

import ast
import csv
import io
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from importlib import resources
from pathlib import Path

import pytest

from xref.tables import table_bytes

TABLES = sorted(
    path.name.removesuffix(".csv")
    for path in (resources.files("xref") / "standards" / "data").iterdir()
    if path.name.endswith(".csv")
)

TRADE_PAIRS = {
    "cone/cup",
    "dynamic/static",
    "number/letter",
    "shielded/sealed",
    "solid/filament-wound",
    "water/steam",
    "width/diameter",
}
"""Words of the trade that stand on both sides of a stroke; any other pair may be a repository."""

UNWANTED = {
    "address": re.compile(r"https?:|://|\bwww\.|@\w", re.IGNORECASE),
    "host": re.compile(r"\b[a-z][a-z0-9-]*\.(?:com|org|net|io|dev|edu|co|de|jp)\b", re.IGNORECASE),
    "page": re.compile(r"\w\.(?:php|html?|aspx?|pdf|git)\b", re.IGNORECASE),
    "code host": re.compile(r"\bgit(?:hub|lab|ea)?\b|\brepo(?:sitor(?:y|ies))?\b", re.IGNORECASE),
    "search index": re.compile(r"\bindex ids?\b|\b[0-9]{9,}\b", re.IGNORECASE),
}
PAIR = re.compile(r"(?<![\w/.-])[A-Za-z][\w.-]*[a-z][\w.-]*/[A-Za-z][\w.-]*[a-z][\w.-]*")
PINNED = re.compile(r"\b([a-z][\w.-]*==[0-9][0-9.]*)")


def unwanted(cell: str) -> list[str]:
    """What in ``cell`` points at a place on a network rather than at a kind of source."""
    found = [name for name, pattern in UNWANTED.items() if pattern.search(cell)]
    pairs = [pair for pair in PAIR.findall(cell) if pair not in TRADE_PAIRS]
    return found + [f"pair {pair}" for pair in pairs]


def cells(table: str) -> Iterator[str]:
    """Every cell of the table, the heading's too."""
    for row in csv.reader(io.StringIO(table_bytes(table).decode("utf-8"), newline="")):
        yield from row


@pytest.mark.parametrize("table", TABLES)
def test_no_cell_points_at_a_place_on_a_network(table: str) -> None:
    assert {cell: what for cell in cells(table) if (what := unwanted(cell))} == {}


def test_a_package_that_figures_were_computed_with_is_one_the_tests_install() -> None:
    declared = (Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8")
    named = {pin for table in TABLES for cell in cells(table) for pin in PINNED.findall(cell)}
    assert named
    assert [pin for pin in named if f'"{pin}"' not in declared] == []


@pytest.mark.parametrize(
    "cell",
    [
        "see https://seals.example/rubber",
        "www.seals.example",
        "rubber tables of seals.example.com",
        "quillfeather/seals2016:resistance and temperature",
        "disagrees: dunmarrow/rings prints 0.116 in",
        "resistance.php",
        "stored note (index ids 71, 72)",
        "stored note 123456789012",
        "a repository of ring sizes",
    ],
)
def test_the_check_finds_what_it_is_for(cell: str) -> None:
    assert unwanted(cell)


@pytest.mark.parametrize(
    "cell",
    [
        "DIN 863 / ISO 3611",
        "NBR / NBR",
        "62/22",
        "12.5/0.1",
        "agrees: water/steam",
        "202320",
        "disagrees: -8 in another table",
        "m/s",
        "H917840",
        "2014/32/EU (MID) MI-008",
    ],
)
def test_the_check_leaves_standards_and_sizes_alone(cell: str) -> None:
    assert unwanted(cell) == []


@pytest.mark.parametrize("table", TABLES)
def test_no_note_is_cut_off(table: str) -> None:
    for row in csv.DictReader(io.StringIO(table_bytes(table).decode())):
        for name in ("table_note", "note", "basis", "reason"):
            said = (row.get(name) or "").rstrip()
            assert said.count("(") == said.count(")"), said
            assert not said.endswith((",", ";", ":", "(", " and", " or", " the", ", t")), said


PACKAGE = Path(__file__).parents[2] / "xref"
TAKEN_AS_TYPED = {"word", "words", "heading", "text", "said"}
"""Columns that hold what people write over theirs: "part id" is a heading of the trade."""

RESEARCH = re.compile(
    r"\bstored (?:table|note|page|cop|list|guide|design|trade|seal|bearing|machine|hose|sheet)"
    r"|\b(?:pages?|cop(?:y|ies)|source) (?:read|opened)\b|\b(?:trade|seller'?s?|scanned) pages?\b"
    r"|\b(?:all|one|two|three|four|several|inch) pages\b|\bpage (?:read|calls|describes)\b"
    r"|\bscanned\b|\bsearch(?:es|ed)?\b|\bindex(?:ed)?\b|\bsnippet|\bweb\b",
    re.IGNORECASE,
)
"""Words of how a figure was come by, which are nobody's business at the bench."""


def shipped() -> dict[str, list[dict[str, str]]]:
    """Every table of the package, its rows by column."""
    return {
        file.relative_to(PACKAGE).as_posix(): list(
            csv.DictReader(io.StringIO(file.read_text("utf-8"), newline=""))
        )
        for file in sorted(PACKAGE.rglob("*.csv"))
    }


def written_out() -> set[str]:
    """The words of the program's own text, none of which is cut off."""
    text = "".join(file.read_text("utf-8").lower() for file in PACKAGE.rglob("*.py"))
    return set(re.findall(r"[a-z]+", text))


def cut_off(cells: Iterable[str], known: Iterable[str] = ()) -> set[str]:
    """The cells that end in what is only the beginning of a word ``known`` or of the others.

    A list of words (``coat|cab``) is no sentence that could be cut.
    """
    inside = set(known)
    ends: dict[str, set[str]] = defaultdict(set)
    for cell in cells:
        words = re.findall(r"[a-z]+", cell.lower())
        whole = words if "|" in cell or not re.search(r"[a-z]{3}$", cell) else words[:-1]
        inside |= set(whole)
        if len(words) > max(len(whole), 2):
            ends[words[-1]].add(cell)
    longer = {word[:end] for word in inside | set(ends) for end in range(2, len(word))}
    return {cell for last in ends.keys() & longer - inside for cell in ends[last]}


WIDTHS = {80, 100, 120, 128, 140, 150, 160, 200, 240, 250, 255, 256, 300, 400, 500, 512}
"""Where a fixed width leaves a text, in characters."""


def cut_at_one_length(cells: Iterable[str]) -> set[str]:
    """The longest cells of a column where several are longest, and as long as a fixed width."""
    different = set(cells)
    most = max(map(len, different), default=0)
    longest = {cell for cell in different if len(cell) == most}
    return longest if len(longest) > 1 and most in WIDTHS else set()


def test_no_cell_of_any_table_speaks_of_how_a_figure_was_come_by() -> None:
    found = {
        (table, cell)
        for table, rows in shipped().items()
        for row in rows
        for column, cell in row.items()
        if column not in TAKEN_AS_TYPED and RESEARCH.search(cell or "")
    }
    assert found == set()


def test_no_cell_of_any_table_ends_in_the_middle_of_a_word() -> None:
    tables = shipped()
    cells = [
        cell
        for rows in tables.values()
        for row in rows
        for column, cell in row.items()
        if cell and column not in TAKEN_AS_TYPED
    ]
    assert cut_off(cells, written_out()) == set()
    for table, rows in tables.items():
        for column in rows[0]:
            assert cut_at_one_length(row[column] or "" for row in rows) == set(), (table, column)


def test_nothing_the_program_says_speaks_of_how_a_figure_was_come_by() -> None:
    found = {
        (file.relative_to(PACKAGE).as_posix(), node.value)
        for file in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
        if re.search(r"\bstored (?:table|note|page|cop)|\b(?:page|source)s? read\b", node.value)
    }
    assert found == set()


@pytest.mark.parametrize(
    "cell",
    [
        "stored note on number plates",
        "all pages read agree on two lips",
        "general knowledge; no source opened",
        "agrees: four stored trade pages",
        "two of three pages read say one lip",
        "scanned text of the standard",
        "first in the search",
    ],
)
def test_words_of_research_are_found(cell: str) -> None:
    assert RESEARCH.search(cell)


def test_a_cell_that_is_cut_off_is_found_and_a_whole_one_is_not() -> None:
    whole = ["two lists of numbers agree", "a list; number plates of steel", "two tables agree"]
    assert cut_off([*whole, "machine-vision manual: note on numbe"]) == {
        "machine-vision manual: note on numbe"
    }
    assert cut_off(whole) == set()
    assert cut_at_one_length(["a" * 100, "b" * 100, "c"]) == {"a" * 100, "b" * 100}
    assert cut_at_one_length(["a" * 100, "b" * 99]) == set()
    assert cut_at_one_length(["a" * 98, "b" * 98]) == set()
