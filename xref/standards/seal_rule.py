"""How a loose rotary shaft seal differs from the shaft, bore and width it is named by."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from xref.domain.size import NM_PER_INCH, NM_PER_MM, UNIT_NM, inch_text
from xref.standards.tolerance import Limits
from xref.tables import Row, read_table

_PRESS_FIT = "press-fit allowance of seal OD over bore"
_METRIC_BORE = "bore D (metric)"
_INCH_BORE = "bore D (inch)"
_WIDTH = "width tolerance"
_METRIC_WIDTH = "metric width"
_UNITS = {"mm": NM_PER_MM, "in": NM_PER_INCH}


@dataclass(frozen=True, slots=True)
class PressFit:
    """How much larger than its housing bore a new seal's rim is, in nanometres.

    ``least`` is that of a metal-cased seal and ``most`` that of a rubber-covered one, since a
    loose seal may be either. ``source`` is the table's own word on where it comes from.
    """

    least: int
    most: int
    source: str

    @property
    def middle(self) -> int:
        """Half way between the two."""
        return (self.least + self.most) // 2


def press_fit(bore_nm: int) -> PressFit:
    """The press-fit allowance at a nominal housing bore in nanometres.

    Metric bores follow DIN 3760 / ISO 6194-1 figures; a bore that is a whole number of thou or
    sixty-fourths of an inch, and not of millimetres, follows the inch ones, which are smaller.
    Bores beyond the tables (500 mm, 60 in) take their last row.
    """
    rows = _rows(_PRESS_FIT, _INCH_BORE if _is_inch(bore_nm) else _METRIC_BORE)
    last = max(_nm(row["to"], row["unit"]) for row in rows)
    to = min(end for row in rows if (end := _nm(row["to"], row["unit"])) >= min(bore_nm, last))
    here = [row for row in rows if _nm(row["to"], row["unit"]) == to]
    allowed = [_nm(figure, row["unit"]) for row in here for figure in row["value"].split("/")]
    return PressFit(min(allowed), max(allowed), here[0]["basis"])


def _is_inch(nm: int) -> bool:
    written_in_inches = nm % UNIT_NM["thou"] == 0 or inch_text(nm) is not None
    return written_in_inches and nm % NM_PER_MM != 0


@lru_cache(maxsize=4096)
def width_limits(width_nm: int) -> Limits:
    """The permissible deviation of a metric seal's width: ±0.2 mm up to 10 mm, ±0.3 mm above."""
    rows = _rows(_WIDTH, _METRIC_WIDTH)
    row = next((r for r in rows if r["to"] and width_nm <= _nm(r["to"], r["unit"])), rows[-1])
    either_way = _nm(row["value"].lstrip("±"), row["unit"])
    return Limits(-either_way, either_way, row["basis"])


@cache
def _rows(topic: str, applies_to: str) -> tuple[Row, ...]:
    return tuple(
        row
        for row in read_table("shaft_seal_rule")
        if row["topic"].startswith(topic) and row["applies_to"].startswith(applies_to)
    )


def _nm(figure: str, unit: str) -> int:
    return round(float(figure) * _UNITS[unit])
