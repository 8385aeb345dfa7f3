"""What an import did, or would do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from xref.sheets.finding import Finding


@dataclass(frozen=True, slots=True)
class MappedColumn:
    """One column as it was understood. ``by``: heading, content, told, or kept; ``perhaps`` is the
    field that a kept one looks like, "" for none."""

    sheet: str
    label: str
    field: str
    sure: float
    by: str
    unit: str
    perhaps: str = ""


@dataclass(frozen=True, slots=True)
class Imported:
    """Rows read = added + changed + unchanged + rejected.

    ``written`` is False for a preview, and where rows were rejected and the good ones were not
    to be kept. ``rejects`` are the files that the rejected rows were put in.
    """

    read: int
    added: int
    changed: int
    unchanged: int
    rejected: int
    mapping: Mapping[str, str]
    columns: tuple[MappedColumn, ...]
    findings: tuple[Finding, ...]
    counts: Mapping[str, int]
    written: bool
    preview: bool
    rejects: tuple[str, ...] = ()

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
            "columns": [
                {
                    "sheet": c.sheet or None,
                    "column": c.label,
                    "field": c.field,
                    "sure": c.sure,
                    "by": c.by,
                    "unit": c.unit or None,
                    "perhaps": c.perhaps or None,
                }
                for c in self.columns
            ],
            "written": self.written,
            "preview": self.preview,
            "rejects": list(self.rejects),
        }
