"""The shipped tables name standards and kinds of source, never a host, a repository or an index."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
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
