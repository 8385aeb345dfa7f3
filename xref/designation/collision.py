"""What tells the readings of one bearing number apart, before any table is asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from xref.designation.reading import Reading

_BALLS = "see whether balls or rollers run in it"
_CUP = "see whether the cup lifts off"


def _rolls_balls(reading: Reading) -> bool:
    return "ball" in reading.type


def _deciding(readings: Sequence[Reading]) -> tuple[str, str]:
    """What to measure, and what to look at."""
    kinds = {_rolls_balls(reading) for reading in readings}
    tapers = {reading.type.startswith("tapered") for reading in readings}
    if len(tapers) == 2:
        return "the width", _CUP
    return ("the width", _BALLS) if len(kinds) == 2 else ("the sizes", "")


def with_decided_by(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """``readings`` with what decides between those that stand without a table's word.

    Readings that need a table are often dropped later, so they do not ask for a measurement here;
    whoever has the tables compares the sizes of those that stay.
    """
    sure = [reading for reading in readings if not reading.needs_table]
    if len(sure) < 2:
        return readings
    measure, look = _deciding(sure)
    return tuple(
        r if r.needs_table else replace(r, measure=measure, decided_by=look) for r in readings
    )
