"""The cells of an ods workbook: how far its sheets spread out, which are errors, which merged."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

from xref.errors import FileError
from xref.sheets.extent import MOST_TEXT, check_extent, check_hollow, locked, too_much_text
from xref.sheets.open_xml import plain_parser
from xref.sheets.zipped import DAMAGED, broken, pieces

_ERROR = re.compile(r"#[A-ZÄÖÜ]+[!?]|#DIV/0!|#N/A|#NV|Err:[0-9]{3}")
_MOST_TEXT = 20
_MOST_DIGITS = 18
"""Digits of a count that are read: what has more is too much in any case."""
Place = tuple[int, int]
Places = dict[Place, str]


class Content:
    """Counts what the "repeated" attributes spread out, and notes what the reader does not tell.

    ``errors`` holds the errors of each sheet by line and column from 0, ``merged`` the first and
    the last place of each cell that is merged downward.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.errors: dict[str, Places] = {}
        self.merged: dict[str, list[tuple[Place, Place]]] = {}
        self._sheet: Places = {}
        self._merged: list[tuple[Place, Place]] = []
        self._rows = self._widest = self._longest = self._total = self._written = 0
        self._across = self._used = 0
        self._down = self._times = 1
        self._letters = self._row_letters = 0
        self._suspect = False
        self._text = ""
        self._row_errors: list[tuple[int, str]] = []

    def start(self, tag: str, has: dict[str, str]) -> None:
        """An element begins. Which prefix it has is the writer's choice."""
        name = tag.rpartition(":")[2]
        if name == "table":
            called = _said(has, "name")
            self._sheet = self.errors.setdefault(called, {})
            self._merged = self.merged.setdefault(called, [])
            self._rows = self._widest = self._longest = 0
        elif name == "table-row":
            self._across = self._used = self._row_letters = 0
            self._row_errors = []
            self._down = _times(_said(has, "number-rows-repeated"))
        elif name in ("table-cell", "covered-table-cell"):
            self._cell(has)
        elif name == "s":
            # So many spaces, written as one element.
            self._row_letters += self._times * _times(_said(has, "c"))

    def _cell(self, has: dict[str, str]) -> None:
        times = self._times = _times(_said(has, "number-columns-repeated"))
        down = _times(_said(has, "number-rows-spanned"))
        if down > 1:
            place = (self._rows, self._across)
            self._merged.append((place, (self._rows + down - 1, self._across)))
        self._across += times
        if _said(has, "value-type"):
            self._used = self._across
            self._written += 1
            self._row_letters += times * max(map(len, has.values()))
        # An error is the text of a formula's cell; some writers say of the cell that it is one.
        said = has.get("calcext:value-type") == "error"
        self._suspect = said or "table:formula" in has
        self._text = ""

    def text(self, data: str) -> None:
        """Text inside an element."""
        self._row_letters += self._times * len(data)
        if self._suspect and len(self._text) < _MOST_TEXT:
            self._text += data

    def end(self, tag: str) -> None:
        """An element ends."""
        name = tag.rpartition(":")[2]
        if name == "table-cell":
            self._times = 1
            if self._suspect:
                self._suspect = False
                if _ERROR.fullmatch(self._text.strip()):
                    self._row_errors.append((self._across - 1, self._text.strip()))
        elif name == "table-row":
            self._end_row()
        elif name == "table":
            self._total += self._widest * self._longest
            check_extent(1, self._total, self.name)
            check_hollow(self._total, self._written, self.name)

    def _end_row(self) -> None:
        for column, error in self._row_errors:
            self._sheet[self._rows, column] = error
        self._rows += self._down
        self._letters += self._row_letters * self._down
        self._row_letters = 0
        if self._letters > MOST_TEXT:
            raise too_much_text(self.name)
        if self._used:
            self._widest = max(self._widest, self._used)
            self._longest = max(self._longest, self._rows)
            check_extent(self._widest, self._longest, self.name)


def _said(has: dict[str, str], name: str) -> str:
    """An attribute by its name without the prefix; "" where there is none."""
    return next((text for key, text in has.items() if key.rpartition(":")[2] == name), "")


def _times(text: str) -> int:
    """How often something is repeated; once where nothing sensible is said."""
    try:
        return max(1, int(text[:_MOST_DIGITS])) if text else 1
    except ValueError:
        return 1


def look_through(path: Path, name: str) -> Content:
    """What is to be known of the workbook beside its cells.

    Raises FileError for an ods that is locked, damaged, or spreads out too far.
    """
    content = Content(name)
    parser = plain_parser()
    parser.StartElementHandler = content.start
    parser.EndElementHandler = content.end
    parser.CharacterDataHandler = content.text
    try:
        with zipfile.ZipFile(path) as archive:
            if b"encryption-data" in archive.read("META-INF/manifest.xml"):
                raise locked(name)
            entry = archive.getinfo("content.xml")
            with archive.open(entry) as stream:
                for piece in pieces(stream, entry.file_size):
                    parser.Parse(piece)
                parser.Parse(b"", True)
    except FileError:
        raise
    except (OSError, *DAMAGED):
        raise broken(name) from None
    return content
