"""Open a file of lists: the tables in it, understood, and what was passed over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError, NotFoundError
from xref.sheets.column import Column
from xref.sheets.columns import MOST_NAMED, told_missing
from xref.sheets.finding import Findings
from xref.sheets.guard import TEXT, look
from xref.sheets.sheet import Sheet
from xref.sheets.table import Table, find_table


def read_tables(path: Path, only: str, told: Mapping[str, str], findings: Findings) -> list[Table]:
    """Every list of parts in the file, or the one on the sheet called ``only``.

    Raises FileError for a file that cannot be used or has no such list, NotFoundError for a sheet
    or a column that is not there.
    """
    sheets = _sheets(path, only)
    found = [(sheet, find_table(sheet, told)) for sheet in sheets]
    tables = [table for _, table in found if table is not None and table.number_at >= 0]
    if not tables:
        columns = [column for _, table in found if table is not None for column in table.columns]
        raise FileError(
            f"{visible(path.name, 80)} has no list with a column of part numbers",
            f"{_named(columns)}A sheet of formulas must be saved with values.",
        )
    for sheet, table in found:
        if table not in tables:
            why = "no column of it looks like part numbers"
            findings.add(sheet.name, 0, "", "sheet passed over", why)
    told_missing(told, [table.columns for table in tables])
    return tables


def _named(columns: Sequence[Column]) -> str:
    """The advice to name one of these columns; "" where there is none."""
    labels = list(dict.fromkeys(visible(column.label) for column in columns))[:MOST_NAMED]
    return f"Name it with --map COLUMN=number: {', '.join(labels)}. " if labels else ""


def _sheets(path: Path, only: str) -> list[Sheet]:
    kind = look(path)
    if kind != TEXT:
        from xref.sheets.workbook import read_workbook

        return read_workbook(path, kind, only)
    if only:
        raise NotFoundError(
            f'{visible(path.name, 80)} has no sheet called "{visible(only)}"',
            "It is text and has one list; leave --sheet out.",
        )
    from xref.sheets.text import TextRows

    return [Sheet(path, "", TEXT, TextRows(path))]
