"""What is known of a part: its numbers, sizes and where the knowledge comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from xref.domain.weights import ORIGIN_STANDARD

BOUNDARY = ("bore", "outside", "width")
"""Boundary dimensions (the ISO 15 term). For a seal they are shaft, housing and width; for a bush
bore, outside and length; for a drawn cup, NK or cage the bore is the inscribed diameter Fw."""

COUNTS = ("teeth", "splines", "holes", "rows", "links")
"""Sizes that are exact whole numbers and never wear."""

_PLAIN_NUMBERS = frozenset({*COUNTS, "hardness"})


def is_plain_number(name: str) -> bool:
    """Whether the size ``name`` is a bare number (a count, or Shore A hardness), not a length."""
    return name in _PLAIN_NUMBERS


@dataclass(frozen=True, slots=True)
class Spelling:
    """One way a part's number is written.

    ``weight`` (0..1) says how usual this way is against the plain one (1). ``role`` is "number"
    (the part's own), "alias" (the same bearing in other words), "cone" or "cup" (one half of a
    pair), "mark" (a number found on the metal), "spanner" (what the spanner for it says).
    ``takes_suffix``: trade suffixes may follow it.
    """

    text: str
    weight: float = 1.0
    role: str = "number"
    takes_suffix: bool = False


@dataclass(frozen=True, slots=True)
class StoredSize:
    """One nominal size: nanometres (1 mm = 1,000,000), or a plain count for the COUNTS.

    ``lower`` and ``upper`` are the published deviations from the nominal in nanometres; None means
    no tolerance is known, not that it is zero.
    """

    value: int
    lower: int | None = None
    upper: int | None = None


@dataclass(frozen=True, slots=True)
class PartMark:
    """What is on the metal. ``role``: number, casting, size, date, other.

    Only marks of the number role are matched as numbers.
    """

    text: str
    role: str


@dataclass(frozen=True, slots=True)
class Part:
    """One part as the store knows it.

    ``group`` names the physical thing: parts that share it are one candidate. ``type`` is the
    finer name within a kind ("deep groove ball"), "" when unknown. ``maker`` is "" where none is
    known; for a row of a standard it is the standard's name. ``tables_agreeing`` is 0 for a
    user's own part. ``weight`` is the prior weight (see domain.weights). A size that is not in
    ``sizes`` is unknown, never zero.
    """

    number: str
    maker: str
    kind: str
    group: str
    origin: str
    weight: float
    id: int = 0
    type: str = ""
    words: str = ""
    status: str = "current"
    sizes: Mapping[str, StoredSize] = field(default_factory=dict)
    spellings: tuple[Spelling, ...] = ()
    marks: tuple[PartMark, ...] = ()
    tables_agreeing: int = 0
    note: str = ""

    @property
    def is_standard(self) -> bool:
        """Whether this is a row of a standard's table rather than the user's own part."""
        return self.origin == ORIGIN_STANDARD

    @property
    def own_maker(self) -> str:
        """Who made it, and whose the numbers beside it are taken to be; "" where none is known,
        and for a standard's row, which anybody makes."""
        return "" if self.is_standard else self.maker
