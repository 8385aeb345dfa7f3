"""Metric and inch sizes that are taken for one another: 1 in is 25.4 mm, not 25.

Such a pair is a warning and never an equivalent: a part of the one size does not fit the other,
even where a caliper cannot tell them apart.
"""

from __future__ import annotations

from dataclasses import dataclass

from xref.domain.size import NM_PER_INCH, NM_PER_MM, inch_text, mm_text, short_mm

SHARE = 50
"""Within a fiftieth (2 %) of the size. Judged."""

WIDEST = 2 * NM_PER_MM
"""Beyond 2 mm nobody takes one for the other, however large the part. Judged."""

CALIPER = 50_000
"""±0.05 mm: what a 0.05 mm vernier caliper may err by (DIN 862). Closer sizes read the same."""


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A size that may be mistaken for the given one.

    ``nm`` is that other size in nanometres, ``name`` its name ("1 in" or "25 mm"), ``text`` the
    warning as a sentence, and ``tellable`` whether a caliper tells the two apart.
    """

    nm: int
    name: str
    text: str
    tellable: bool


def near_misses(nm: int) -> tuple[NearMiss, ...]:
    """The sizes of the other system that may be taken for the nominal size ``nm``, nearest first.

    A nominal that is an exact sixty-fourth of an inch is compared with whole millimetres; any
    other with quarters and sixteenths of an inch, thirty-seconds beyond 1 in, and a sixty-fourth
    only where a caliper cannot tell it. Equal sizes (127 mm is 5 in) and sizes of zero or less
    have none; () where nothing is near.
    """
    if nm <= 0:
        return ()
    inch = inch_text(nm) is not None
    others = _millimetres(nm) if inch else _inches(nm)
    near = sorted(
        {other for other in others if other > 0 and _close(nm, other)},
        key=lambda other: (abs(other - nm), other),
    )
    return tuple(_miss(nm, other, inch) for other in near)


def _close(nm: int, other: int) -> bool:
    gap = abs(other - nm)
    return 0 < gap <= WIDEST and gap * SHARE <= nm


def _millimetres(nm: int) -> list[int]:
    if nm % NM_PER_MM == 0:
        return []
    return [_nearest(nm, NM_PER_MM)]


def _inches(nm: int) -> list[int]:
    grids = [NM_PER_INCH // 4, NM_PER_INCH // 16]
    if nm > NM_PER_INCH:
        grids.append(NM_PER_INCH // 32)
    found = [_nearest(nm, grid) for grid in grids]
    finest = _nearest(nm, NM_PER_INCH // 64)
    return [*found, finest] if abs(finest - nm) <= CALIPER else found


def _nearest(nm: int, grid: int) -> int:
    return (nm + grid // 2) // grid * grid


def _miss(nm: int, other: int, given_inch: bool) -> NearMiss:
    inch, metric = (nm, other) if given_inch else (other, nm)
    name_inch, name_metric = inch_text(inch) or mm_text(inch), mm_text(metric)
    tellable = abs(nm - other) > CALIPER
    if tellable:
        text = f"{short_mm(inch)} is {name_inch}, not {name_metric}"
    else:
        text = (
            f"{name_inch} is {short_mm(inch)}, not {name_metric}: a caliper cannot tell them "
            "apart, so ask in which country's sizes the machine was made"
        )
    return NearMiss(other, name_metric if given_inch else name_inch, text, tellable)
