"""Small things every family's row reader needs: exact sizes and a Part with its row's columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from functools import cache

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.size import NM_PER_INCH, NM_PER_MM
from xref.domain.weights import ORIGIN_STANDARD, part_weight
from xref.tables import Row


@cache
def mm(text: str) -> StoredSize:
    """A millimetre cell, exact."""
    return StoredSize(_nm(text, NM_PER_MM))


@cache
def inch(text: str) -> StoredSize:
    """An inch cell, decimal or with a fraction ("1 3/8"); four-place decimals of sixty-fourths
    are taken as the sixty-fourth they round."""
    if "/" in text:
        value = sum((Fraction(piece) for piece in text.split()), Fraction(0))
        return StoredSize(round(value * NM_PER_INCH))
    value = Fraction(text)
    whole = round(value * 64)
    if abs(value - Fraction(whole, 64)) < Fraction(6, 100_000):
        value = Fraction(whole, 64)
    return StoredSize(round(value * NM_PER_INCH))


@cache
def inch_or_mm(inches: str, millimetres: str) -> StoredSize:
    """The exact size of a row that prints both, one of them rounded.

    A round number of millimetres whose inch cell is only its rounding to four places is a metric
    size: 25 mm beside 0.9843 is not 63/64 in (25.003 mm). All others are inch sizes.
    """
    metric, imperial = Fraction(millimetres), Fraction(inches)
    rounding = abs(imperial * Fraction(254, 10) - metric) <= _HALF_TENTHOU
    return mm(millimetres) if rounding and _metric(imperial, metric) else inch(inches)


def _metric(inches: Fraction, millimetres: Fraction) -> bool:
    """Whether the millimetres of the two are the round number: halves always, quarters and tenths
    (24.75, 37.6) where the inches are no thousandths and no ABMA quarter of a hundredth (0.6575).
    """
    if (millimetres * 2).denominator == 1:
        return True
    round_mm = any((millimetres * parts).denominator == 1 for parts in (4, 10))
    return round_mm and all((inches * parts).denominator != 1 for parts in (400, 1000))


_HALF_TENTHOU = Fraction("0.00005") * Fraction("25.4")
"""What the fourth place of an inch figure may be rounded by, in millimetres."""


def by_size(row: Row) -> Mapping[str, int]:
    """How many tables agree on a size, for the sizes on which fewer do than on the row's others:
    "cone-width 1; cup-width 1" in the column ``agreeing_by_size``; {} where all are alike."""
    said = (piece.split() for piece in row.get("agreeing_by_size", "").split(";") if piece)
    return {name: int(count) for name, count in said}


def _thinner(row: Row) -> str:
    """The sizes that fewer tables bear out, in words; "" where there are none."""
    if not row.get("agreeing_by_size"):
        return ""
    names: dict[int, list[str]] = {}
    for name, count in by_size(row).items():
        names.setdefault(count, []).append(name.replace("-", " "))
    return "; ".join(
        f"{' and '.join(sizes)} from {'only one table' if count == 1 else f'{count} tables'}"
        for count, sizes in names.items()
    )


def within(size: StoredSize, plus_minus: str, unit: int) -> StoredSize:
    """``size`` with a tolerance of ±``plus_minus``; "" means none is published."""
    if not plus_minus:
        return size
    limit = _nm(plus_minus, unit)
    return StoredSize(size.value, -limit, limit)


def limits(size: StoredSize, written: str) -> StoredSize:
    """``size`` with the deviations of a cell such as "0/-0.06" or "0.11/0", in millimetres; ""
    means none is published."""
    if not written:
        return size
    low, high = sorted(_nm(piece, NM_PER_MM) for piece in written.split("/"))
    return StoredSize(size.value, low, high)


def between(size: StoredSize, least: StoredSize | None, most: StoredSize | None) -> StoredSize:
    """``size`` with the deviations that reach from ``least`` to ``most``; without them where the
    table leaves one out."""
    if least is None or most is None:
        return size
    return StoredSize(size.value, least.value - size.value, most.value - size.value)


def decimal_inch(text: str) -> StoredSize:
    """An inch figure that is a decimal by definition, never a rounded fraction."""
    return StoredSize(_nm(text, NM_PER_INCH))


def noted(part: Part, *said: str) -> Part:
    """``part`` with more said in its note."""
    words = (part.note, *said)
    return replace(part, note="; ".join(text for text in words if text))


def _nm(text: str, unit: int) -> int:
    return int((Decimal(text) * unit).to_integral_value(ROUND_HALF_EVEN))


def make(
    row: Row,
    number: str,
    what: tuple[str, str, str],
    sizes: Mapping[str, StoredSize],
    spellings: Sequence[Spelling],
    group: str = "",
) -> Part:
    """The part of one row. ``what`` is (kind, type, words); ``group`` defaults to kind + number."""
    kind, type_, words = what
    agreeing = int(row["tables_agreeing"] or 1)
    return Part(
        number=number,
        maker=row["standard"],
        kind=kind,
        group=group or f"{kind} {number}",
        origin=ORIGIN_STANDARD,
        weight=part_weight(ORIGIN_STANDARD, agreeing),
        type=type_,
        words=words,
        sizes=dict(sizes),
        spellings=tuple(spellings),
        tables_agreeing=agreeing,
        note="; ".join(said for said in (_thinner(row), row["table_note"]) if said),
    )
