"""A box of parts as a CSV file: one part a row, every cell text."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xref.errors import FileError, InputError

PLAIN = ("kind", "words", "tool", "condition")
DIMENSIONS = ("bore", "outside", "width")
MOST_CELL = 100_000


@dataclass(frozen=True, slots=True)
class BoxRow:
    """One row: its cells by column, and how many cells too many it has."""

    number: int
    cells: dict[str, str]
    extra: int

    def question(self) -> dict[str, Any]:
        """The row as the words of a question. Raises InputError for a row with too many cells."""
        if self.extra:
            raise InputError(
                f"row {self.number} has {self.extra} cells more than the header", "Mend the row."
            )
        sizes = {n: self.cells[n] for n in DIMENSIONS if self.cells.get(n)}
        sizes |= {
            column[len("size:") :]: text
            for column, text in self.cells.items()
            if column.startswith("size:") and text
        }
        marks = [m.strip() for m in self.cells.get("mark", "").split(" | ") if m.strip()]
        casts = [m.strip() for m in self.cells.get("cast", "").split(" | ") if m.strip()]
        told = {name: self.cells[name] for name in PLAIN if self.cells.get(name)}
        return {"marks": marks, "casts": casts, "sizes": sizes, **told}


def read_box(path: Path) -> Iterator[BoxRow]:
    """The rows of a box, blank ones left out.

    Columns: mark, cast, bore, outside, width, kind, words, tool, condition, size:NAME. Raises
    FileError for a file that cannot be read as CSV text or has none of these columns.
    """
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            csv.field_size_limit(MOST_CELL)
            reader = csv.reader(stream)
            header = [cell.strip().lower() for cell in next(reader, [])]
            _check_header(header, path)
            for number, row in enumerate(reader, 2):
                if any(cell.strip() for cell in row):
                    cells = {name: c.strip() for name, c in zip(header, row, strict=False)}
                    yield BoxRow(number, cells, max(0, len(row) - len(header)))
    except FileNotFoundError:
        raise FileError(f"there is no file {path}", "Check its name.") from None
    except (OSError, ValueError, csv.Error) as error:
        raise FileError(
            f"{path} could not be read as CSV text ({str(error)[:80]})",
            "Save it as CSV in UTF-8 and try again.",
        ) from None


def _check_header(header: list[str], path: Path) -> None:
    known = {"mark", "cast", *DIMENSIONS, *PLAIN, "machine"}
    if not any(name in known or name.startswith("size:") for name in header):
        raise FileError(
            f"{path} has no column that could be searched by",
            "Name the columns mark, bore, outside, width, kind, words or size:NAME.",
        )
    odd = [n for n in header if n and n not in known and not n.startswith("size:")]
    if odd:
        raise FileError(
            f'{path} has a column "{odd[0][:40]}" that means nothing here',
            "Columns: mark, cast, bore, outside, width, kind, words, tool, condition, size:NAME.",
        )
