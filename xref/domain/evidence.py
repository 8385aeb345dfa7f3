"""Evidence as a list that adds up: start + bits of each item = total, and odds from the totals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from xref.domain.part import Part


class Topic(StrEnum):
    """What an item of evidence is about; the word is what a reader is shown."""

    MARK = "mark"
    """Both items of a mark made one."""
    MARK_READ = "mark: read"
    MARK_DIFFERS = "mark: differs"
    MARK_BESIDE_SIZES = "mark: beside sizes"
    CAST = "cast"
    SIZE = "size"
    SIZES_SLIP = "size: one slip"
    SIZES_UNKNOWN = "size: none on record"
    TOGETHER = "together"
    KIND = "kind"
    SORT = "sort"
    WORDS = "words"
    HAND = "hand"
    SEEN = "seen"
    SERIAL = "serial"


MARKS = frozenset({Topic.MARK, Topic.MARK_READ, Topic.MARK_DIFFERS, Topic.MARK_BESIDE_SIZES})
SIZES = frozenset({Topic.SIZE, Topic.SIZES_SLIP, Topic.SIZES_UNKNOWN})
"""The topics of all that marks, and all that sizes of their own, say."""


@dataclass(frozen=True, slots=True)
class Figures:
    """What was read and what is on record, in nanometres, or plain numbers for counts."""

    read: int
    held: int


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that was seen, what this part would show, and what that is worth in bits.

    Positive bits speak for the part, negative against it; 0 bits is "says nothing". ``name`` is the
    size or the check it is about, "" for a topic that has but one; ``figures`` are there where a
    size was compared. ``agrees``: whether what was seen is what the part would show; None where
    that is no question of yes or no.
    """

    topic: Topic
    seen: str
    expected: str
    bits: float
    reason: str
    name: str = ""
    figures: Figures | None = None
    agrees: bool | None = None

    @property
    def about(self) -> str:
        """The topic in words, with the size or the check: "size: bore"."""
        return f"{self.topic}: {self.name}" if self.name else str(self.topic)


@dataclass(frozen=True, slots=True)
class Scored:
    """One physical thing with its evidence. ``part`` is its best-agreeing record.

    ``also`` are the other numbers of the same thing; ``not_compared`` names what was given or
    known on one side only, and so counts for nothing, ``not_measured`` the sizes on record that
    were not read.
    """

    part: Part
    also: tuple[str, ...]
    start_bits: float
    evidence: tuple[Evidence, ...]
    not_compared: tuple[str, ...] = ()
    not_measured: tuple[str, ...] = ()

    @property
    def total_bits(self) -> float:
        """start + Σ bits, in bits against "none of these" at 0."""
        return self.start_bits + math.fsum(item.bits for item in self.evidence)

    def bits_about(self, *topics: Topic) -> float:
        """The bits of the items on one of ``topics``."""
        return math.fsum(e.bits for e in self.evidence if e.topic in topics)

    def size_bits(self) -> dict[str, float]:
        """The bits of each size that was weighed, by the name it was read as."""
        return {e.name: e.bits for e in self.evidence if e.topic is Topic.SIZE}


@dataclass(frozen=True, slots=True)
class Odds:
    """Probabilities over the scored things, the rest of the store, and none of these; sum 1."""

    probabilities: tuple[float, ...]
    rest: float
    none: float


def odds(totals: Sequence[float], rest_bits: float) -> Odds:
    """The posterior: 2^total each, 2^rest_bits for all parts not scored, 1 for "none of these".

    ``rest_bits`` is −inf where every part was scored. Computed from the largest exponent down, so
    that neither a thousand bits nor none at all overflows.
    """
    top = max([0.0, rest_bits, *totals])
    none = 2.0 ** (0.0 - top)
    rest = 2.0 ** (rest_bits - top) if rest_bits > -math.inf else 0.0
    each = [2.0 ** (total - top) for total in totals]
    whole = math.fsum([none, rest, *each])
    return Odds(tuple(e / whole for e in each), rest / whole, none / whole)
