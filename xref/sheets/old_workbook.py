"""The records of an xls workbook: how far its sheets reach, and which cells hold an error.

calamine lays every sheet out whole as it opens the workbook, and gives an error as a blank: so
the records are looked through first. Their layout: [MS-XLS], Microsoft's published description.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from struct import unpack_from
from typing import Any

from xref.errors import FileError
from xref.sheets.compound import check_chains
from xref.sheets.extent import MOST_CELLS, check_extent, check_hollow, locked

ERRORS = {
    0x00: "#NULL!",
    0x07: "#DIV/0!",
    0x0F: "#VALUE!",
    0x17: "#REF!",
    0x1D: "#NAME?",
    0x24: "#NUM!",
    0x2A: "#N/A",
}
"""Error codes, [MS-XLS] 2.5.10 (BErr)."""

_BOF, _EOF, _FILE_PASS, _BOUND_SHEET, _DIMENSIONS = 0x0809, 0x000A, 0x002F, 0x0085, 0x0200
_BIFF8 = 0x0600
_BOOL_ERR, _FORMULA, _MUL_RK = 0x0205, 0x0006, 0x00BD
_ONE_CELL = frozenset({0x0203, 0x0204, 0x00FD, 0x027E, 0x00D6, _BOOL_ERR, _FORMULA})
"""Number, Label, LabelSst, RK, RString, BoolErr, Formula: they begin with line and column."""


@dataclass(slots=True)
class Reach:
    """What one sheet reaches; ``errors`` are its error cells by line and column from 0."""

    name: str
    lines: int = 0
    columns: int = 0
    cells: int = 0
    said: tuple[int, int] = (0, 0)
    errors: dict[tuple[int, int], str] = field(default_factory=dict)

    def use(self, line: int, column: int, last: int) -> None:
        """Note the cells from ``column`` to ``last`` of a line, each from 0."""
        self.lines = max(self.lines, line + 1)
        self.columns = max(self.columns, last + 1)
        self.cells += last - column + 1


def look_through(path: Path, name: str) -> list[Reach]:
    """How far each sheet of the workbook reaches, in the order of its tabs.

    Raises FileError for one that is damaged, needs a password, or reaches too far.
    """
    try:
        reaches = _reaches(_stream(path), name)
    except FileError:
        raise
    except Exception:
        # The library that opens the container has no one class for what a damaged one brings.
        raise FileError(
            f"{name} is damaged or cut short", "Open it in the spreadsheet and save it again."
        ) from None
    for reach in reaches:
        lines, columns = max(reach.lines, reach.said[0]), max(reach.columns, reach.said[1])
        check_extent(columns, lines, name)
        check_hollow(reach.columns * reach.lines, reach.cells, name)
    if sum(reach.columns * reach.lines for reach in reaches) > MOST_CELLS:
        raise FileError(
            f"{name} has sheets of too many lines and columns to read",
            "Save the sheet as csv and import that.",
        )
    return reaches


def _stream(path: Path) -> memoryview:
    from xlrd.compdoc import CompDoc

    data = path.read_bytes()
    check_chains(data)
    held: Any = CompDoc(data, logfile=io.StringIO())
    for name in ("Workbook", "Book"):
        stream, base, length = held.locate_named_stream(name)
        if stream is not None:
            return memoryview(stream)[base : base + length]
    raise ValueError(name)


def _reaches(stream: memoryview, name: str) -> list[Reach]:
    sheets: dict[int, Reach] = {}
    now: Reach | None = None
    wide_names = unpack_from("<H", stream, 4)[0] >= _BIFF8
    for at, code, body in _records(stream):
        if code == _FILE_PASS:
            raise locked(name)
        if code == _BOUND_SHEET:
            sheets[unpack_from("<I", body)[0]] = Reach(_title(body, wide_names))
        elif code == _BOF:
            # A chart inside a sheet has a BOF of its own; its cells are no cells of the sheet.
            now = sheets.get(at)
        elif now is not None:
            _note(now, code, body)
    return list(sheets.values())


def _records(stream: memoryview) -> Iterator[tuple[int, int, memoryview]]:
    """Each record: where it begins, its code, its body."""
    at = 0
    while at + 4 <= len(stream):
        code, length = unpack_from("<HH", stream, at)
        yield at, code, stream[at + 4 : at + 4 + length]
        at += 4 + length


def _title(body: memoryview, wide_names: bool) -> str:
    """The name in a BoundSheet record: before BIFF8 no flag said whether it is UTF-16."""
    count = body[6]
    if not wide_names:
        return bytes(body[7 : 7 + count]).decode("cp1252", "replace")
    if body[7] & 1:
        return bytes(body[8 : 8 + 2 * count]).decode("utf-16-le", "replace")
    return bytes(body[8 : 8 + count]).decode("latin-1")


def _note(sheet: Reach, code: int, body: memoryview) -> None:
    if code in _ONE_CELL:
        line, column = unpack_from("<HH", body)
        sheet.use(line, column, column)
        error = _error(code, body)
        if error:
            sheet.errors[line, column] = error
    elif code == _MUL_RK:
        line, column = unpack_from("<HH", body)
        sheet.use(line, column, unpack_from("<H", body, len(body) - 2)[0])
    elif code == _DIMENSIONS and len(body) >= 12:
        _, lines, _, columns = unpack_from("<IIHH", body)
        sheet.said = (lines, columns)


def _error(code: int, body: memoryview) -> str:
    """The error in a cell; "" where it holds none."""
    if code == _BOOL_ERR and body[7] == 1:
        return ERRORS.get(body[6], "#ERROR")
    if code == _FORMULA and bytes(body[12:14]) == b"\xff\xff" and body[6] == 2:
        return ERRORS.get(body[8], "#ERROR")
    return ""
