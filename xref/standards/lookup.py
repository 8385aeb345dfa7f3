"""Find rows by what is written on the part, and by ISO 15 dimension series."""

from __future__ import annotations

from collections import defaultdict
from functools import cache

from xref.domain.number import folded
from xref.domain.part import Part
from xref.domain.weights import OTHER_SYSTEM
from xref.standards.families import FAMILIES, standard_parts
from xref.tables import read_table


@cache
def _by_spelling() -> dict[str, tuple[Part, ...]]:
    found: dict[str, dict[int, Part]] = defaultdict(dict)
    for at, part in enumerate(standard_parts()):
        for spelled in part.spellings:
            if spelled.weight > OTHER_SYSTEM:
                found[folded(spelled.text)][at] = part
        found[folded(part.number)][at] = part
    return {text: tuple(parts.values()) for text, parts in found.items()}


def find(designation: str) -> tuple[Part, ...]:
    """The rows written like ``designation``, () when none is; other numbering systems are left out.

    Separators and case do not matter, so "62/22" finds 6222 as well: compare the numbers.
    """
    return _by_spelling().get(folded(designation), ())


_LEAVE_THE_SERIES = frozenset({"1224", "1226"})
"""Self-aligning bearings wider (42 and 46) than the 40 of dimension series 02: they show nothing
about their neighbours' width."""


@cache
def _by_series() -> dict[tuple[str, int], tuple[Part, ...]]:
    series_of: dict[str, str] = {}
    for name in FAMILIES:
        for row in read_table(name):
            leaves = row.get("designation") in _LEAVE_THE_SERIES
            if row.get("dimension_series") and row["standard"] == "ISO 15" and not leaves:
                series_of[row["designation"]] = row["dimension_series"]
    found: dict[tuple[str, int], list[Part]] = defaultdict(list)
    for part in standard_parts():
        series = series_of.get(part.number)
        if part.kind == "bearing" and series and "bore" in part.sizes:
            found[series, part.sizes["bore"].value].append(part)
    return {key: tuple(parts) for key, parts in found.items()}


def by_dimension_series(series: str, bore_nm: int) -> tuple[Part, ...]:
    """Bearings of one ISO 15 dimension series ("02") and bore: they share D and B."""
    return _by_series().get((series, bore_nm), ())


def by_boundary(bore: int, outside: int, width: int) -> tuple[Part, ...]:
    """Every row with these very boundary dimensions (nanometres), in the order of the registry."""
    wanted = {"bore": bore, "outside": outside, "width": width}
    return tuple(
        part
        for part in standard_parts()
        if all(name in part.sizes and part.sizes[name].value == nm for name, nm in wanted.items())
    )
