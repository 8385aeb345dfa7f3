"""Inch shaft seals by rule: no table of their sizes was found, so the rule is what is offered."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from xref.domain.size import NM_PER_INCH, inch_text
from xref.tables import Row, read_table

STANDARD = "RMA OS-4"

_STEP = NM_PER_INCH // 16
"""Shafts and bores go by sixteenths of an inch: common practice, no published source."""


def _row(what: str, nm: int) -> Row | None:
    """The row for a size in nanometres; None beyond the table. The last row has no end."""
    inches = Fraction(nm, NM_PER_INCH)
    for row in read_table("oil_seal_tolerance"):
        if row["standard"] == STANDARD and row["what"] == what:
            over, up_to = Fraction(row["over"]), row["up_to"]
            if over < inches and (not up_to or inches <= Fraction(up_to)):
                return row
    return None


def _plus_minus(what: str, nm: int) -> str:
    """ "±0.003 in", or "+0.002/-0.004 in" where the two differ; "" beyond the table."""
    row = _row(what, nm)
    if row is None:
        return ""
    plus, minus = row["plus"], row["minus"]
    return f"±{plus} in" if plus == minus else f"+{plus}/-{minus} in"


def _over_bore(case: str, nm: int) -> str:
    row = _row(f"{case} outside over bore", nm)
    if row is None:
        return ""
    middle = Fraction(row["nominal_interference"])
    least, most = middle - Fraction(row["minus"]), middle + Fraction(row["plus"])
    return f"{float(least):.3f} to {float(most):.3f} in over it ({case})"


def _neighbours(nm: int) -> str:
    """The sixteenths of an inch next below and above."""
    below, above = (nm - 1) // _STEP * _STEP, (nm // _STEP + 1) * _STEP
    return " and ".join(text for near in (below, above) if (text := inch_text(near)))


def inch_seal_rule(sizes: Mapping[str, int]) -> str:
    """What the rule says of an inch seal of these sizes (bore, outside, width in nanometres).

    Tolerances are those of RMA OS-4 for shaft, housing bore, rim and width; "" where a size is
    missing.
    """
    if not {"bore", "outside", "width"} <= set(sizes):
        return ""
    shaft, bore, width = sizes["bore"], sizes["outside"], sizes["width"]
    rim = [text for case in ("metal case", "rubber covered") if (text := _over_bore(case, bore))]
    pieces = [
        f"shaft {_plus_minus('shaft diameter', shaft)}",
        f"housing bore {_plus_minus('housing bore', bore)}",
        f"width {_plus_minus('width', width)}",
        f"a new rim is {' or '.join(rim)}" if rim else "",
        f"next sizes: shaft {_neighbours(shaft)}, bore {_neighbours(bore)}",
    ]
    said = "; ".join(text for text in pieces if text)
    return f"by rule, not from a table of sizes ({STANDARD}): {said}"
