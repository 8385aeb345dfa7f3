"""What keeps a workbook from being read: it reaches too far, or needs a password."""

from __future__ import annotations

from xref.errors import FileError

MOST_COLUMNS = 500
"""Columns of a list: the widest spares lists have some dozens. Judged."""

MOST_CELLS = 25_000_000
"""Cells between the first and the last one used, which the reader holds in memory. Judged."""

MOST_HOLLOW = 2_000_000
"""Cells between the first and the last one used, up to which it matters not how many are written.
Judged: they take some tens of megabytes."""

MOST_TEXT = 100_000_000
"""Characters in all cells, a text counted at each place where it stands. Judged: a million rows of
a hundred characters."""

LEAST_FILLED = 1 / 50
"""Share of a larger sheet that must be written; a cell that is repeated counts once. Judged: a list
of ten columns with one cell that strayed to the last line passes from some twenty thousand rows."""


def check_extent(columns: int, rows: int, name: str) -> None:
    """Raise FileError where a sheet reaches too far to be read."""
    if columns > MOST_COLUMNS:
        raise FileError(
            f"{name} has a sheet of {columns} columns; a parts list has at most {MOST_COLUMNS}",
            "Keep the columns that matter and save it again.",
        )
    if columns * rows > MOST_CELLS:
        raise FileError(
            f"{name} has a sheet of {rows} lines and {columns} columns, too many to read",
            "Save the sheet as csv and import that.",
        )


def check_hollow(cells: int, written: int, name: str) -> None:
    """Raise FileError where next to nothing is written in sheets that reach over many cells."""
    if cells > MOST_HOLLOW and written < LEAST_FILLED * cells:
        raise FileError(
            f"{name} reaches over {cells:,} cells with only {written:,} of them written",
            "Delete what stands far from the list and save it again.",
        )


def locked(name: str) -> FileError:
    """The refusal of a workbook that needs a password."""
    return FileError(
        f"{name} is protected by a password", "Save a copy without the password and import that."
    )


def too_much_text(name: str) -> FileError:
    """The refusal of a workbook that shows a long text over and over."""
    return FileError(
        f"{name} holds far more text than a parts list has",
        "Save the sheet as csv and import that.",
    )
