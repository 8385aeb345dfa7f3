"""Lists kept as text: what encoding, what sign parts the cells, and the rows, line by line."""

from __future__ import annotations

import codecs
import csv
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError
from xref.sheets.extent import MOST_COLUMNS
from xref.sheets.fixed_width import columns_of, cut
from xref.sheets.guard import wide_big, wide_little
from xref.sheets.headings import known_words
from xref.sheets.sheet import Cell

MOST_LINE = 1_000_000
"""Characters a line, or a cell in quotes, may have: a row of a parts list has some hundreds."""

SEPARATORS = ",;\t|"
_SAMPLE_LINES = 60
_HEADING_WITHIN = 10
_HEAD = 1 << 14
_PIECE = 1 << 20
_MOST_UNBROKEN = 4 * MOST_LINE
"""Bytes without a line end that hold more than MOST_LINE characters in every encoding."""

_NOT_1252 = frozenset(b"\x81\x8d\x8f\x90\x9d")


def encoding_of(path: Path) -> str:
    """UTF-8 or UTF-16 where the bytes are that, else cp1252, else latin-1.

    Only the last cannot fail; text in another 8-bit encoding is read with wrong letters. A file is
    looked at no further than a line that is too long to be read.
    """
    with path.open("rb") as stream:
        head = stream.read(4096)
        if head.startswith(codecs.BOM_UTF8):
            return "utf-8-sig"
        if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            return "utf-16"
        if wide_little(head):
            return "utf-16-le"
        if wide_big(head):
            return "utf-16-be"
        stream.seek(0)
        decoder = codecs.getincrementaldecoder("utf-8")()
        is_utf8, odd, unbroken = True, False, 0
        while unbroken <= _MOST_UNBROKEN and (piece := stream.read(_PIECE)):
            ended = max(piece.rfind(b"\n"), piece.rfind(b"\r"))
            unbroken = len(piece) - 1 - ended if ended >= 0 else unbroken + len(piece)
            odd = odd or not _NOT_1252.isdisjoint(piece)
            if is_utf8:
                try:
                    decoder.decode(piece)
                except UnicodeDecodeError:
                    is_utf8 = False
            if odd and not is_utf8:
                return "latin-1"
    return "utf-8" if is_utf8 else "cp1252"


_EIGHT_BIT = ("cp1252", "cp1250", "cp850", "mac_roman")
"""The 8-bit encodings of Europe's spreadsheets, the likeliest first."""


def by_its_headings(path: Path, taken: str) -> str:
    """Of the 8-bit encodings, that in which most headings of the first lines are words of the
    trade; ``taken`` where none is better."""
    if taken not in ("cp1252", "latin-1"):
        return taken
    with path.open("rb") as stream:
        head = stream.read(_HEAD).splitlines()[:_HEADING_WITHIN]
    if not any(byte > 127 for line in head for byte in line):
        return taken
    best, found = 0, taken
    for name in dict.fromkeys((taken, *_EIGHT_BIT)):
        known = sum(_known_in(line, name) for line in head)
        if known > best:
            best, found = known, name
    return found


def _known_in(line: bytes, encoding: str) -> int:
    """How many fields the titles of a line name, read in an encoding."""
    try:
        text = line.decode(encoding)
    except UnicodeDecodeError:
        return 0
    return max(known_words(text.split(sign)) for sign in SEPARATORS)


def separator_of(lines: Sequence[str]) -> str:
    """The sign that parts a heading into words of the trade, else most lines into the same number
    of cells, two or more; of two that do, one that parts the first line as well."""
    best, found = (0, 0.0, False, 0), ","
    for sign in SEPARATORS:
        try:
            rows = [row for row in csv.reader(lines, delimiter=sign) if row]
        except csv.Error:
            continue
        widths = [len(row) for row in rows]
        width, count = max(
            ((w, n) for w, n in Counter(widths).items() if w > 1),
            key=lambda x: (x[1], x[0]),
            default=(1, 0),
        )
        known = max((known_words(row) for row in rows[:_HEADING_WITHIN]), default=0)
        share = count / max(1, len(rows))
        score = (known if known > 1 else 0, share, max(widths[:1], default=0) > 1, width)
        if score > best:
            best, found = score, sign
    return found


class TextRows:
    """The rows of a text file, each with the number of its first line; may be gone through again.

    Raises FileError while going where a line is too long or a quote is never closed.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.name = visible(path.name, 80)
        self.encoding = by_its_headings(path, encoding_of(path))
        sample = []
        for line in self._lines():
            if line.strip():
                sample.append(line)
            if len(sample) == _SAMPLE_LINES:
                break
        self.separator = separator_of(sample)
        self.starts = columns_of(sample)

    def about(self) -> int:
        """About how many rows there are: the line ends, some of which may stand inside a cell."""
        with self.path.open("rb") as stream:
            return sum(piece.count(b"\n") for piece in iter(lambda: stream.read(_PIECE), b""))

    def _lines(self) -> Iterator[str]:
        with self.path.open(encoding=self.encoding, newline="", errors="replace") as stream:
            at = 0
            while line := stream.readline(MOST_LINE + 1):
                at += 1
                if len(line) > MOST_LINE:
                    raise FileError(
                        f"line {at} of {self.name} has more than {MOST_LINE:,} characters",
                        "It is no list of parts, or a line end is missing.",
                    )
                yield line

    def __iter__(self) -> Iterator[tuple[int, list[Cell]]]:
        if self.starts:
            for at, text in enumerate(self._lines(), 1):
                yield at, list(cut(text, self.starts))
            return
        was = csv.field_size_limit(MOST_LINE)
        try:
            reader = csv.reader(self._lines(), delimiter=self.separator)
            line = 1
            for row in reader:
                if len(row) > MOST_COLUMNS:
                    _too_wide(line, len(row), self.name)
                yield line, row  # type: ignore[misc] # a row of text is a row of cells
                line = reader.line_num + 1
        except csv.Error as error:
            raise FileError(
                f"{self.name} could not be read from line {line} on ({error})",
                "Perhaps a quote is opened there and never closed.",
            ) from None
        except OSError as error:
            raise FileError(f"{self.name} could not be read ({error.strerror})") from None
        finally:
            csv.field_size_limit(was)


def _too_wide(line: int, count: int, name: str) -> None:
    raise FileError(
        f"line {line} of {name} has {count} columns; a parts list has at most {MOST_COLUMNS}",
        "Keep the columns that matter and save it again.",
    )
