"""A box of parts as a sheet (csv, xlsx, ods): one part a row, every cell text."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from pathlib import Path
from typing import Any

from xref.domain.number import visible
from xref.domain.size_names import NAMES
from xref.errors import FileError, InputError
from xref.sheets.guard import TEXT, look
from xref.sheets.text import SEPARATORS, encoding_of

PLAIN = ("kind", "words", "machine", "tool", "condition")
"""Columns taken as they stand, where the question has a field of that name."""

DIMENSIONS = ("bore", "outside", "width")
TOLD = ("mark", "cast", "seen", *DIMENSIONS)
SIZE = "size:"
CALLED = {
    "number": "mark",
    "part number": "mark",
    "stamp": "mark",
    "marking": "mark",
    "description": "words",
}
"""Headings that stand for a column: common practice, no published source."""
MOST_CELL = 100_000


@dataclass(frozen=True, slots=True)
class BoxRow:
    """One row: its cells by column, how many filled cells stand under no column, and what stands
    in columns that are not asked by and are carried along."""

    number: int
    cells: dict[str, str]
    extra: int
    carried: dict[str, str]

    def question(self) -> dict[str, Any]:
        """The row as the words of a question. Raises InputError for a row with too many cells."""
        if self.extra:
            raise InputError(
                f"row {self.number} has {self.extra} {'cell' if self.extra == 1 else 'cells'} "
                "more than the header names",
                "Mend the row, or name the column.",
            )
        sizes = {n: self.cells[n] for n in DIMENSIONS if self.cells.get(n)}
        sizes |= {
            column[len(SIZE) :]: text
            for column, text in self.cells.items()
            if column.startswith(SIZE) and text
        }
        marks = [m.strip() for m in self.cells.get("mark", "").split(" | ") if m.strip()]
        casts = [m.strip() for m in self.cells.get("cast", "").split(" | ") if m.strip()]
        told = {name: self.cells[name] for name in PLAIN if self.cells.get(name)}
        return {"marks": marks, "casts": casts, "sizes": sizes, "seen": self._seen(), **told}

    def _seen(self) -> dict[str, str]:
        """The answers to checks in the row. Raises InputError for what is no CHECK=ANSWER."""
        found: dict[str, str] = {}
        for text in filter(None, map(str.strip, self.cells.get("seen", "").split(" | "))):
            key, sign, answer = (piece.strip() for piece in text.partition("="))
            if not (key and sign and answer) or key in found:
                raise InputError(
                    f'row {self.number}: "{visible(text)}" is no answer to a check',
                    "Write rolls=balls | rows=one, each check once.",
                )
            found[key] = answer
        return found


def read_box(path: Path, fields: Collection[str]) -> Iterator[BoxRow]:
    """The rows of a box, blank ones left out; ``fields`` are those the question has.

    Columns: mark, cast, seen, bore, outside, width, size:NAME or the name of a size, and those of
    ``PLAIN`` in ``fields``; any other is carried. Text is parted by a comma, a semicolon, a tab or
    a bar; of a workbook the first sheet that has such a column is read. Raises FileError for a file
    that cannot be read, has none of these columns, or has one of them twice.
    """
    plain = [name for name in PLAIN if name in fields]
    if path.is_file() and path.stat().st_size and look(path) != TEXT:
        yield from _of_workbook(path, plain)
    else:
        yield from _of_text(path, plain)


def _of_workbook(path: Path, plain: Sequence[str]) -> Iterator[BoxRow]:
    from xref.sheets.cells import text_of
    from xref.sheets.workbook import read_workbook

    header: list[str] = []
    for sheet in read_workbook(path, look(path)):
        for number, row in sheet.rows:
            cells = [text_of(cell).strip() for cell in row]
            if header and any(cells):
                yield _row(number, header, cells, plain)
            elif any(_known(_column(cell), plain) for cell in cells):
                header = [_column(cell) for cell in cells]
                _check_header(header, plain, path)
        if header:
            return
    _check_header(header, plain, path)


def _of_text(path: Path, plain: Sequence[str]) -> Iterator[BoxRow]:
    try:
        with path.open(encoding=_encoding(path), newline="") as stream:
            csv.field_size_limit(MOST_CELL)
            first = stream.readline(MOST_CELL)
            sign = _separator(first, plain)
            reader = csv.reader(chain([first], stream), delimiter=sign, strict=True)
            header = [_column(cell) for cell in next(reader, [])]
            _check_header(header, plain, path)
            for number, row in enumerate(reader, 2):
                if any(cell.strip() for cell in row):
                    yield _row(number, header, [c.strip() for c in row], plain)
    except FileNotFoundError:
        raise FileError(f"there is no file {path}", "Check its name.") from None
    except (OSError, ValueError, csv.Error) as error:
        said = (error.strerror if isinstance(error, OSError) else "") or str(error)[:80]
        raise FileError(f"{path} could not be read as CSV text ({said})", _SAVE) from None


_SAVE = "Save it as CSV and try again."


def _encoding(path: Path) -> str:
    """The file's encoding; a pipe, which can be read once, has to be UTF-8.

    Raises FileError for a folder and for what is no text.
    """
    if path.is_dir():
        raise FileError(f"{path} is a folder", "Name a file in it.")
    if not path.is_file():
        return "utf-8-sig"
    return encoding_of(path)


def _separator(first: str, plain: Sequence[str]) -> str:
    """The sign that parts the first line into the most columns that have a meaning here."""

    def known(sign: str) -> int:
        cells = next(csv.reader([first], delimiter=sign), [])
        return sum(_known(_column(cell), plain) for cell in cells)

    return max(SEPARATORS, key=known)


def _row(number: int, header: Sequence[str], row: Sequence[str], plain: Sequence[str]) -> BoxRow:
    cells: dict[str, str] = {}
    carried: dict[str, str] = {}
    extra = sum(map(bool, row[len(header) :]))
    for name, cell in zip(header, row, strict=False):
        if not name:
            extra += bool(cell)
        elif _known(name, plain):
            cells[name] = cell
        elif cell:
            # Two columns may be headed alike: what stands in both is kept.
            carried[name] = f"{carried[name]} | {cell}" if name in carried else cell
    return BoxRow(number, cells, extra, carried)


def _column(text: str) -> str:
    """A column's name: size:bore is bore, and size names are spelt as the command line has them."""
    name = " ".join(text.split()).lower()
    name = CALLED.get(name, name)
    if name.replace(" ", "-") in NAMES and name not in DIMENSIONS:
        name = SIZE + name
    if not name.startswith(SIZE):
        return name
    size = "-".join(name[len(SIZE) :].replace("_", " ").replace("-", " ").split())
    return size if size in DIMENSIONS else SIZE + size


def _known(name: str, plain: Sequence[str]) -> bool:
    return name in TOLD or name in plain or (name.startswith(SIZE) and name != SIZE)


def _check_header(header: Sequence[str], plain: Sequence[str], path: Path) -> None:
    named = [name for name in header if name]
    good = [name for name in named if _known(name, plain)]
    if not good:
        raise FileError(
            f"{path} has no column that could be searched by",
            "Name the columns mark, bore, outside, width, kind, words or size:NAME.",
        )
    unasked = [name for name in named if name in PLAIN and name not in plain]
    if unasked:
        raise FileError(
            f'{path} has a column "{unasked[0]}" that means nothing here', "Leave it out."
        )
    if SIZE in named:
        raise FileError(
            f'{path} has a column "{SIZE}" that names no size', "Name it, as in size:section."
        )
    twice = [name for name in good if good.count(name) > 1]
    if twice:
        raise FileError(
            f'{path} has the column "{visible(twice[0])}" twice',
            "Leave one of them; several marks in a cell are parted by a bar between spaces.",
        )
