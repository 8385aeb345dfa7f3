"""Find the heading of a list: one line, or two of which the upper names groups of columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from xref.sheets.headings import Meaning, meaning_of
from xref.sheets.plain import plain_heading
from xref.sheets.sheet import Cell

Line = tuple[int, list[Cell]]

WITHIN = 40
"""Filled rows from the top within which a heading must stand. Judged."""

_SURE = 0.86
_NUMBER = 0.8
"""How sure a title must be to count as a field's; the word "number" alone is less sure. Judged."""


@dataclass(frozen=True, slots=True)
class Heading:
    """``below`` is the place, among the filled rows, of the first row that is not above the list;
    ``line`` is its last line, 0 where there is none. ``lines`` are its lines as they stand."""

    below: int
    line: int
    titles: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...] = ()

    def is_again(self, row: Sequence[Cell]) -> bool:
        """Whether a row of the list says one of the heading's lines again."""
        flat = [plain_heading(shown(cell)) for cell in row]
        for line in self.lines:
            said = [plain_heading(title) for title in line]
            there = flat[: len(said)]
            if said == there + [""] * (len(said) - len(there)):
                return True
        return False


def find_heading(top: Sequence[Line], names: frozenset[str]) -> Heading:
    """The heading among the filled rows at the top; ``names`` are headings somebody named."""
    widest = max(len(row) for _, row in top)
    best, found = 0.0, Heading(0, 0, ("",) * widest)
    for at, (line, row) in enumerate(top[:WITHIN]):
        score = _score([shown(c) for c in row], names) if _may_be_heading(row) else 0.0
        if score > best:
            titles = tuple(shown(c) for c in row)
            best, found = score, Heading(at + 1, line, titles, (titles,))
    for at, (upper, lower) in enumerate(pairwise(top[: WITHIN + 1])):
        both = _both(upper, lower)
        score = _score(both, names) if both else 0.0
        if score > best:
            lines = tuple(tuple(shown(c) for c in row) for _, row in (upper, lower))
            best, found = score, Heading(at + 2, lower[0], tuple(both), lines)
    return found


def shown(cell: Cell) -> str:
    """A cell of a heading as text; a line break in it is kept."""
    if not isinstance(cell, str):
        return str(cell)
    return "\n".join(flat for line in cell.splitlines() if (flat := " ".join(line.split())))


def _may_be_heading(row: Sequence[Cell]) -> bool:
    texts = [c for c in row if isinstance(c, str) and c.strip()]
    return bool(texts) and sum(not isinstance(c, str) for c in row) <= len(texts)


def _score(titles: Sequence[str], names: frozenset[str]) -> float:
    """How many fields the titles name, and how many sizes' units; 0 where they are no heading."""
    texts = [t for t in titles if t]
    meanings = [m for t in texts if (m := meaning_of(t))]
    fields = {m.field for m in meanings if m.sure >= (_NUMBER if m.field == "number" else _SURE)}
    drawn = {m.field for m in meanings if m.letter}
    if drawn >= {"bore", "outside"}:
        # One letter alone may be a shelf's.
        fields |= drawn
    score = len(fields) + 2.0 * sum(plain_heading(t) in names for t in texts)
    numbered = any(m.field == "number" and m.sure >= _NUMBER for m in meanings)
    if score >= 2 or (numbered and score + 1 >= len(texts) / 4):
        return score + _units(meanings) / 2
    return 0.0


def _units(meanings: Sequence[Meaning]) -> int:
    return len({m.field for m in meanings if m.measured and m.unit})


def _both(upper: Line, lower: Line) -> list[str]:
    """The titles of two lines as one; none where the lower cannot be the rest of a heading."""
    (first, above), (second, below) = upper, lower
    texts = [c for c in (*above, *below) if c != ""]
    if second != first + 1 or not all(isinstance(c, str) for c in texts):
        return []
    if any(character.isdigit() for cell in below for character in str(cell)):
        return []
    wide = max(len(above), len(below))
    titles, group = [], ""
    for at in range(wide):
        over = shown(above[at]) if at < len(above) else ""
        under = shown(below[at]) if at < len(below) else ""
        # The name of a group stands over its first column; the others of the group are blank.
        group = over if over and under and over != under else ("" if over or not under else group)
        titles.append(_title(over, under, group))
    return titles


def _title(over: str, under: str, group: str) -> str:
    if over and under and over != under:
        return f"{over}\n{under}"
    if under and group and not over:
        joined = f"{group}\n{under}"
        alone, together = meaning_of(under), meaning_of(joined)
        above = meaning_of(group)
        if together and together != alone and (above is None or together.field != above.field):
            return joined
    return under or over
