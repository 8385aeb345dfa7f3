"""A box of parts as a CSV file: one part a row, every cell text."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xref.domain.number import visible
from xref.errors import FileError, InputError

PLAIN = ("kind", "words", "machine", "tool", "condition")
"""Columns taken as they stand, where the question has a field of that name."""

DIMENSIONS = ("bore", "outside", "width")
SIZE = "size:"
MOST_CELL = 100_000


@dataclass(frozen=True, slots=True)
class BoxRow:
    """One row: its cells by column, and how many filled cells stand under no column."""

    number: int
    cells: dict[str, str]
    extra: int

    def question(self) -> dict[str, Any]:
        """The row as the words of a question. Raises InputError for a row with too many cells."""
        if self.extra:
            raise InputError(
                f"row {self.number} has {self.extra} {'cell' if self.extra == 1 else 'cells'} "
                "more than the header names",
                "Mend the row, or name the column.",
            )
        sizes = {n: self.cells[n] for n in DIMENSIONS if self.cells.get(n)}
        sizes |= {
            column[len(SIZE) :]: text
            for column, text in self.cells.items()
            if column.startswith(SIZE) and text
        }
        marks = [m.strip() for m in self.cells.get("mark", "").split(" | ") if m.strip()]
        casts = [m.strip() for m in self.cells.get("cast", "").split(" | ") if m.strip()]
        told = {name: self.cells[name] for name in PLAIN if self.cells.get(name)}
        return {"marks": marks, "casts": casts, "sizes": sizes, **told}


def read_box(path: Path, fields: Collection[str]) -> Iterator[BoxRow]:
    """The rows of a box, blank ones left out; ``fields`` are those the question has.

    Columns: mark, cast, bore, outside, width, size:NAME, and those of ``PLAIN`` in ``fields``.
    Raises FileError for a file that cannot be read as CSV text, has none of these columns, has
    one of them twice, or has another.
    """
    plain = [name for name in PLAIN if name in fields]
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            csv.field_size_limit(MOST_CELL)
            reader = csv.reader(stream, strict=True)
            header = [_column(cell) for cell in next(reader, [])]
            _check_header(header, plain, path)
            for number, row in enumerate(reader, 2):
                if any(cell.strip() for cell in row):
                    yield _row(number, header, [cell.strip() for cell in row])
    except FileNotFoundError:
        raise FileError(f"there is no file {path}", "Check its name.") from None
    except (OSError, ValueError, csv.Error) as error:
        raise FileError(
            f"{path} could not be read as CSV text ({str(error)[:80]})",
            "Save it as CSV in UTF-8 and try again.",
        ) from None


def _row(number: int, header: Sequence[str], row: Sequence[str]) -> BoxRow:
    cells = {name: cell for name, cell in zip(header, row, strict=False) if name}
    return BoxRow(number, cells, sum(map(bool, row)) - sum(map(bool, cells.values())))


def _column(text: str) -> str:
    """A column's name: size:bore is bore, and size names are spelt as the command line has them."""
    name = text.strip().lower()
    if not name.startswith(SIZE):
        return name
    size = "-".join(name[len(SIZE) :].replace("_", " ").replace("-", " ").split())
    return size if size in DIMENSIONS else SIZE + size


def _check_header(header: Sequence[str], plain: Sequence[str], path: Path) -> None:
    known = ("mark", "cast", *DIMENSIONS, *plain)
    named = [name for name in header if name]
    good = [n for n in named if n in known or (n.startswith(SIZE) and n != SIZE)]
    if not good:
        raise FileError(
            f"{path} has no column that could be searched by",
            "Name the columns mark, bore, outside, width, kind, words or size:NAME.",
        )
    odd = [name for name in named if name not in good]
    if odd:
        raise FileError(
            f'{path} has a column "{visible(odd[0])}" that means nothing here',
            f"Columns: {', '.join(known)}, size:NAME.",
        )
    twice = [name for name in good if good.count(name) > 1]
    if twice:
        raise FileError(
            f'{path} has the column "{visible(twice[0])}" twice',
            "Leave one of them; several marks in a cell are parted by a bar between spaces.",
        )
