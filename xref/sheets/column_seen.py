"""What a person is shown of a list before it is stored: its columns, their first cells, what each
was taken for; and the question which of them holds the part numbers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from xref.domain.number import visible
from xref.errors import FileError
from xref.sheets.cells import typed_text
from xref.sheets.column import letters
from xref.sheets.plain import plain_heading
from xref.sheets.table import SAMPLE, Table

CELLS = 3
"""First filled cells that are shown of a column."""
MOST_CELL = 40
"""Characters of a cell that are shown."""


@dataclass(frozen=True, slots=True)
class ColumnSeen:
    """One column as it was understood.

    ``letter`` is what a spreadsheet calls it; ``samples`` are its first filled cells. ``by``:
    heading, content, told, or kept; ``perhaps`` is the field that a kept one looks like, "" for
    none; ``sure`` is 0 to 1.
    """

    sheet: str
    label: str
    field: str
    sure: float
    by: str
    unit: str = ""
    perhaps: str = ""
    letter: str = ""
    samples: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The column in the documents of an import."""
        return {
            "sheet": self.sheet or None,
            "letter": self.letter,
            "heading": self.label,
            "column": self.label,
            "samples": list(self.samples),
            "field": self.field,
            "sure": self.sure,
            "by": self.by,
            "why": WHY[self.by],
            "unit": self.unit or None,
            "perhaps": self.perhaps or None,
        }


WHY = {
    "heading": "its heading says so",
    "content": "what stands in it looks so",
    "told": "you said so",
    "kept": "nothing says what it is: kept with the part",
}
"""Why a column was taken for what it was, by ``ColumnSeen.by``."""


class WhichColumnError(FileError):
    """No column of a file is the part numbers for certain; ``columns`` are all of its columns and
    ``likely`` the labels of those that may be, the likeliest first."""

    def __init__(
        self,
        message: str,
        hint: str = "",
        columns: tuple[ColumnSeen, ...] = (),
        likely: tuple[str, ...] = (),
    ) -> None:
        super().__init__(message, hint)
        self.columns, self.likely = columns, likely


def columns_of(table: Table) -> Iterator[ColumnSeen]:
    """The columns of a list as they were understood, each with its first filled cells."""
    samples = _samples(table)
    for at, column in enumerate(table.columns):
        yield ColumnSeen(
            table.sheet.name,
            column.label,
            column.field,
            column.sure,
            column.by,
            column.unit,
            column.perhaps,
            letters(table.sheet.left + column.at),
            tuple(samples[at]),
        )


def _samples(table: Table) -> list[list[str]]:
    found: list[list[str]] = [[] for _ in table.columns]
    for count, (line, row) in enumerate(table.sheet.rows):
        if line <= table.heading.line:
            continue
        for at, column in enumerate(table.columns):
            cell = row[column.at] if column.at < len(row) else ""
            text = typed_text(cell).strip()
            if text and len(found[at]) < CELLS:
                found[at].append(visible(text, MOST_CELL))
        if count > SAMPLE or all(len(some) == CELLS for some in found):
            break
    return found


def headings_of(tables: list[Table]) -> tuple[str, ...]:
    """The headings that a file is known by when it comes again: plain, in order of the alphabet,
    without the column of reasons that a file of rejected rows has more."""
    from xref.sheets.rejects import REASON

    plain = {plain_heading(title) for table in tables for title in table.heading.titles}
    return tuple(sorted(plain - {"", plain_heading(REASON)}))
