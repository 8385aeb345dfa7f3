"""Bounds on workbooks that are zip archives, checked before any library opens them."""

from __future__ import annotations

import re
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from xref.errors import FileError
from xref.sheets.extent import check_extent, check_hollow

MOST_UNPACKED = 400_000_000
"""Bytes all entries of a workbook may unpack to: about a million rows of ten columns. Judged."""

MOST_BLOWN_UP = 100
"""Times its own size that a workbook may unpack to, once that is more than BLOWN_UP bytes. Judged:
sheets of numbers and words unpack to ten or twenty times; what is made to fill memory, to hundreds.
"""

BLOWN_UP = 50_000_000

MOST_ENTRIES = 5_000

_PIECE = 1 << 20
_CELL = re.compile(rb'<c [^>]*?\br="([A-Z]{1,3})([0-9]{1,7})"')
_ROW = re.compile(rb'<row [^>]*?\br="([0-9]{1,7})"')
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError)


def names_in(path: Path, name: str) -> set[str]:
    """The entries of the archive. Raises FileError for a damaged one and one that unpacks huge."""
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
    except (OSError, *DAMAGED):
        raise broken(name) from None
    size = sum(e.file_size for e in entries)
    packed = sum(e.compress_size for e in entries)
    blown_up = size > BLOWN_UP and size > MOST_BLOWN_UP * packed
    if len(entries) > MOST_ENTRIES or size > MOST_UNPACKED or blown_up:
        raise FileError(
            f"{name} unpacks to far more than a parts list has",
            "Save the sheet as csv and import that.",
        )
    return {entry.filename for entry in entries}


def broken(name: str) -> FileError:
    """The refusal of a workbook that cannot be unpacked."""
    return FileError(f"{name} is damaged or cut short", "Save it again and try that file.")


def pieces(stream: IO[bytes], most: int) -> Iterator[bytes]:
    """The unpacked bytes piece by piece, never more than the ``most`` that the archive promised.

    Raises BadZipFile where there are more.
    """
    seen = 0
    while piece := stream.read(_PIECE):
        seen += len(piece)
        if seen > most:
            raise zipfile.BadZipFile
        yield piece


def check_xlsx(path: Path, name: str) -> None:
    """Raise FileError for a sheet with too many columns or cells, or a damaged one."""
    try:
        for sheet in _sheets(path):
            _check_grid(sheet, name)
    except (OSError, *DAMAGED):
        raise broken(name) from None


def _check_grid(pieces: Iterator[bytes], name: str) -> None:
    tail = b""
    columns: set[bytes] = set()
    wide = last = filled = 0
    for piece in pieces:
        text = tail + piece
        cut = text.rfind(b"<") if len(text) < 4 * _PIECE else len(text)
        whole, tail = (text[:cut], text[cut:]) if cut > 0 else (text, b"")
        found = _CELL.findall(whole)
        columns.update(letters for letters, _ in found)
        filled += len(found)
        last = max(last, max((int(row) for row in _ROW.findall(whole)), default=0))
        last = max(last, max((int(row) for _, row in found), default=0))
        wide = max((column_at(c.decode()) for c in columns), default=0)
        check_extent(wide, last, name)
    check_hollow(wide * last, filled, name)


def column_at(letters: str) -> int:
    """The place of a column by its letters: A is 1, AA is 27."""
    at = 0
    for letter in letters:
        at = 26 * at + ord(letter) - 64
    return at


def has_error_cells(path: Path) -> bool:
    """Whether any sheet of an xlsx workbook holds an error such as #REF! as its value."""
    return any(_has_error(sheet) for sheet in _sheets(path))


def _has_error(sheet: Iterator[bytes]) -> bool:
    said, tail = b't="e"', b""
    for piece in sheet:
        if said in tail + piece:
            return True
        tail = (tail + piece)[1 - len(said) :]
    return False


def _sheets(path: Path) -> Iterator[Iterator[bytes]]:
    """The unpacked pieces of each sheet of an xlsx workbook."""
    with zipfile.ZipFile(path) as archive:
        for entry in archive.infolist():
            if _SHEET.fullmatch(entry.filename):
                with archive.open(entry) as stream:
                    yield pieces(stream, entry.file_size)
