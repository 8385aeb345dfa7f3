"""What a rotary lip seal measures in the hand against the shaft and housing it is named after."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref.domain.size import NM_PER_MM
from xref.tables import Row, read_table

_METAL = "press-fit allowance of seal OD over bore, metal case"
_RUBBER = "press-fit allowance of seal OD over bore, rubber-covered"
_METRIC = "bore D (metric)"


@dataclass(frozen=True, slots=True)
class Allowance:
    """How much larger a free seal's outside is than its housing bore: ``least`` to ``most`` nm."""

    least: int
    most: int
    source: str


def press_fit(housing_nm: int) -> Allowance:
    """The allowance for a housing bore of ``housing_nm`` nanometres, metal or rubber outside.

    The case is taken as unknown, so the range runs from the least of a metal case to the most of
    a rubber-covered one (DIN 3760 / ISO 6194-1). Inch seals take the metric rows, which hold
    theirs (+0.004 to +0.010 in) as well. Beyond 500 mm the last row is taken.
    """
    metal, rubber = _row(_METAL, housing_nm), _row(_RUBBER, housing_nm)
    limits = [limit for row in (metal, rubber) for limit in _limits(row["value"])]
    return Allowance(min(limits), max(limits), metal["basis"])


@cache
def _rows(topic: str) -> tuple[Row, ...]:
    return tuple(
        row
        for row in read_table("shaft_seal_rule")
        if row["topic"] == topic and row["applies_to"] == _METRIC
    )


def _row(topic: str, nm: int) -> Row:
    rows = _rows(topic)
    return next((row for row in rows if nm <= int(row["to"]) * NM_PER_MM), rows[-1])


def _limits(value: str) -> list[int]:
    """``+0.10/+0.20`` as nanometres."""
    return [round(float(limit) * NM_PER_MM) for limit in value.split("/")]
