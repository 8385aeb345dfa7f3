"""Sizes of a list without a unit: whether fractions among them make them inches, or a question."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import islice

from xref.sheets.column import Column
from xref.sheets.headings import is_size
from xref.sheets.sheet import Cell

INCH, MIXED = "inch", "mixed"
LOOKED_AT = 300
MOST_INCHES = 24.0
"""The largest bare figure that may be inches beside fractions. Judged."""

LEAST_FRACTIONS = 0.4
"""Share of the sizes that must be fractions for all to be inches. Judged."""

FRACTION = re.compile(r"(?:\d+\s*[- ]\s*)?\d+\s*/\s*\d+")
_PLAIN = re.compile(r"\d*[.,]?\d+")


def doubt(columns: Sequence[Column], rows: Iterable[Sequence[Cell]]) -> str:
    """INCH where fractions are so many that all are inches, MIXED where they stand among what
    look like millimetres, "" where there are none beside other sizes."""
    bare = [c.at for c in columns if is_size(c.field) and not c.unit]
    fractions, plain = 0, []
    for row in islice(rows, LOOKED_AT):
        for at in bare:
            text = str(row[at]).strip() if at < len(row) else ""
            if FRACTION.fullmatch(text):
                fractions += 1
            elif _PLAIN.fullmatch(text):
                plain.append(float(text.replace(",", ".")))
    if not fractions or not plain:
        return ""
    often = fractions >= LEAST_FRACTIONS * (fractions + len(plain))
    return INCH if often and max(plain) <= MOST_INCHES else MIXED
