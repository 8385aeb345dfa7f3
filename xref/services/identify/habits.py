"""Learning how this person reads marks, from what was decided on the bench."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from xref.domain.alignment import align
from xref.domain.habit import Habit, habits, learned, pairs_of
from xref.domain.mark import Mark
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.part import Part
from xref.services.identify.evidence.marks import best_match, costs_of, readables
from xref.store.index.tally import population
from xref.store.notes.readings import add_readings, forget_readings, reading_counts
from xref.store.write.unit import UnitOfWork

FAR_OFF = -12.0
"""Bits: a mark that differs more than this from the part's numbers teaches nothing. Judged."""


def learn(unit: UnitOfWork, marks: Sequence[Mark], part: Part, times: int = 1) -> None:
    """Count what was read for what in ``marks``, now that they are known to be ``part``'s.

    A mark that is far from all its numbers is of something else, and teaches nothing. ``times`` −1
    takes back what a decision that is changed had taught.
    """
    model = costs_of(Model())
    figures = population(unit.conn)
    pairs: list[tuple[str, str]] = []
    for mark in marks:
        ways = readables([mark], model, figures)
        match = best_match(part, ways, model)
        if match is None or match.differs < FAR_OFF or match.readable.reading.mark.turned:
            continue
        spelled = match.spelling
        pairs += pairs_of(align(match.readable.reading, folded(spelled.text), spelled.takes_suffix))
    add_readings(unit, pairs, times)


def told(conn: Connection) -> tuple[list[Habit], int]:
    """The habits that were learned, and how many characters they rest on."""
    counts = reading_counts(conn)
    return habits(costs_of(Model()).faults, counts), round(sum(counts.values()))


def reset(unit: UnitOfWork) -> int:
    """Forget all that was learned; how many pairs of characters that was."""
    return forget_readings(unit)


def costs_with_habits(conn: Connection, model: Model) -> Model:
    """``model`` with the look-alike costs of this store's reader in it."""
    from dataclasses import replace

    pairs = learned(model.faults, reading_counts(conn))
    return replace(model, faults=replace(model.faults, pairs=pairs))
