"""One sheet as it lies in the file: rows of cells with their lines, nothing understood yet."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol

from xref.sheets.look import Look

Cell = str | int | float | bool | datetime.date | datetime.time | datetime.timedelta
"""Text as it stands; a number, truth value or date where the spreadsheet made one of what was
typed. An empty cell is ""."""


Row = tuple[int, list[Cell]]
"""A line as the spreadsheet counts it, and its cells."""


class Rows(Protocol):
    """Rows that are read again each time somebody goes through them."""

    def __iter__(self) -> Iterator[Row]: ...

    def about(self) -> int:
        """About how many rows there are."""
        ...


@dataclass(frozen=True, slots=True)
class Sheet:
    """``rows`` may be gone through several times. ``errors`` are the cells (line, column from 0)
    that hold an error instead of a value, with the error as written. ``left`` is where a list that
    is cut out of a sheet begins there; ``turned``: it stood on its side, so that no place of it is
    one of the sheet's. ``look`` is what is to be seen on it beside its values, None where it
    was not looked at."""

    path: Path
    name: str
    kind: str
    rows: Rows | list[Row]
    errors: dict[tuple[int, int], str] = field(default_factory=dict)
    left: int = 0
    turned: bool = False
    look: Look | None = None

    def about(self) -> int:
        """About how many rows there are."""
        return len(self.rows) if isinstance(self.rows, list) else self.rows.about()
