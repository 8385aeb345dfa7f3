"""What can be looked for on a part, what one may see, and how usual that is: tables read once.

``check.csv`` says how to look, ``check_answer.csv`` what may be seen and how common it is among
things of that kind (shares judged, 1 together), ``trait.csv`` and ``bearing_type.csv`` which types
show it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from xref.standards.bearing_type import traits as cells
from xref.tables import Row, read_table

COLUMN_OF = {"what rolls": "rolls", "rows": "rows", "self-aligns": "swivels"}
"""Columns of ``bearing_type.csv`` that answer one check; another column may answer several."""


@dataclass(frozen=True, slots=True)
class Look:
    """One check of one kind ("" for all): how it is done, and whether it needs a tool."""

    key: str
    kind: str
    ask: str
    needs_tool: bool


@dataclass(frozen=True, slots=True)
class Sight:
    """What may be seen: the word that is given back, in plain words, and its share (0..1) of the
    things of that kind."""

    answer: str
    shows: str
    share: float


@cache
def looks() -> Mapping[tuple[str, str], Look]:
    """Every check by its key and kind, in the order of the table."""
    return {
        (row["key"], row["kinds"]): Look(row["key"], row["kinds"], row["ask"], row["tool"] == "yes")
        for row in read_table("check")
    }


@cache
def keys() -> tuple[str, ...]:
    """The key of every check, each once."""
    return tuple(dict.fromkeys(key for key, _ in looks()))


@cache
def kinds_of(key: str) -> frozenset[str]:
    """The kinds that the check can be made on; {""} where it can on all, none for no check."""
    return frozenset(kind for named, kind in looks() if named == key)


def look(key: str, kind: str) -> Look | None:
    """How the check is made on a part of ``kind``; None where it has nothing of the sort."""
    return looks().get((key, kind)) or looks().get((key, ""))


@cache
def _sights() -> Mapping[tuple[str, str], Mapping[str, Sight]]:
    found: dict[tuple[str, str], dict[str, Sight]] = {}
    for row in read_table("check_answer"):
        held = found.setdefault((row["check"], row["kinds"]), {})
        held[row["answer"]] = Sight(row["answer"], row["shows"], float(row["share"]))
    return found


def sights(key: str, kind: str) -> Mapping[str, Sight]:
    """What may be seen on a part of ``kind``, by the word for it; {} where nothing of the sort."""
    return _sights().get((key, kind)) or _sights().get((key, ""), {})


@cache
def answers(key: str) -> tuple[str, ...]:
    """Every word that answers the check, whatever the kind, each once."""
    words = (word for (named, _), held in _sights().items() if named == key for word in held)
    return tuple(dict.fromkeys(words))


@cache
def _by_cell() -> Mapping[tuple[str, str, str], str]:
    rows = (row for row in read_table("check_answer") if row["cell"])
    return {(row["check"], row["kinds"], row["cell"]): row["answer"] for row in rows}


def _of_cells(type_: str, kind: str) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for column, text in cells(type_).items():
        checks = [COLUMN_OF[column]] if column in COLUMN_OF else ["rings", "made"]
        for check in checks:
            answer = _by_cell().get((check, kind, text))
            if answer:
                found[check] = (answer,)
    return found


@cache
def _of_type() -> Mapping[str, tuple[Row, ...]]:
    found: dict[str, tuple[Row, ...]] = {}
    for row in read_table("trait"):
        found[row["type"]] = (*found.get(row["type"], ()), row)
    return found


def type_shows(type_: str, kind: str, told: str) -> dict[str, tuple[str, ...]]:
    """By check, what a part of this type shows; several answers where it may be any of them.

    ``told`` is what is said of the part in words: some types show it only where a word stands
    there, the first such row of the table holding. A check that is not in it says nothing.
    """
    found = _of_cells(type_, kind)
    by: dict[str, str] = {}
    text = told.lower()
    for row in _of_type().get(type_, ()):
        check, having = row["check"], row["having"]
        if having.lower() in text and by.setdefault(check, having) == having:
            found[check] = (*found.get(check, ()), row["answer"])
    return found


def size_ask(name: str, kind: str) -> str:
    """How the size is measured on a part of ``kind``; "" where its name says it all."""
    held = {row["kinds"]: row["ask"] for row in read_table("size_check") if row["size"] == name}
    return held.get(kind) or held.get("", "")
