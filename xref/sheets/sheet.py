"""One sheet as it lies in the file: rows of cells with their lines, nothing understood yet."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

Cell = str | int | float | bool | datetime.date | datetime.time | datetime.timedelta
"""Text as it stands; a number, truth value or date where the spreadsheet made one of what was
typed. An empty cell is ""."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """``rows`` may be gone through several times. ``errors`` are the cells (line, column from 0)
    that hold an error instead of a value, with the error as written."""

    path: Path
    name: str
    kind: str
    rows: Iterable[tuple[int, list[Cell]]]
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
