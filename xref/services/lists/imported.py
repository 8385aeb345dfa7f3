"""What an import did, or would do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from xref.sheets.column_seen import ColumnSeen
from xref.sheets.finding import Finding

CONTRADICTION = "contradiction"
"""The kind of a finding that says otherwise than the store has it."""


@dataclass(frozen=True, slots=True)
class Fresh:
    """What an import made, or would make, that was not in the store: names, in order."""

    makers: tuple[str, ...] = ()
    models: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    mentioned: tuple[str, ...] = ()

    def to_json(self) -> dict[str, list[str]]:
        """The names in the documents of an import; parts that only a link names are *mentioned*."""
        return {
            "makers": list(self.makers),
            "models": list(self.models),
            "sources": list(self.sources),
            "mentioned_only": list(self.mentioned),
        }


@dataclass(frozen=True, slots=True)
class Imported:
    """Rows read = added + changed + unchanged + rejected.

    ``written`` is False for a preview, and where rows were rejected and the good ones were not
    to be kept. ``rejects`` are the files that the rejected rows were put in. ``unit`` is what sizes
    without one were taken in, ``unit_assumed`` where nothing in the file says so and there are
    such. ``remembered`` is what was answered before of columns with these ``headings``.
    """

    read: int
    added: int
    changed: int
    unchanged: int
    rejected: int
    mapping: Mapping[str, str]
    columns: tuple[ColumnSeen, ...]
    findings: tuple[Finding, ...]
    counts: Mapping[str, int]
    written: bool
    preview: bool
    rejects: tuple[str, ...] = ()
    fresh: Fresh = Fresh()
    unit: str = "mm"
    unit_assumed: bool = False
    remembered: Mapping[str, str] = field(default_factory=dict)
    headings: tuple[str, ...] = ()

    @property
    def contradictions(self) -> tuple[Finding, ...]:
        """What the file says otherwise than the store has it."""
        return tuple(found for found in self.findings if found.kind == CONTRADICTION)

    def to_json(self) -> dict[str, Any]:
        """The document that ``xref import --json`` prints."""
        return {
            "read": self.read,
            "added": self.added,
            "changed": self.changed,
            "unchanged": self.unchanged,
            "rejected": self.rejected,
            "mapping": dict(self.mapping),
            "findings": [finding.to_json() for finding in self.findings],
            "finding_counts": dict(self.counts),
            "columns": [column.to_json() for column in self.columns],
            "unit": {"bare": self.unit, "assumed": self.unit_assumed},
            "new": self.fresh.to_json(),
            "contradictions": [found.to_json() for found in self.contradictions],
            "remembered": dict(self.remembered),
            "written": self.written,
            "preview": self.preview,
            "rejects": list(self.rejects),
        }
