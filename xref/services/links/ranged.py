"""The serial ranges of some numbers beside a machine's own serial and their donor's range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.donor import DonorRange
from xref.domain.machine import Applicability, Machine
from xref.services.links.donor import donor
from xref.services.parts.designated import look_up
from xref.store.read.links import applicabilities, find_machine


@dataclass(frozen=True, slots=True)
class Ranged:
    """Each range with the number it is of; ``donor`` only where several numbers are named."""

    entries: tuple[tuple[str, Applicability], ...]
    machine: Machine | None
    donor: tuple[DonorRange, ...]


def ranged(
    conn: Connection, numbers: Sequence[str], maker: str | None = None, machine: str | None = None
) -> Ranged:
    """The ranges on record of ``numbers``. Raises NotFoundError for one that is not there."""
    parts = [look_up(conn, number, maker) for number in numbers]
    held = find_machine(conn, machine) if machine else None
    names = {part.id: part.number for part in parts}
    entries = tuple((names[e.part_id], e) for e in applicabilities(conn, list(names)))
    best = donor(conn, numbers, machine).ranges[:1] if len(numbers) > 1 else ()
    return Ranged(entries, held, tuple(best))
