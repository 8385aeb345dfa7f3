"""What the user found on the bench, understood and with its uncertainty."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from xref.domain.kinds import Named
from xref.domain.mark import Mark
from xref.domain.part import is_plain_number
from xref.domain.size import NM_PER_MM

MOST_CANDIDATES = 1000
"""Candidates that can be asked for at once."""


@dataclass(frozen=True, slots=True)
class SizeReading:
    """One measured size. ``value`` is in nanometres, or a plain number for counts and hardness.

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
        """Whether this is a plain number with no unit and no uncertainty of an instrument."""
        return is_plain_number(self.name)

    @property
    def mm(self) -> float:
        """The reading in millimetres (the count itself for a count)."""
        return float(self.value) if self.counted else self.value / NM_PER_MM

    def to_json(self) -> dict[str, Any]:
        """As it stands under ``query`` in JSON: millimetres and the uncertainty taken."""
        if self.counted:
            return {"count": self.value, "text": self.text}
        return {
            "mm": self.mm,
            "text": self.text,
            "unit": self.unit,
            "unit_assumed": self.assumed,
            "permissible_error_mm": self.error / NM_PER_MM,
            "hand_allowance_mm": self.hand / NM_PER_MM,
            "source": self.source,
        }


@dataclass(frozen=True, slots=True)
class Query:
    """Everything given to one identification; what was not given is empty and says nothing."""

    marks: tuple[Mark, ...] = ()
    casts: tuple[Mark, ...] = ()
    sizes: Mapping[str, SizeReading] = field(default_factory=dict)
    called: Mapping[str, str] = field(default_factory=dict)
    """Sizes that such a thing has by another name than they were given by, and that name."""
    kind: str = ""
    named: Named | None = None
    """How the kind was named, by itself or in the words; None where the sizes alone say it."""
    kind_in_words: bool = False
    words: str = ""
    tool: str = "caliper"
    condition: str = "used"
    cannot: tuple[str, ...] = ()
    seen: Mapping[str, str] = field(default_factory=dict)
    """What checks were answered by, as words of the tables; a place of a mark and a size stand
    where they belong as well."""
    cast_year: int | None = None
    built_year: int | None = None
    machine: str = ""

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
        if self.seen:
            told["seen"] = dict(self.seen)
        if self.named and self.named.sort:
            told["sort"] = self.named.sort
        if self.cannot:
            told["cannot"] = list(self.cannot)
        if self.cast_year is not None:
            told["cast_year"] = self.cast_year
        if self.built_year is not None:
            told["built_year"] = self.built_year
        if self.machine:
            told["machine"] = self.machine
        return told
