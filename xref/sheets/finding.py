"""What was noticed while a sheet was read: where, what kind of thing, and in words."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

MOST_OF_A_KIND = 200
"""Findings of one kind that are listed; the rest are counted, so that memory stays bounded."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One remark. ``row`` is the line as the spreadsheet counts it, 0 where no one line is meant;
    ``column`` is the heading, "" where no one column is meant."""

    file: str
    sheet: str
    row: int
    column: str
    kind: str
    message: str

    def to_json(self) -> dict[str, object]:
        """The finding as it stands in the JSON."""
        return {
            "file": self.file,
            "sheet": self.sheet,
            "row": self.row or None,
            "column": self.column or None,
            "kind": self.kind,
            "message": self.message,
        }


class Findings:
    """Collects findings of one file; those of a kind beyond the first 200 are only counted."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.counts: Counter[str] = Counter()
        self._listed: list[Finding] = []

    def add(self, sheet: str, row: int, column: str, kind: str, message: str) -> None:
        """Note one."""
        self.counts[kind] += 1
        if self.counts[kind] <= MOST_OF_A_KIND:
            self._listed.append(Finding(self.file, sheet, row, column, kind, message))

    def listed(self) -> tuple[Finding, ...]:
        """The findings in the order of the sheet, and for each kind cut short how many more."""
        more = [
            Finding(self.file, "", 0, "", kind, f"and {count - MOST_OF_A_KIND} more of this kind")
            for kind, count in self.counts.items()
            if count > MOST_OF_A_KIND
        ]
        return (*self._listed, *more)
