"""Bounds on workbooks that are zip archives, checked before any library opens them."""

from __future__ import annotations

import lzma
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO
from xml.parsers import expat

from xref.errors import FileError

MOST_UNPACKED = 400_000_000
"""Bytes all entries of a workbook may unpack to: about a million rows of ten columns. Judged."""

MOST_BLOWN_UP = 100
"""Times its own size that a workbook may unpack to, once that is more than BLOWN_UP bytes. Judged:
sheets of numbers and words unpack to ten or twenty times; what is made to fill memory, to hundreds.
"""

BLOWN_UP = 50_000_000

MOST_ENTRIES = 5_000

_PIECE = 1 << 20
_SHEET = re.compile(r"xl/worksheets/[^/]+\.xml")
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    expat.ExpatError,
    struct.error,
    EOFError,
    LookupError,
    NotImplementedError,
    RuntimeError,
    ValueError,
)
"""What a damaged archive and damaged XML in it bring: an encoding nobody knows is a LookupError."""


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
