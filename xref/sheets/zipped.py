"""Bounds on workbooks that are zip archives, checked before any library opens them."""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO
from xml.parsers import expat

from xref.errors import FileError

MOST_UNPACKED = 400_000_000
"""Bytes all entries of a workbook may unpack to: about a million rows of ten columns. Judged."""

MOST_ENTRIES = 5_000
MOST_COLUMNS = 500
"""Columns of a list: the widest spares lists have some dozens. Judged."""

MOST_CELLS = 25_000_000
"""Cells between the first and the last one used, which the reader holds in memory. Judged."""

_PIECE = 1 << 20
_CELL = re.compile(rb'<c [^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"')
_ROW = re.compile(rb'<row [^>]*?\br="([0-9]{1,7})"')
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
_DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError)


def names_in(path: Path, name: str) -> set[str]:
    """The entries of the archive. Raises FileError for a damaged one and one that unpacks huge."""
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
    except (OSError, *_DAMAGED):
        raise _broken(name) from None
    if len(entries) > MOST_ENTRIES or sum(e.file_size for e in entries) > MOST_UNPACKED:
        raise FileError(
            f"{name} unpacks to far more than a parts list has",
            "Save the sheet as csv and import that.",
        )
    return {entry.filename for entry in entries}


def _broken(name: str) -> FileError:
    return FileError(f"{name} is damaged or cut short", "Save it again and try that file.")


def _pieces(stream: IO[bytes], most: int) -> Iterator[bytes]:
    """The unpacked bytes piece by piece, never more than the directory of the archive promised."""
    seen = 0
    while piece := stream.read(_PIECE):
        seen += len(piece)
        if seen > most:
            raise zipfile.BadZipFile
        yield piece


def check_xlsx(path: Path, name: str) -> None:
    """Raise FileError for a sheet with too many columns or cells, or a damaged one."""
    try:
        with zipfile.ZipFile(path) as archive:
            for entry in archive.infolist():
                if _SHEET.fullmatch(entry.filename):
                    with archive.open(entry) as stream:
                        _check_grid(_pieces(stream, entry.file_size), name)
    except (OSError, *_DAMAGED):
        raise _broken(name) from None


def _check_grid(pieces: Iterator[bytes], name: str) -> None:
    tail = b""
    columns: set[bytes] = set()
    last = 0
    for piece in pieces:
        text = tail + piece
        cut = text.rfind(b"<") if len(text) < 4 * _PIECE else len(text)
        whole, tail = (text[:cut], text[cut:]) if cut > 0 else (text, b"")
        found = _CELL.findall(whole)
        columns.update(letters for letters, _ in found)
        last = max(last, max((int(row) for _, row in found[-1:]), default=0))
        last = max(last, max((int(row) for row in _ROW.findall(whole)), default=0))
        last = max(last, max((int(row) for _, row in found), default=0))
        check_extent(max((column_at(c.decode()) for c in columns), default=0), last, name)


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


def column_at(letters: str) -> int:
    """The place of a column by its letters: A is 1, AA is 27."""
    at = 0
    for letter in letters:
        at = 26 * at + ord(letter) - 64
    return at


def has_error_cells(path: Path) -> bool:
    """Whether any sheet of an xlsx workbook holds an error such as #REF! as its value."""
    with zipfile.ZipFile(path) as archive:
        for entry in archive.infolist():
            if _SHEET.fullmatch(entry.filename):
                with archive.open(entry) as stream:
                    if any(b't="e"' in piece for piece in _pieces(stream, entry.file_size)):
                        return True
    return False


class _Spread:
    """Counts the cells that an ods sheet spreads out from its "repeated" attributes."""

    def __init__(self) -> None:
        self.columns = 0
        self.rows = 0
        self._across = 0
        self._down = 1
        self._used = 0
        self.widest = 0
        self.longest = 0

    def start(self, tag: str, has: dict[str, str]) -> None:
        if tag == "table:table":
            self.rows = 0
        elif tag == "table:table-row":
            self._across = self._used = 0
            self._down = _times(has.get("table:number-rows-repeated"))
        elif tag in ("table:table-cell", "table:covered-table-cell"):
            self._across += _times(has.get("table:number-columns-repeated"))
            if "office:value-type" in has:
                self._used = self._across

    def end(self, tag: str) -> None:
        if tag == "table:table-row":
            self.rows += self._down
            if self._used:
                self.widest = max(self.widest, self._used)
                self.longest = max(self.longest, self.rows)


def _times(text: str | None) -> int:
    return int(text) if text and text.isdigit() and len(text) < 10 else 1


def check_ods(path: Path, name: str) -> None:
    """Raise FileError for an ods that is locked, damaged, or spreads out too far."""
    spread = _Spread()
    parser = expat.ParserCreate()
    parser.StartElementHandler = spread.start
    parser.EndElementHandler = spread.end
    try:
        with zipfile.ZipFile(path) as archive:
            if b"encryption-data" in archive.read("META-INF/manifest.xml"):
                raise FileError(
                    f"{name} is protected by a password",
                    "Save a copy without the password and import that.",
                )
            entry = archive.getinfo("content.xml")
            with archive.open(entry) as stream:
                for piece in _pieces(stream, entry.file_size):
                    parser.Parse(piece)
                    check_extent(spread.widest, spread.longest, name)
    except (OSError, KeyError, expat.ExpatError, *_DAMAGED):
        raise _broken(name) from None
