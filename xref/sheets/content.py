"""What a column is by what stands in it, where its heading is missing or means nothing.

Every answer is less sure than a heading's: it is shown with the mapping, and --map outranks it.
What would state more than a part's own facts, or could be one of several sizes, is only proposed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import islice

from xref.designation import bearing
from xref.domain.serial import read_serials
from xref.domain.size import parse_length
from xref.errors import InputError
from xref.sheets.cells import kind_word, read_sizes, with_point
from xref.sheets.column import Column
from xref.sheets.sheet import Cell
from xref.standards.lookup import find

MOST_LOOKED_UP = 60
"""Cells of a column that are tried as designations, serials and sizes. Judged."""

LEAST_SHARE = 0.9
"""Share of a column's cells that must read as one thing. Judged."""

_NUMBER_LIKE = re.compile(r"(?=.*[0-9])[0-9A-Za-z][0-9A-Za-z \-/.]{1,29}")
_BETWEEN_SIZES = re.compile(r"[xX×*]")
_MONEY = re.compile(r"[£€$]\s*[0-9][0-9.,]*|[0-9][0-9.,]*\s*(?:[£€$]|EUR|GBP|USD)")
_DESIGNATION = re.compile(r"(?=.*[0-9]{3})[0-9A-Z][0-9A-Za-z .,/-]{2,24}")
_RANGE = re.compile(
    r".*[0-9]\s*(?:-|–|\bto\b|\bthru\b|\bbis\b)\s*\D*[0-9]{2,}|.*[0-9]{2,}\s*(?:up|on|-up|ff\.?)|"
    r"(?:from|ab|up to|bis)\b.*[0-9]{2,}", re.IGNORECASE,
)  # fmt: skip
_WITH_UNIT = re.compile(r"[0-9].*(?:mm|cm|in|inch|zoll|\"|″)\.?", re.IGNORECASE)
_IN_ORDER = ("bore", "outside", "width")

Fits = Callable[[str], bool]


def texts_of(column: Column, sample: Sequence[Sequence[Cell]]) -> list[str]:
    """The filled cells of a column that are text."""
    cells = (row[column.at] for row in sample if column.at < len(row))
    return [cell.strip() for cell in cells if isinstance(cell, str) and cell.strip()]


def by_content(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """The same columns, those understood that no heading explains."""
    if not any(c.field == "number" for c in columns):
        columns = _number(columns, sample)
    columns = _sizes_in_order(columns, sample)
    tests = _tests(any(c.field == "model" for c in columns))
    return [_one(c, sample, tests) if c.by == "kept" else c for c in columns]


def _number(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """The column that reads most like part numbers: short, with digits, hardly one twice."""
    best, chosen = 0.0, None
    for column in columns:
        if column.by != "kept":
            continue
        texts = texts_of(column, sample)
        if len(texts) < 2:
            continue
        like = sum(bool(_NUMBER_LIKE.fullmatch(t)) for t in texts) / len(texts)
        unlike = len(set(texts)) / len(texts)
        filled = len(texts) / max(1, len(sample))
        score = like * unlike * filled
        if like >= 0.8 and unlike >= 0.8 and score > best + 0.05:
            best, chosen = score, column
    return [
        replace(c, field="number", sure=round(0.7 * best, 2), by="content") if c is chosen else c
        for c in columns
    ]


def _tests(with_model: bool) -> list[tuple[str, float, Fits]]:
    """Field, how sure at most, and what its cells look like; the surest first."""
    tests: list[tuple[str, float, Fits]] = [
        ("sizes", 0.7, _is_bore_outside_width),
        ("price", 0.7, lambda t: bool(_MONEY.fullmatch(t))),
        ("kind", 0.7, lambda t: bool(kind_word(t))),
    ]
    if with_model:
        # A range says nothing without a machine; kept under its own heading it says more.
        tests.append(("serials", 0.6, _is_range))
    return tests


def _one(
    column: Column, sample: Sequence[Sequence[Cell]], tests: Sequence[tuple[str, float, Fits]]
) -> Column:
    texts = texts_of(column, sample)
    if len(texts) < 3:
        return column
    for field, most, fits in tests:
        share = _share(texts, fits)
        if share >= LEAST_SHARE:
            return replace(column, field=field, sure=round(most * share, 2), by="content")
    if _share(texts, _is_designation) >= LEAST_SHARE:
        return replace(column, perhaps="interchange", sure=0.5)
    if len(_lengths(column, sample)) >= 3:
        return replace(column, perhaps="bore", sure=0.3)
    return column


def _share(texts: Sequence[str], fits: Fits) -> float:
    some = list(islice(texts, MOST_LOOKED_UP))
    return sum(map(fits, some)) / len(some)


def _is_bore_outside_width(text: str) -> bool:
    """Whether three sizes stand here, the first the smaller: "20 x 47 x 14 mm"."""
    if len(_BETWEEN_SIZES.findall(text)) != 2:
        return False
    try:
        bore, outside, _ = read_sizes(text, "mm", ",")
    except (InputError, ValueError):
        return False
    return bore < outside


def _is_designation(text: str) -> bool:
    """Whether a standard's table has the number, with suffixes or without."""
    if not _DESIGNATION.fullmatch(text):
        return False
    if find(text):
        return True
    return any(not r.unknown and find(r.designation) for r in bearing.read(text))


def _is_range(text: str) -> bool:
    if not _RANGE.fullmatch(text):
        return False
    try:
        read_serials(text)
    except InputError:
        return False
    return True


def _sizes_in_order(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """Two or three columns side by side of sizes with their units, the first the smaller: bore,
    outside, and perhaps width. One alone could be any size."""
    if any(c.field in _IN_ORDER or c.field == "sizes" for c in columns):
        return columns
    read = [_lengths(c, sample) if c.by == "kept" else {} for c in columns]
    for at in range(len(columns) - 1):
        one, two = read[at], read[at + 1]
        both = one.keys() & two.keys()
        if len(both) >= 3 and all(one[line] < two[line] for line in both):
            last = 3 if at + 2 < len(columns) and len(read[at + 2]) >= 3 else 2
            named = dict(zip(range(at, at + last), _IN_ORDER, strict=False))
            return [
                replace(c, field=named[i], sure=0.5, by="content") if i in named else c
                for i, c in enumerate(columns)
            ]
    return columns


def _lengths(column: Column, sample: Sequence[Sequence[Cell]]) -> dict[int, int]:
    """The sizes in nanometres by row, where all of the column are sizes with a unit; else none."""
    found = {}
    for line, row in enumerate(islice(sample, MOST_LOOKED_UP)):
        cell = row[column.at] if column.at < len(row) else ""
        if cell == "":
            continue
        if not isinstance(cell, str) or not _WITH_UNIT.fullmatch(cell.strip()):
            return {}
        try:
            found[line] = parse_length(with_point(cell.strip(), ","), "mm").nm
        except InputError:
            return {}
    return found
