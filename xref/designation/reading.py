"""One way a trade number can be read: the record every reader of the designation layer returns."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

STANDARD = "standard"
COMMON = "common usage"
PRACTICE = "common practice, no published source"


@dataclass(frozen=True, slots=True)
class Feature:
    """One piece of a designation that says something of its own, such as a suffix.

    ``basis`` is "standard" where a published standard gives the code this meaning, otherwise
    "common usage", or "common practice, no published source".
    """

    code: str
    meaning: str
    basis: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a number by its grammar alone; no table has been asked.

    ``designation`` is the basic designation as the tables write it ("6204", "NU206", "HK2020").
    ``sizes`` are nanometres and hold only what the digits themselves say; a size that is absent is
    not said, never zero. ``dimension_series`` is the ISO 15 series for a look-up ("02"), "" when
    there is none. ``unknown`` holds the pieces that were not understood, never dropped.
    ``measure`` names what to measure ("the width") and ``decided_by`` what to look at, to tell this
    reading from the others of the same text ("" when alone).
    ``needs_table``: worth showing only when a table has the designation. ``of`` is the designation
    whose row has the sizes that ``sizes`` does not say, "" where that is the reading's own.
    """

    designation: str
    kind: str
    type: str
    numbering: str
    standard: str
    sizes: Mapping[str, int] = field(default_factory=dict)
    dimension_series: str = ""
    features: tuple[Feature, ...] = ()
    canonical: str = ""
    also_written: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    note: str = ""
    measure: str = ""
    decided_by: str = ""
    needs_table: bool = False
    of: str = ""


Reader = Callable[[str], tuple[Reading, ...]]
"""A reader takes the text as typed and returns its readings, most usual first; () for none."""
