"""What stands in a column, in figures, for judging what its heading may mean."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, pairwise

from xref.sheets.cells import kind_word, typed_text
from xref.sheets.sheet import Cell

LOOKED_AT = 200
"""Filled cells of a column that are looked at. Judged."""

CROSSES = frozenset(
    {"x", "✓", "✔", "√", "•", "●", "*", "yes", "y", "ja", "j", "oui", "si", "sí", "sì", "tak"}
)
"""How a cross is written in a list of machines."""

_AMOUNT = re.compile(r"[£€$]?\s*\d+(?:[.,]\d+)?\s*(?:\S{0,8})", re.IGNORECASE)
_DIGIT = re.compile(r"\d")
_WORD = re.compile(r"[^\W\d_]{3,}")
_DATE = re.compile(r"\d{1,4}[-./]\d{1,2}[-./]\d{1,4}|(?:19|20)\d\d|\w{3,9}[ -]\d{2,4}")


@dataclass(frozen=True)
class Profile:
    """The filled cells of a column as text, and how many rows were looked at."""

    cells: tuple[Cell, ...]
    rows: int

    @cached_property
    def texts(self) -> tuple[str, ...]:
        """The cells as text."""
        return tuple(c.strip() if isinstance(c, str) else typed_text(c) for c in self.cells)

    @property
    def filled(self) -> float:
        """Share of the rows in which the column has something."""
        return len(self.cells) / self.rows if self.rows else 0.0

    def _share(self, pattern: re.Pattern[str], whole: bool = False) -> float:
        like = pattern.fullmatch if whole else pattern.search
        return sum(bool(like(t)) for t in self.texts) / max(1, len(self.texts))

    @cached_property
    def digits(self) -> float:
        """Share of the cells with a digit."""
        return self._share(_DIGIT)

    @cached_property
    def words(self) -> float:
        """Share of the cells with a word of three letters."""
        return self._share(_WORD)

    @cached_property
    def amounts(self) -> float:
        """Share of the cells that are one figure, perhaps with a word behind it."""
        return self._share(_AMOUNT, whole=True)

    @cached_property
    def dates(self) -> float:
        """Share of the cells that may be dates."""
        typed = sum(isinstance(c, datetime.date) for c in self.cells) / max(1, len(self.cells))
        return max(typed, self._share(_DATE))

    @cached_property
    def kinds(self) -> float:
        """Share of the cells that name a kind of part."""
        return sum(bool(kind_word(t)) for t in self.texts) / max(1, len(self.texts))

    @cached_property
    def different(self) -> float:
        """How many different texts there are, as a share of the cells."""
        return len(set(self.texts)) / max(1, len(self.texts))

    @cached_property
    def counts_lines(self) -> bool:
        """Whether the cells count the lines, or the records: whole numbers, one after the other."""
        figures = [int(t) for t in self.texts if t.isdecimal() and len(t) < 10]
        if len(figures) < max(2, len(self.texts)) or len(figures) < 0.7 * self.rows:
            return False
        steps = [b - a for a, b in pairwise(figures)]
        near = sum(0 < step <= 2 for step in steps)
        return all(step > 0 for step in steps) and near >= 0.8 * len(steps)


def profile_of(at: int, sample: Sequence[Sequence[Cell]]) -> Profile:
    """The column at ``at``, from 0."""
    rows = 0
    cells: list[Cell] = []
    for row in islice(sample, 4 * LOOKED_AT):
        rows += 1
        cell = row[at] if at < len(row) else ""
        if cell != "" and not (isinstance(cell, str) and not cell.strip()):
            cells.append(cell)
        if len(cells) == LOOKED_AT:
            break
    return Profile(tuple(cells), rows)
