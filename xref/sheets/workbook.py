"""Workbooks (xlsx, xls, ods) read through pandas and calamine; number formats through openpyxl."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from xref.domain.number import visible
from xref.errors import FileError, NotFoundError
from xref.sheets import old_workbook, open_document
from xref.sheets.extent import check_extent, locked
from xref.sheets.guard import ODS, XLS, XLSX
from xref.sheets.look import Look, looks_of
from xref.sheets.sheet import Cell, Sheet
from xref.sheets.zipped import has_error_cells

Places = dict[tuple[int, int], str]
"""Texts by line and column from 0, the line as the spreadsheet counts it."""

Merged = Sequence[tuple[tuple[int, int], tuple[int, int]]]
"""The first and the last cell of each that was merged, by line and column from 0."""


def read_workbook(path: Path, kind: str, only: str = "") -> list[Sheet]:
    """Every sheet of the workbook, or the one called ``only``.

    Raises FileError where the file cannot be read, NotFoundError where no sheet is called so.
    """
    import pandas

    name = visible(path.name, 80)
    errors, merged = _beside(path, kind, name)
    with _told_plainly(name), pandas.ExcelFile(path, engine="calamine") as book:
        wanted = _chosen([str(n) for n in book.sheet_names], only, name)
        found = {title: _rows(book, title, merged.get(title), name) for title in wanted}
    if kind == XLSX and has_error_cells(path):
        errors = _errors(path, wanted)
    with _told_plainly(name):
        looks = looks_of(path) if kind == XLSX else {}
    return [
        _sheet(path, title, kind, rows, errors.get(title, {}), looks.get(title))
        for title, rows in found.items()
    ]


@contextmanager
def _told_plainly(name: str) -> Iterator[None]:
    """Raise FileError for whatever the reader raises inside of a file that it cannot read."""
    try:
        yield
    except (FileError, NotFoundError):
        raise
    except MemoryError:
        raise FileError(f"{name} is too big to read", "Save the sheet as csv.") from None
    except BaseException as error:
        # The reader is another language's library: its panics are no Exception.
        if isinstance(error, KeyboardInterrupt | SystemExit):
            raise
        if "password" in str(error).lower() or "encrypt" in str(error).lower():
            raise locked(name) from None
        raise FileError(
            f"{name} is damaged or cut short", "Open it in the spreadsheet and save it again."
        ) from None


def _rows(book: Any, title: str, merged: Merged | None, name: str) -> list[list[Cell]]:
    """The cells of one sheet; ``merged`` where they are known better than the reader does."""
    import pandas

    raw = book.book.get_sheet_by_name(title)
    check_extent(raw.total_width, raw.total_height, name)
    frame = pandas.read_excel(
        book, sheet_name=title, header=None, dtype=object, na_filter=False, keep_default_na=False
    )
    rows = [list(map(_cell, row)) for row in frame.itertuples(index=False, name=None)]
    fill_merged(rows, merged or getattr(raw, "merged_cell_ranges", None) or [])
    return rows


def _sheet(
    path: Path, title: str, kind: str, rows: list[list[Cell]], lost: Places, look: Look | None
) -> Sheet:
    for line, column in lost:
        # Some writers put a 0 or the error's own text where a value would be.
        if line <= len(rows) and column < len(rows[line - 1]):
            rows[line - 1][column] = ""
    return Sheet(path, title, kind, list(enumerate(rows, 1)), lost, look=look)


def _chosen(names: Sequence[str], only: str, file: str) -> list[str]:
    if not only:
        return list(names)
    found = [n for n in names if n == only] or [
        n for n in names if n.strip().lower() == only.strip().lower()
    ]
    if not found:
        shown = ", ".join(visible(n) for n in names[:10])
        raise NotFoundError(
            f'{file} has no sheet called "{visible(only)}"', f"Its sheets: {shown}."
        )
    return found[:1]


def _cell(value: Any) -> Cell:
    """A cell of our own types; whatever pandas made of a date or a gap is undone."""
    if isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        return "" if value != value else value
    if isinstance(value, datetime.datetime):
        plain = value.replace(tzinfo=None)
        return plain.date() if plain.time() == datetime.time() else plain
    if isinstance(value, datetime.date | datetime.time | datetime.timedelta):
        return value
    return "" if value is None else str(value)


def fill_merged(rows: list[list[Cell]], merged: Merged) -> None:
    """Give every line of a cell merged downward its value; across, it keeps its one place.

    No more is filled in than there are cells, whatever the file says is merged.
    """
    left_over = sum(map(len, rows))
    for (top, left), (bottom, _) in merged:
        if top >= len(rows) or left >= len(rows[top]) or bottom == top:
            continue
        last = min(bottom, len(rows) - 1, top + left_over)
        left_over -= last - top
        for line in range(top + 1, last + 1):
            if left < len(rows[line]) and rows[line][left] == "":
                rows[line][left] = rows[top][left]


def _beside(path: Path, kind: str, name: str) -> tuple[dict[str, Places], Mapping[str, Merged]]:
    """The error cells of each sheet of an xls or ods, as the reader leaves them blank, and the
    merged ones of an ods, of which it says nothing.

    Raises FileError for one that must not be opened.
    """
    found: dict[str, Places] = {}
    merged: Mapping[str, Merged] = {}
    if kind == XLS:
        found = {reach.name: reach.errors for reach in old_workbook.look_through(path, name)}
    elif kind == ODS:
        content = open_document.look_through(path, name)
        found, merged = content.errors, content.merged
    errors = {
        sheet: {(line + 1, column): error for (line, column), error in places.items()}
        for sheet, places in found.items()
    }
    return errors, merged


@contextmanager
def _opened(path: Path) -> Iterator[Any]:
    """An xlsx for what the quicker reader does not tell; let go afterwards."""
    from openpyxl import load_workbook

    book = load_workbook(path, read_only=True, data_only=True)
    try:
        yield book
    finally:
        book.close()


def _errors(path: Path, names: Sequence[str]) -> dict[str, Places]:
    with _opened(path) as book:
        return {
            name: {
                (cell.row, cell.column - 1): str(cell.value)
                for row in _lines(book[name])
                for cell in row
                if cell.data_type == "e"
            }
            for name in names
        }


def _lines(sheet: Any, **within: int) -> Iterator[Any]:
    """The lines of a sheet as far as there are any, whatever extent the file says it has."""
    sheet.reset_dimensions()
    return iter(sheet.iter_rows(**within))


def number_formats(sheet: Sheet, columns: Sequence[int]) -> dict[tuple[int, int], str]:
    """The number format of each number in these columns of an xlsx sheet, by line and column."""
    left = sheet.left
    within = {"min_col": min(columns) + left + 1, "max_col": max(columns) + left + 1}
    with _opened(sheet.path) as book:
        return {
            (cell.row, cell.column - 1 - left): str(cell.number_format)
            for row in _lines(book[sheet.name], **within)
            for cell in row
            if cell.data_type in ("n", "d") and cell.value is not None
        }
