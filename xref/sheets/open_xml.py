"""How much an xlsx holds, counted by an XML parser before any library lays it out.

What is counted are the parts that the relationships name, wherever they lie and whatever prefix
or quotes they are written with (ECMA-376, Office Open XML, parts 1 and 2), and those at the usual
places, where a reader looks without asking.
"""

from __future__ import annotations

import posixpath
import zipfile
from array import array
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from xml.parsers import expat

from xref.errors import FileError
from xref.sheets.extent import MOST_HOLLOW, MOST_TEXT, check_extent, check_hollow, too_much_text
from xref.sheets.zipped import DAMAGED, broken, pieces

_USUAL = ("xl/worksheets/", "xl/sharedstrings.xml")
_MUST_BE_READ = ("worksheet", "sharedStrings")
_DIGITS = "0123456789"
_LONGEST_COLUMN = 6
"""Letters of a column's name beyond which it is too far off, however far."""


class _Enough(Exception):
    """The part is none that is counted."""


class Count:
    """What one sheet or the table of shared texts holds."""

    def __init__(self) -> None:
        self.root = ""
        self.columns: set[str] = set()
        self.wide = self.last = self.filled = self.shared = self.spread = 0
        self.lengths = array("Q")
        self._row = self._at = 0
        self._digits = ""
        self._parser: expat.XMLParserType | None = None

    def attach(self, parser: expat.XMLParserType) -> None:
        """Count what this parser reads."""
        self._parser = parser
        parser.StartElementHandler = self.start

    def start(self, tag: str, has: dict[str, str]) -> None:
        """An element begins."""
        name = tag.rpartition(":")[2] if ":" in tag else tag
        if name == "c":
            self._cell(has)
        elif name == "row":
            self._next_row(has.get("r", ""))
        elif name in ("mergeCell", "hyperlink"):
            self.spread += _area(has.get("ref", ""))
        elif name == "si":
            self.lengths.append(0)
        elif not self.root:
            self.root = name
            if name not in ("worksheet", "sst"):
                raise _Enough
            if name == "sst" and self._parser is not None:
                # Only these texts are needed; without a handler the rest goes by quicker.
                self._parser.CharacterDataHandler = self.text

    def text(self, data: str) -> None:
        """Text of the table of shared ones."""
        if self.lengths:
            self.lengths[-1] += len(data)

    def _next_row(self, said: str) -> None:
        self._row = int(said) if said else self._row + 1
        self._digits, self._at = "", 0
        self.last = max(self.last, self._row)

    def _cell(self, has: dict[str, str]) -> None:
        self.filled += 1
        self.shared += has.get("t") == "s"
        said = has.get("r")
        if not said:
            self._at += 1
            self.wide = max(self.wide, self._at)
            return
        letters = said.rstrip(_DIGITS)
        if letters not in self.columns:
            self.columns.add(letters)
            self.wide = max(self.wide, _column(letters))
        self._at = _column(letters)
        digits = said[len(letters) :]
        if digits != self._digits:
            self._digits, self._row = digits, int(digits)
            self.last = max(self.last, self._row)


def _column(letters: str) -> int:
    """The place of a column from 1. Raises ValueError for what is no column's name."""
    if not (letters.isascii() and letters.isalpha()):
        raise ValueError(letters)
    at = 0
    for letter in letters.upper()[:_LONGEST_COLUMN]:
        at = 26 * at + ord(letter) - 64
    return at


def _area(ref: str) -> int:
    """How many cells a range like A1:C9 has."""
    first, _, last = ref.replace("$", "").partition(":")
    if not last:
        return 1
    ends = [(e.rstrip(_DIGITS), e[len(e.rstrip(_DIGITS)) :]) for e in (first, last)]
    (left, top), (right, bottom) = ends
    wide = abs(_column(right) - _column(left)) + 1 if left and right else 16_384
    return wide * (abs(int(bottom) - int(top)) + 1 if top and bottom else 1_048_576)


class Uses:
    """How long the shared texts are that a sheet shows, each counted where it stands."""

    def __init__(self, lengths: array[int]) -> None:
        self.total = 0
        self._lengths = lengths
        self._is_shared = self._in_value = False
        self._digits = ""

    def attach(self, parser: expat.XMLParserType) -> None:
        """Add up what this parser reads."""
        parser.StartElementHandler = self.start
        parser.CharacterDataHandler = self.text
        parser.EndElementHandler = self.end

    def start(self, tag: str, has: dict[str, str]) -> None:
        """An element begins."""
        name = tag.rpartition(":")[2]
        if name == "c":
            self._is_shared = has.get("t") == "s"
        self._in_value, self._digits = name == "v" and self._is_shared, ""

    def text(self, data: str) -> None:
        """Text in an element."""
        if self._in_value and len(self._digits) < 20:
            self._digits += data

    def end(self, tag: str) -> None:
        """An element ends."""
        if self._in_value and tag.rpartition(":")[2] == "v":
            self._in_value = False
            at = int(self._digits)
            self.total += self._lengths[at] if 0 <= at < len(self._lengths) else 0


def check_xlsx(path: Path, name: str) -> None:
    """Raise FileError for a workbook that is damaged, or holds more than a parts list does."""
    try:
        with zipfile.ZipFile(path) as archive:
            _check(archive, name)
    except (OSError, *DAMAGED):
        raise broken(name) from None


def _check(archive: zipfile.ZipFile, name: str) -> None:
    sheets: list[zipfile.ZipInfo] = []
    shared = spread = 0
    lengths = array("Q")
    for entry, must in _parts(archive):
        count = _counted(archive, entry, must)
        if count.root == "sst":
            lengths = max(lengths, count.lengths, key=lambda of: max(of, default=0))
        elif count.root == "worksheet":
            check_extent(count.wide, count.last, name)
            check_hollow(count.wide * count.last, count.filled, name)
            sheets.append(entry)
            shared += count.shared
            spread += count.spread
    if spread > MOST_HOLLOW:
        raise FileError(
            f"{name} has cells merged or linked over {spread:,} cells",
            "Take the merging off and save it again.",
        )
    if shared * max(lengths, default=0) > MOST_TEXT:
        uses = Uses(lengths)
        for entry in sheets:
            _parse(archive, entry, uses.attach)
            if uses.total > MOST_TEXT:
                raise too_much_text(name)


def _counted(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, must: bool) -> Count:
    count = Count()
    try:
        _parse(archive, entry, count.attach)
    except _Enough:
        pass
    except (expat.ExpatError, ValueError):
        # What other parts there are, pictures among them, is no matter here.
        if must or count.root:
            raise
    return count


def _parts(archive: zipfile.ZipFile) -> Iterator[tuple[zipfile.ZipInfo, bool]]:
    """Each part to be counted, and whether it must be one that can be read."""
    named: dict[str, bool] = {}
    for entry in archive.infolist():
        if entry.filename.lower().endswith(".rels"):
            for target, must in _targets(archive, entry):
                named[target] = named.get(target, False) or must
    for entry in archive.infolist():
        place = _place(entry.filename)
        usual = place.startswith(_USUAL) and place.endswith(".xml")
        if usual or place in named:
            yield entry, usual or named[place]


def _targets(archive: zipfile.ZipFile, entry: zipfile.ZipInfo) -> Iterator[tuple[str, bool]]:
    """The places that a part of relationships may mean: readers differ in what they start from."""
    found: list[tuple[str, bool]] = []
    folder = posixpath.dirname(posixpath.dirname(entry.filename))

    def start(tag: str, has: dict[str, str]) -> None:
        if tag.rpartition(":")[2] != "Relationship" or has.get("TargetMode") == "External":
            return
        kind = has.get("Type", "").rpartition("/")[2]
        target = has.get("Target", "").replace("\\", "/")
        must = kind in _MUST_BE_READ
        for base in ("", folder, "xl"):
            found.append((_place(posixpath.join(base, target)), must))

    def attach(parser: expat.XMLParserType) -> None:
        parser.StartElementHandler = start

    _parse(archive, entry, attach)
    yield from found


def _place(name: str) -> str:
    return posixpath.normpath(name.replace("\\", "/")).lstrip("/").lower()


def _parse(
    archive: zipfile.ZipFile, entry: zipfile.ZipInfo, attach: Callable[[expat.XMLParserType], None]
) -> None:
    parser = plain_parser()
    attach(parser)
    with archive.open(entry) as stream:
        for piece in pieces(stream, entry.file_size):
            parser.Parse(piece)
    parser.Parse(b"", True)


def plain_parser() -> expat.XMLParserType:
    """A parser that lets no file define entities, which could spell out a book in a line.

    Parsing raises ExpatError, LookupError or ValueError for what cannot be read.
    """
    parser = expat.ParserCreate()
    parser.buffer_text = True

    def refuse(*_: Any) -> None:
        raise ValueError("an entity is defined")

    parser.EntityDeclHandler = refuse
    return parser
