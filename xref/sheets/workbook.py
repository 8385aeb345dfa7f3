"""Workbooks (xlsx, xls, ods) read through calamine; number formats through openpyxl."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from xref.domain.number import visible
from xref.errors import FileError, NotFoundError
from xref.sheets import old_workbook, open_document
from xref.sheets.apart import read_apart
from xref.sheets.extent import check_extent, locked
from xref.sheets.guard import ODS, XLS, XLSX
from xref.sheets.look import looks_of
from xref.sheets.open_xml import check_xlsx
from xref.sheets.sheet import Cell, Row, Sheet
from xref.sheets.zipped import has_error_cells

Places = dict[tuple[int, int], str]
"""Texts by line and column from 0, the line as the spreadsheet counts it."""

_ROWS_AT_ONCE = 2_000
"""Rows that are handed over at once."""

Merged = Sequence[tuple[tuple[int, int], tuple[int, int]]]
"""The first and the last cell of each that was merged, by line and column from 0."""


def read_workbook(path: Path, kind: str, only: str = "") -> list[Sheet]:
    """Every sheet of the workbook, or the one called ``only``, read in a process of its own.

    Raises FileError where the file cannot be read, NotFoundError where no sheet is called so.
    """
    sheets: list[Sheet] = []
    for answer in read_apart("sheets", path, kind, only):
        if isinstance(answer, Sheet):
            sheets.append(answer)
        else:
            rows = sheets[-1].rows
            assert isinstance(rows, list)
            rows += answer
    return sheets


def number_formats(sheet: Sheet, columns: Sequence[int]) -> dict[tuple[int, int], str]:
    """The number format of each number in these columns of an xlsx sheet, by line and column.

    Raises FileError where it cannot be read.
    """
    found: dict[tuple[int, int], str] = {}
    told = (sheet.name, sheet.left, min(columns), max(columns))
    for answer in read_apart("formats", sheet.path, *told):
        found |= answer
    return found


def _sheets(path: Path, kind: str, only: str) -> Iterator[Sheet | list[Row]]:
    """Each sheet without its rows, and then these, some at a time."""
    from python_calamine import CalamineWorkbook

    name = visible(path.name, 80)
    with _told_plainly(name):
        errors, merged = _beside(path, kind, name)
        with CalamineWorkbook.from_path(str(path)) as book:
            wanted = _chosen(book.sheet_names, only, name)
            if kind == XLSX and has_error_cells(path):
                errors = _errors(path, wanted)
            looks = looks_of(path) if kind == XLSX else {}
            for title in wanted:
                rows = _rows(book, title, merged.get(title), name)
                lost = errors.get(title, {})
                _blank(rows, lost)
                yield Sheet(path, title, kind, [], lost, look=looks.get(title))
                for at in range(0, len(rows), _ROWS_AT_ONCE):
                    yield list(enumerate(rows[at : at + _ROWS_AT_ONCE], at + 1))


@contextmanager
def _told_plainly(name: str) -> Iterator[None]:
    """Raise FileError for whatever the reader raises inside of a file that it cannot read."""
    try:
        yield
    except (FileError, NotFoundError, MemoryError, GeneratorExit):
        raise
    except BaseException as error:
        # The reader is another language's library: its panics are no Exception.
        if isinstance(error, KeyboardInterrupt | SystemExit | BrokenPipeError):
            raise
        if "password" in str(error).lower() or "encrypt" in str(error).lower():
            raise locked(name) from None
        raise FileError(
            f"{name} is damaged or cut short", "Open it in the spreadsheet and save it again."
        ) from None


def _rows(book: Any, title: str, merged: Merged | None, name: str) -> list[list[Cell]]:
    """The cells of one sheet; ``merged`` where they are known better than the reader does."""
    raw = book.get_sheet_by_name(title)
    check_extent(raw.total_width, raw.total_height, name)
    rows = [list(map(_cell, row)) for row in raw.to_python(skip_empty_area=False)]
    fill_merged(rows, merged or getattr(raw, "merged_cell_ranges", None) or [])
    return rows


def _blank(rows: list[list[Cell]], lost: Places) -> None:
    """Some writers put a 0 or the error's own text where a value would be."""
    for line, column in lost:
        if line <= len(rows) and column < len(rows[line - 1]):
            rows[line - 1][column] = ""


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
    """A cell of our own types: a whole number has no point, and midnight is the day alone."""
    if isinstance(value, float):
        if value != value:
            return ""
        return int(value) if value.is_integer() else value
    if isinstance(value, datetime.datetime):
        plain = value.replace(tzinfo=None)
        return plain.date() if plain.time() == datetime.time() else plain
    known = str | int | datetime.date | datetime.time | datetime.timedelta
    if isinstance(value, known):
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
    if kind == XLSX:
        check_xlsx(path, name)
    elif kind == XLS:
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


def _formats(path: Path, title: str, left: int, first: int, last: int) -> Iterator[Places]:
    """The number formats in these columns of a list that begins at ``left``."""
    with _told_plainly(visible(path.name, 80)), _opened(path) as book:
        yield {
            (cell.row, cell.column - 1 - left): str(cell.number_format)
            for row in _lines(book[title], min_col=first + left + 1, max_col=last + left + 1)
            for cell in row
            if cell.data_type in ("n", "d") and cell.value is not None
        }


TASKS: Mapping[str, Callable[..., Iterator[Any]]] = {"sheets": _sheets, "formats": _formats}
"""What is done in a process of its own."""
