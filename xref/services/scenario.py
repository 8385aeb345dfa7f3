"""The invented scenario of the demo: Wren locomotive QW 312 and what is on its bench."""

from __future__ import annotations

import shlex
from dataclasses import dataclass

from xref.services import parts, sources
from xref.store.unit import UnitOfWork
from xref.tables import SCENARIO, read_table


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
            sizes=dict(piece.split("=", 1) for piece in row["sizes"].split(";") if piece),
            source=row["source"],
        )
    for row in read_table("marks", SCENARIO):
        parts.add_mark(unit, row["number"], row["text"], row["role"], row["maker"])
    return len(rows)
