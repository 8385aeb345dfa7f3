"""Write a list as csv or xlsx, every cell text and none that a spreadsheet would run."""

from __future__ import annotations

import csv
import os
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError, InputError
from xref.sheets.harmless import harmless

Writer = Callable[[Path, Sequence[str], Iterable[Sequence[str]]], None]


def write_list(path: Path, titles: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """Write the list to ``path`` by its ending, .csv or .xlsx; a file that is there is replaced
    only when the new one is whole.

    Raises InputError for another ending, FileError where it cannot be written.
    """
    write = _WRITERS.get(path.suffix.lower())
    name = visible(path.name, 80)
    if write is None:
        raise InputError(f"{name} is neither csv nor xlsx", "Give a name that ends in one of them.")
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        try:
            write(beside, titles, rows)
            os.replace(beside, path)
        finally:
            beside.unlink(missing_ok=True)
    except OSError as error:
        raise FileError(
            f"{name} could not be written ({error.strerror})", "Choose another folder or name."
        ) from None


def _csv(path: Path, titles: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    with path.open("w", encoding="utf-8-sig", newline="") as stream:
        out = csv.writer(stream)
        out.writerow(map(harmless, titles))
        out.writerows(map(harmless, row) for row in rows)


def _xlsx(path: Path, titles: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell

    book = Workbook(write_only=True)
    sheet = book.create_sheet("parts")
    for row in (titles, *rows):
        cells = []
        for text in row:
            cell = WriteOnlyCell(sheet)
            if text:
                cell.data_type = "s"
                cell._value = harmless(text)
                cell.number_format = "@"
            cells.append(cell)
        sheet.append(cells)
    book.save(path)


_WRITERS: dict[str, Writer] = {".csv": _csv, ".xlsx": _xlsx}
