"""Which columns are sizes: by the letters of the standards' drawings, or by standing in order.

A letter is sure only where the sizes bear it out; what they do not is proposed and kept.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from itertools import islice, takewhile

from xref.domain.size import parse_length
from xref.errors import InputError
from xref.sheets.cells import typed_text, with_point
from xref.sheets.column import Column, untitled
from xref.sheets.sheet import Cell
from xref.standards.lookup import by_boundary

MOST_LOOKED_UP = 60
"""Cells of a column that are tried as designations, serials and sizes. Judged."""

LEAST_SHARE = 0.9
"""Share of a column's cells that must read as one thing. Judged."""

LEAST_KNOWN = 0.5
"""Share of rows whose three bare sizes must stand in the standards' tables. Judged."""

_IN_ORDER = ("bore", "outside", "width")

_LETTERS = {
    "bore": ("d", "di", "d1"),
    "outside": ("D", "da", "D1", "d2"),
    "width": ("T", "B", "b", "H", "L", "l", "C"),
    "thickness": ("s", "h"),
}
"""Size by its letters, the usual first. ISO 15 and ISO 104 draw d, D, B, T (a thrust bearing's
height is H too), ISO 355 T, B and C; d1, d2 with b, l, h or s are common on bushes and washers,
di and da in German lists: common practice, no published source."""

DRAWN = {letter: field for field, letters in _LETTERS.items() for letter in letters}
"""The size that a heading of one such letter names; upper and lower case differ."""

_TAPER = {"B": "cone-width", "C": "cup-width"}
"""What these letters are beside T, by ISO 355."""

_WITH_UNIT = re.compile(r"[0-9].*(?:mm|cm|in|inch|zoll|\"|″)\.?", re.IGNORECASE)

Lengths = dict[int, int]


def by_letter(
    columns: Sequence[Column], letters: Mapping[int, str], sample: Sequence[Sequence[Cell]]
) -> list[Column]:
    """The same columns, those understood that have a drawing's letter for a heading.

    ``letters`` are by the place of the column. They are sure where the bore is the smaller in the
    rows; otherwise they are proposed.
    """
    drawn = {c: letters[c.at] for c in columns if c.by == "kept" and c.at in letters}
    read = {x: rows for c, x in drawn.items() if (rows := lengths(c, sample, bare=True))}
    sizes = {c.field: lengths(c, sample, bare=True) for c in columns if c.field in _IN_ORDER}
    fields = _fields(read, sizes.keys())
    sizes |= {field: read[letter] for letter, field in fields.items()}
    sure = _smaller(sizes.get("bore", {}), sizes.get("outside", {})) and not _unsettled(read)
    after = []
    for column in columns:
        field = fields.get(drawn.get(column, ""))
        if field and sure:
            column = replace(column, field=field, sure=0.9, by="heading")
        elif field:
            column = replace(column, perhaps=field, sure=0.4)
        after.append(column)
    return after


def _fields(read: Mapping[str, Lengths], have: Collection[str]) -> dict[str, str]:
    """The size that each letter is, beside the others and the sizes that words named; without a
    bore or an outside none is."""
    if read.keys() >= {"d1", "d2"} and _smaller(read["d2"], read["d1"]):
        return {"d1": "inside", "d2": "section"}
    fields = {
        next(x for x in letters if x in read): field
        for field, letters in _LETTERS.items()
        if field not in have and any(x in read for x in letters)
    }
    if not {"bore", "outside"} & {*fields.values(), *have}:
        return {}
    return fields | {x: f for x, f in _TAPER.items() if x in read and "T" in read}


def _unsettled(read: Mapping[str, Lengths]) -> bool:
    """Whether some rows have B without T: tapers and others in one list, whose B differ."""
    return bool(read.get("T")) and not read.get("B", {}).keys() <= read["T"].keys()


def _smaller(one: Lengths, two: Lengths) -> bool:
    """Whether ``one`` is the smaller in nearly every row that has both, and some row has."""
    both = one.keys() & two.keys()
    return bool(both) and sum(one[x] < two[x] for x in both) >= LEAST_SHARE * len(both)


def in_order(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """Two or three columns side by side of sizes with their units, or three of bare sizes without
    a heading, the first the smaller: bore, outside, and perhaps width.

    Bare sizes are taken where the standards' tables have them, and are millimetres then; else they
    are proposed. One column alone could be any size.
    """
    if any(c.field in _IN_ORDER or c.field == "sizes" or c.perhaps for c in columns):
        return columns
    kept = [c.by == "kept" for c in columns]
    read = [lengths(c, sample) if free else {} for c, free in zip(columns, kept, strict=True)]
    at, run = _run(read, 2)
    if run:
        return _named(columns, at, len(run), sure=0.5, by="content")
    read = [
        lengths(c, sample, bare=True) if free and c.label == untitled(c.at) else {}
        for c, free in zip(columns, kept, strict=True)
    ]
    at, run = _run(read, 3)
    if run and _in_tables(run):
        return _named(columns, at, 3, sure=0.7, by="content", unit="mm")
    return _named(columns, at, len(run), sure=0.3, by="kept")


def _run(read: Sequence[Lengths], least: int) -> tuple[int, list[Lengths]]:
    """Where the first columns in order begin, and their sizes; at least ``least``, or none."""
    for at in range(len(read) - least + 1):
        run = list(takewhile(lambda rows: len(rows) >= 3, read[at : at + 3]))
        both = run[0].keys() & run[1].keys() if len(run) >= least else set()
        if len(both) >= 3 and all(run[0][line] < run[1][line] for line in both):
            return at, run
    return 0, []


def _named(
    columns: Sequence[Column], first: int, count: int, *, sure: float, by: str, unit: str = ""
) -> list[Column]:
    """The columns, ``count`` of them from ``first`` taken for sizes, or only proposed if kept."""
    after = list(columns)
    for at, field in zip(range(first, first + count), _IN_ORDER, strict=False):
        if by == "kept":
            after[at] = replace(columns[at], perhaps=field, sure=sure)
        else:
            after[at] = replace(columns[at], field=field, sure=sure, by=by, unit=unit)
    return after


def _in_tables(run: Sequence[Lengths]) -> bool:
    """Whether most rows of three sizes are some standard part's."""
    whole = [tuple(r[line] for r in run) for line in sorted(set.intersection(*map(set, run)))]
    some = whole[:MOST_LOOKED_UP]
    return len(some) >= 3 and sum(bool(by_boundary(*x)) for x in some) >= LEAST_KNOWN * len(some)


def lengths(column: Column, sample: Sequence[Sequence[Cell]], *, bare: bool = False) -> Lengths:
    """The sizes in nanometres by row, where nearly all of the column are sizes; else none.

    They have a unit each, or may have none where ``bare``: millimetres stand for it, which is as
    good as any for comparing. Nothing is read of a column without filled cells.
    """
    found, filled = {}, 0
    for line, row in enumerate(islice(sample, MOST_LOOKED_UP)):
        cell = row[column.at] if column.at < len(row) else ""
        if cell == "" or (isinstance(cell, str) and not cell.strip()):
            continue
        filled += 1
        size = _length(cell, bare)
        if size is not None:
            found[line] = size
    return found if len(found) >= LEAST_SHARE * filled else {}


def _length(cell: Cell, bare: bool) -> int | None:
    """A cell in nanometres; None where it is no size, or has no unit and must."""
    if isinstance(cell, str):
        text = cell.strip()
        if not bare and not _WITH_UNIT.fullmatch(text):
            return None
    elif bare and isinstance(cell, int | float) and not isinstance(cell, bool):
        text = typed_text(cell)
    else:
        return None
    try:
        return parse_length(with_point(text, ","), "mm").nm
    except InputError:
        return None
