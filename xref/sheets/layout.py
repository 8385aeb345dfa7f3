"""The lists on a sheet: one, or several below or beside each other, or one that stands on its side.

A list that stands on its side, and cards, are turned so that each part has a row; its line is that
of the part's number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from xref.sheets.heading_lines import WITHIN, find_heading, shown
from xref.sheets.headings import NO_FIELD, languages_of, meanings_of
from xref.sheets.plain import plain_heading
from xref.sheets.sheet import Cell, Row, Sheet

MOST_LAID_OUT = 30_000
"""Rows up to which a sheet is looked through for several lists; longer ones are one. Judged."""

_SURE = 0.8
_LEAST_KNOWN = 0.6
_CARD_TITLES = 3


def lists_in(sheet: Sheet, named: frozenset[str]) -> list[Sheet]:
    """The lists of a sheet, each as a sheet of its own; ``named`` are headings somebody named."""
    if sheet.about() > MOST_LAID_OUT:
        return [sheet]
    rows = [(line, row) for line, row in sheet.rows]
    filled = [(line, row) for line, row in rows if any(_is_filled(c) for c in row)]
    if not filled:
        return [sheet]
    turned = _turned(filled)
    if turned:
        return [replace(sheet, rows=turned, errors={}, turned=True, look=None)]
    return [piece for part in _below(sheet, rows, filled, named) for piece in _beside(part, named)]


def _is_filled(cell: Cell) -> bool:
    return bool(cell.strip()) if isinstance(cell, str) else True


def _titles(cells: Sequence[Cell]) -> list[str]:
    return [shown(c) if isinstance(c, str) else "" for c in cells]


def _fields(titles: Sequence[str]) -> set[str]:
    """The fields that titles name by the very words of the trade."""
    return {
        m.field
        for t in titles
        if t and languages_of(t.rstrip(": "))
        for m in meanings_of(t.rstrip(": "))
        if m.sure >= _SURE and m.field not in NO_FIELD
    }


def _is_heading(row: Sequence[Cell]) -> bool:
    filled = [c for c in row if _is_filled(c)]
    if len(filled) < 2 or not all(isinstance(c, str) for c in filled):
        return False
    titles = _titles(filled)
    if any(c.isdigit() for c in titles[0]):
        return False
    known = sum(bool(languages_of(t)) for t in titles)
    return known >= _LEAST_KNOWN * len(titles) and len(_fields(titles)) >= 2


def _plain(row: Sequence[Cell]) -> list[str]:
    flat = [plain_heading(t) for t in _titles(row)]
    while flat and not flat[-1]:
        flat.pop()
    return flat


def _below(sheet: Sheet, rows: list[Row], filled: list[Row], named: frozenset[str]) -> list[Sheet]:
    """The lists below each other: another heading begins another list, with its title above."""
    first = find_heading(filled[: WITHIN + 2], named)
    if not first.line:
        return [sheet]
    held = _plain(first.lines[-1])
    starts: list[int] = []
    for at, (line, row) in enumerate(rows):
        if line <= first.line or not _is_heading(row):
            continue
        if _plain(row) != held:
            held = _plain(row)
            starts.append(_with_title(rows, at))
    if not starts:
        return [replace(sheet, rows=rows)]
    ends = [*starts, len(rows)]
    return [
        replace(sheet, rows=rows[start:end])
        for start, end in zip([0, *starts], ends, strict=True)
        if start < end
    ]


def _with_title(rows: Sequence[Row], at: int) -> int:
    """Where the lines of one cell that stand right above a heading begin."""
    start = at
    while start and sum(map(_is_filled, rows[start - 1][1])) == 1:
        start -= 1
    return start


def _beside(sheet: Sheet, named: frozenset[str]) -> list[Sheet]:
    """The lists beside each other, each with a column of numbers."""
    rows: list[Row] = list(sheet.rows)
    filled = [(line, row) for line, row in rows if any(_is_filled(c) for c in row)]
    heading = find_heading(filled[: WITHIN + 2], named) if filled else None
    if heading is None or not heading.line:
        return [sheet]
    titles = list(heading.titles)
    numbers = [at for at, t in enumerate(titles) if t and "number" in _fields([t])]
    if len(numbers) < 2:
        return [sheet]
    starts = _by_blanks(filled, titles, numbers) or _by_repeat(titles, numbers)
    if not starts:
        return [sheet]
    width = max(len(row) for _, row in rows)
    return [
        _slice(sheet, rows, start, end)
        for start, end in zip(starts, [*starts[1:], width], strict=True)
    ]


def _by_blanks(rows: Sequence[Row], titles: Sequence[str], numbers: Sequence[int]) -> list[int]:
    """Where lists begin that have an empty column between them."""
    starts = [0]
    for one, two in pairwise(numbers):
        blank = [
            at
            for at in range(one + 1, two)
            if not titles[at] and not any(at < len(row) and _is_filled(row[at]) for _, row in rows)
        ]
        if not blank:
            return []
        starts.append(blank[-1] + 1)
    return starts


def _by_repeat(titles: Sequence[str], numbers: Sequence[int]) -> list[int]:
    """Where lists begin that have the same titles again."""
    step = numbers[1] - numbers[0]
    flat = [plain_heading(t) for t in titles]
    begins = [at - numbers[0] for at in numbers]
    alike = all(flat[start : start + step] == flat[:step] for start in begins)
    return begins if step >= 2 and alike else []


def _slice(sheet: Sheet, rows: Sequence[Row], start: int, end: int) -> Sheet:
    errors = {
        (line, at - start): error for (line, at), error in sheet.errors.items() if start <= at < end
    }
    cut = [(line, row[start:end]) for line, row in rows]
    return replace(sheet, rows=cut, errors=errors, left=sheet.left + start)


def _turned(filled: Sequence[Row]) -> list[Row]:
    """The rows of a list that stands on its side, or of cards; none where it does not."""
    pairs = [_pairs(row) for _, row in filled]
    first = _fields([p[0][0] for p in pairs if p])
    across = max((len(_fields(_titles(row))) for _, row in filled[:WITHIN]), default=0)
    if "number" not in first or len(first) < _CARD_TITLES or len(first) <= across:
        return []
    known = sum(bool(p and languages_of(p[0][0])) for p in pairs)
    if known < _LEAST_KNOWN * len(filled):
        return []
    return _cards(filled, pairs)


def _pairs(row: Sequence[Cell]) -> list[tuple[str, list[Cell]]]:
    """The titles of a line on a card with the cells behind each; "Part No: X 1" in one cell too."""
    cells = list(row)
    while cells and not _is_filled(cells[-1]):
        cells.pop()
    if not cells:
        return []
    at = next(i for i, c in enumerate(cells) if _is_filled(c))
    head = cells[at]
    if len(cells) == at + 1 and isinstance(head, str) and ":" in head:
        title, _, value = head.partition(":")
        return [(title.strip(), [value.strip()])]
    found: list[tuple[str, list[Cell]]] = []
    for place, cell in enumerate(cells[at:]):
        text = shown(cell).rstrip(": ") if isinstance(cell, str) else ""
        titled = bool(text and languages_of(text))
        if place == 0 or (titled and place % 2 == 0 and found and len(found[-1][1]) == 1):
            found.append((text if isinstance(cell, str) else "", []))
        else:
            found[-1][1].append(cell)
    return found


def _cards(filled: Sequence[Row], pairs: Sequence[list[tuple[str, list[Cell]]]]) -> list[Row]:
    titles: dict[str, int] = {}
    parts: list[tuple[int, dict[str, Cell]]] = []
    group: dict[int, tuple[int, dict[str, Cell]]] = {}
    waiting: list[tuple[str, list[Cell]]] = []
    for (line, _), found in zip(filled, pairs, strict=True):
        for title, cells in found:
            titles.setdefault(title, len(titles))
            if "number" in _fields([title]):
                group = {at: (line, {title: c}) for at, c in enumerate(cells) if _is_filled(c)}
                parts += group.values()
                for above, values in waiting:
                    _put(group, above, values)
                waiting = []
            elif group:
                _put(group, title, cells)
            else:
                waiting.append((title, cells))
    heading: list[Cell] = list(titles)
    first = min(line for line, _ in filled)
    rows: list[Row] = [(min(first, *(line for line, _ in parts)) - 1, heading)]
    return [*rows, *((line, [told.get(t, "") for t in titles]) for line, told in parts)]


def _put(group: dict[int, tuple[int, dict[str, Cell]]], title: str, cells: Sequence[Cell]) -> None:
    for at, cell in enumerate(cells):
        if at in group and _is_filled(cell):
            group[at][1].setdefault(title, cell)
