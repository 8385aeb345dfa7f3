"""What a column is by what stands in it, where its heading is missing or means nothing.

Every answer is less sure than a heading's: it is shown with the mapping, and --map outranks it.
What would state more than a part's own facts, or could be one of several sizes, is only proposed.
Columns of sizes side by side are in ``size_columns``.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import islice

from xref.designation import bearing
from xref.domain.serial import read_serials
from xref.errors import InputError
from xref.sheets.cells import kind_word, read_sizes
from xref.sheets.column import Column
from xref.sheets.sheet import Cell
from xref.sheets.size_columns import LEAST_SHARE, MOST_LOOKED_UP, in_order, lengths
from xref.standards.lookup import find

_NUMBER_LIKE = re.compile(r"(?=.*[0-9])[0-9A-Za-z][0-9A-Za-z \-/.]{1,29}")
_BETWEEN_SIZES = re.compile(r"[xX×*]")
_MONEY = re.compile(r"[£€$]\s*[0-9][0-9.,]*|[0-9][0-9.,]*\s*(?:[£€$]|EUR|GBP|USD)")
_DESIGNATION = re.compile(r"(?=.*[0-9]{3})[0-9A-Z][0-9A-Za-z .,/-]{2,24}")
_RANGE = re.compile(
    r".*[0-9]\s*(?:-|–|\bto\b|\bthru\b|\bbis\b)\s*\D*[0-9]{2,}|.*[0-9]{2,}\s*(?:up|on|-up|ff\.?)|"
    r"(?:from|ab|up to|bis)\b.*[0-9]{2,}",
    re.IGNORECASE,
)

Fits = Callable[[str], bool]


def texts_of(column: Column, sample: Sequence[Sequence[Cell]]) -> list[str]:
    """The filled cells of a column that are text."""
    cells = (row[column.at] for row in sample if column.at < len(row))
    return [cell.strip() for cell in cells if isinstance(cell, str) and cell.strip()]


def by_content(columns: list[Column], sample: Sequence[Sequence[Cell]]) -> list[Column]:
    """The same columns, those understood that no heading explains."""
    if not any("number" in (c.field, c.perhaps) for c in columns):
        columns = _number(columns, sample)
    columns = in_order(columns, sample)
    tests = _tests(any(c.field == "model" for c in columns))
    return [_one(c, sample, tests) if c.by == "kept" and not c.perhaps else c for c in columns]


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
        replace(c, perhaps="number", sure=round(0.7 * best, 2)) if c is chosen else c
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
    if len(lengths(column, sample)) >= 3:
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
