"""The invented scenario of the demo: Whimbrel locomotive QW 312 and what is on its bench."""

from __future__ import annotations

import shlex
from dataclasses import dataclass

from xref.services.links import applies as applying
from xref.services.links import machine as machines
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.store.write.unit import UnitOfWork
from xref.tables import SCENARIO, read_table

MODEL = "Whimbrel"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the walk: what it is about, and the command's arguments."""

    say: str
    args: tuple[str, ...]


def walk() -> tuple[Step, ...]:
    """The steps in order."""
    return tuple(
        Step(row["say"], tuple(shlex.split(row["command"]))) for row in read_table("walk", SCENARIO)
    )


def fill(unit: UnitOfWork) -> int:
    """Write the scenario into an empty store and return how many parts it has."""
    for row in read_table("sources", SCENARIO):
        sources.add(unit, row["title"], row["edition"], row["kind"], row["note"])
    rows = read_table("parts", SCENARIO)
    for row in rows:
        parts.add(
            unit,
            row["number"],
            maker=row["maker"],
            kind=row["kind"],
            words=row["words"],
            sizes=_pairs(row["sizes"]),
            source=row["source"],
        )
    for row in read_table("marks", SCENARIO):
        marking.add(unit, row["number"], row["text"], row["role"], row["maker"])
    _machines(unit)
    _links(unit)
    return len(rows)


def _machines(unit: UnitOfWork) -> None:
    for row in read_table("machines", SCENARIO):
        machines.add(
            unit,
            row["name"],
            model=row["model"],
            serial=row["serial"],
            maker=row["maker"],
            prefixes=row["prefixes"].split(),
            stamped=row["stamped"],
            components=_pairs(row["components"]),
        )


def _links(unit: UnitOfWork) -> None:
    for row in read_table("applies", SCENARIO):
        applying.applies(
            unit,
            row["number"],
            model=MODEL,
            serials=row["serials"],
            assembly=row["assembly"],
            quantity=float(row["quantity"]),
            source=row["source"],
        )
    for row in read_table("supersedes", SCENARIO):
        supersede(
            unit,
            row["old"],
            row["new"].split(";"),
            kind=row["kind"],
            companions=[number for number in row["with"].split(";") if number],
            serials=row["serials"],
            reason=row["reason"],
            source=row["source"],
        )
    for row in read_table("interchanges", SCENARIO):
        interchange(
            unit, row["a"], row["b"], grade=row["grade"], note=row["note"], source=row["source"]
        )


def _pairs(text: str) -> dict[str, str]:
    return dict(piece.split("=", 1) for piece in text.split(";") if piece)
