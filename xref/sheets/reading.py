"""Open a file of lists: the tables in it, understood, and what was passed over."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from shlex import quote

from xref.domain.number import visible
from xref.errors import FileError, NotFoundError
from xref.sheets.column_seen import WhichColumnError, columns_of, headings_of
from xref.sheets.columns import MOST_NAMED, told_missing
from xref.sheets.finding import Findings
from xref.sheets.guard import TEXT, look
from xref.sheets.layout import lists_in
from xref.sheets.plain import plain_heading
from xref.sheets.said_above import named_by_sheet
from xref.sheets.sheet import Sheet
from xref.sheets.table import Table, find_table

Remembered = Callable[[tuple[str, ...]], Mapping[str, str]]
"""What was said before of the columns of a list with these headings: fields by column."""


def read_tables(
    path: Path,
    only: str,
    told: Mapping[str, str],
    findings: Findings,
    remembered: Remembered = lambda _: {},
    sheets: Sequence[Sheet] | None = None,
) -> list[Table]:
    """Every list of parts in the file, or the one on the sheet called ``only``.

    ``sheets`` are those of the file where they were read already. What is ``remembered`` counts
    where ``told`` says nothing. Raises FileError for a file that cannot be used or has no such
    list, NotFoundError for a sheet or a column that is not there.
    """
    sheets = read_sheets(path, only) if sheets is None else sheets
    found = list(_found(sheets, told))
    before = remembered(headings_of([table for _, table in found if table is not None]))
    if before:
        found = list(_found(sheets, {**before, **told}))
    tables = [table for _, table in found if table is not None and table.number_at >= 0]
    if not tables:
        raise _asked(path, [t for _, t in found if t is not None])
    for sheet, table in found:
        if table not in tables:
            why = "no column of it looks like part numbers"
            findings.add(sheet.name, 0, "", "sheet passed over", why)
    for table in tables:
        _say_of_all(table, findings)
    told_missing(told, [table.columns for table in tables])
    return tables


def _say_of_all(table: Table, findings: Findings) -> None:
    """Say what was taken for a whole list from beside it."""
    what, name = table.by_sheet
    if what == "model":
        said = f'"{visible(name, 60)}", which the sheet says, is taken for the machine of its rows'
        findings.add(table.sheet.name, 0, "", "sheet name", said)
    if table.unit:
        unit = "inches" if table.unit == "inch" else "millimetres"
        said = f"sizes without a unit are taken in {unit}, as a line of the sheet says"
        findings.add(table.sheet.name, 0, "", "unit", said)


def _found(
    sheets: Sequence[Sheet], told: Mapping[str, str]
) -> Iterator[tuple[Sheet, Table | None]]:
    """Each list of each sheet; of a sheet with several, only those with a column of numbers."""
    named = frozenset(plain_heading(name) for name in told)
    names = [sheet.name for sheet in sheets]
    for sheet in sheets:
        by_sheet = named_by_sheet(sheet.name, [n for n in names if n != sheet.name])
        pieces = lists_in(sheet, named)
        tables = [find_table(piece, told, by_sheet, len(pieces) > 1) for piece in pieces]
        good = [t for t in tables if t is not None and t.number_at >= 0]
        if len(pieces) > 1 and good:
            yield from ((t.sheet, t) for t in tables if t is not None)
        else:
            yield from zip(pieces, tables, strict=True)


def _asked(path: Path, tables: Sequence[Table]) -> FileError:
    """The question which column holds the part numbers, the likely ones first."""
    columns = [column for table in tables for column in table.columns]
    likely = [c for c in columns if c.perhaps == "number"]
    others = [c for c in columns if c not in likely]
    labels = list(dict.fromkeys(visible(c.label) for c in (*likely, *others)))[:MOST_NAMED]
    seen = tuple(column for table in tables for column in columns_of(table))
    may_be = tuple(dict.fromkeys(c.label for c in likely))
    name = visible(path.name, 80)
    if likely:
        first = visible(likely[0].label)
        rest = f"; the columns are {', '.join(labels)}" if len(labels) > 1 else ""
        why = "two headings are as good" if len(likely) > 1 else "no heading says so"
        return WhichColumnError(
            f"which column of {name} holds the part numbers? It may be {first}, but {why}",
            f"Say so with --map {_typed(first)}{rest}.",
            seen,
            may_be,
        )
    hint = f"Name it with --map COLUMN=number: {', '.join(labels)}. " if labels else ""
    return WhichColumnError(
        f"{name} has no list with a column of part numbers",
        f"{hint}A sheet of formulas must be saved with values.",
        seen,
        may_be,
    )


def _typed(label: str) -> str:
    """What to type behind --map for the column of part numbers."""
    plain = not set(label) & set('"$`\\!')
    return f'"{label}=number"' if plain else quote(f"{label}=number")


def read_sheets(path: Path, only: str) -> list[Sheet]:
    """The sheets of the file as they lie in it, or the one called ``only``.

    Raises FileError for a file that cannot be used, NotFoundError for a sheet that is not there.
    """
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
