"""What the user found on the bench, understood and with its uncertainty."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from xref.domain.mark import Mark
from xref.domain.part import COUNTS

NM = 1_000_000


@dataclass(frozen=True, slots=True)
class SizeReading:
    """One measured size. ``value`` is in nanometres, or a plain count for the COUNTS.

    ``error`` and ``hand`` are the permissible error of the instrument and the hand allowance in
    nanometres, ``source`` says where the error comes from. ``assumed`` is true where the unit was
    not written and the default was taken.
    """

    name: str
    value: int
    text: str
    unit: str
    assumed: bool
    error: int
    hand: int
    source: str

    @property
    def counted(self) -> bool:
        """Whether this is an exact count, which has no uncertainty."""
        return self.name in COUNTS

    @property
    def mm(self) -> float:
        """The reading in millimetres (the count itself for a count)."""
        return float(self.value) if self.counted else self.value / NM

    def to_json(self) -> dict[str, Any]:
        """As the contract's ``query`` shows it: millimetres and the uncertainty taken."""
        if self.counted:
            return {"count": self.value, "text": self.text}
        return {
            "mm": self.mm,
            "text": self.text,
            "unit": self.unit,
            "unit_assumed": self.assumed,
            "permissible_error_mm": self.error / NM,
            "hand_allowance_mm": self.hand / NM,
            "source": self.source,
        }


@dataclass(frozen=True, slots=True)
class Query:
    """Everything given to one identification; what was not given is empty and says nothing."""

    marks: tuple[Mark, ...] = ()
    casts: tuple[Mark, ...] = ()
    sizes: Mapping[str, SizeReading] = field(default_factory=dict)
    kind: str = ""
    words: str = ""
    tool: str = "caliper"
    condition: str = "used"
    cannot: tuple[str, ...] = ()
    cast_year: int | None = None
    built_year: int | None = None

    def to_json(self) -> dict[str, Any]:
        """The query as understood; only what was given stands in it, and what it was taken with."""
        told: dict[str, Any] = {
            "marks": [mark.shown() for mark in self.marks],
            "casts": [mark.shown() for mark in self.casts],
            "sizes": {name: size.to_json() for name, size in self.sizes.items()},
            "kind": self.kind or None,
            "words": self.words or None,
            "tool": self.tool,
            "condition": self.condition,
        }
        if self.cannot:
            told["cannot"] = list(self.cannot)
        if self.cast_year is not None:
            told["cast_year"] = self.cast_year
        if self.built_year is not None:
            told["built_year"] = self.built_year
        return told
