"""Read the CSV tables that ship with the package; the only place that knows where they lie."""

from __future__ import annotations

import csv
import io
from functools import cache
from importlib import resources

Row = dict[str, str]


@cache
def read_table(name: str) -> tuple[Row, ...]:
    """All rows of ``xref/standards/data/NAME.csv``, every cell as text.

    A cell that is empty in the table is ``""``. Raises FileNotFoundError for a table that does
    not ship: that is a fault in the package, never in what a user typed.
    """
    text = table_bytes(name).decode("utf-8")
    return tuple(csv.DictReader(io.StringIO(text, newline="")))


def table_bytes(name: str) -> bytes:
    """The table as it ships, for telling one version from another."""
    return (resources.files("xref") / "standards" / "data" / f"{name}.csv").read_bytes()
