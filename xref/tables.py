"""Read the CSV tables that ship with the package; the only place that knows where they lie."""

from __future__ import annotations

import csv
import io
from functools import cache
from pathlib import Path

Row = dict[str, str]


_HERE = Path(__file__).parent
STANDARDS = "standards/data"
SCENARIO = "scenario"


@cache
def read_table(name: str, folder: str = STANDARDS) -> tuple[Row, ...]:
    """All rows of ``xref/FOLDER/NAME.csv``, every cell as text.

    A cell that is empty in the table is ``""``. Raises FileNotFoundError for a table that does
    not ship: that is a fault in the package, never in what a user typed.
    """
    text = table_bytes(name, folder).decode("utf-8")
    return tuple(csv.DictReader(io.StringIO(text, newline="")))


def table_bytes(name: str, folder: str = STANDARDS) -> bytes:
    """The table as it ships, for telling one version from another."""
    return (_HERE / folder / f"{name}.csv").read_bytes()


def table_names(folder: str) -> list[str]:
    """The names of every table in ``xref/FOLDER``, in order."""
    return sorted(path.stem for path in (_HERE / folder).glob("*.csv"))
