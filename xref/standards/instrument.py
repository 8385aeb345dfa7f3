"""How far a measuring tool may err, and how far the hand that holds it."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from xref.domain.number import visible
from xref.domain.size import NM_PER_MM
from xref.errors import InputError
from xref.tables import Row, read_table

TOOLS = ("caliper", "micrometer", "rule", "tape")

_TABLE_NAME = {
    "caliper": "vernier or dial caliper, 0.1 / 0.05 mm scale",
    "micrometer": "outside micrometer",
    "rule": "steel rule, read by eye",
    "tape": "tape, read by eye over a part",
}
_TAPE_CLASS = "steel tape, EC class II"
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_ADD_INSIDE = re.compile(r"add ([0-9.]+) for inside")

HAND_OUTSIDE = 50_000
HAND_INSIDE = 100_000
"""0.05 mm outside and 0.1 mm in bores: common practice, no published source."""


@dataclass(frozen=True, slots=True)
class Permissible:
    """``nm``: the reading lies within ± this of the true size, in nanometres.

    ``source`` is the standard (or says that there is none); ``note`` what was assumed, "" for
    nothing.
    """

    nm: int
    source: str
    note: str


def hand_allowance(inside: bool) -> int:
    """What the hand adds to the tool's own error, in nanometres; more in a bore than outside."""
    return HAND_INSIDE if inside else HAND_OUTSIDE


def permissible_error(tool: str, nm: int, inside: bool) -> Permissible:
    """How far ``tool`` may err at a size of ``nm`` nanometres, ``inside`` a bore or not.

    A size beyond the table takes its last row and the note says so. The caliper is the 0.05 mm
    vernier, the coarser class: a better one only makes the answer surer. Raises InputError for a
    tool that is not in TOOLS.
    """
    wanted = tool.strip().lower()
    if wanted not in TOOLS:
        raise InputError(f'no tool is called "{visible(tool)}"', "Tools: " + ", ".join(TOOLS) + ".")
    rows = _rows(_TABLE_NAME[wanted])
    row, beyond = _row_for(rows, nm)
    error = _nm(_NUMBER.findall(row["permissible_error_mm"])[-1])
    notes = ["beyond the table, its last row is taken"] if beyond else []
    if wanted == "caliper":
        notes.append("taken as the 0.05 mm vernier, the coarser class")
        added = _ADD_INSIDE.search(row["note"])
        if inside and added:
            error += _nm(added[1])
            notes.append(f"{added[1]} mm added inside a bore")
    if wanted == "micrometer" and inside:
        notes.append("figures of the outside micrometer; none for inside ones are in the table")
    source = row["standard"]
    if wanted == "tape":
        error, source = _tape(nm, error, source)
    return Permissible(error, source, "; ".join(notes))


@cache
def _rows(name: str) -> tuple[Row, ...]:
    return tuple(row for row in read_table("instrument") if row["instrument"] == name)


def _row_for(rows: tuple[Row, ...], nm: int) -> tuple[Row, bool]:
    """The row whose range ends at or after ``nm``, and whether ``nm`` lies beyond them all."""
    for row in rows:
        if nm <= _nm(row["range_to_mm"]):
            return row, False
    return rows[-1], True


def _tape(nm: int, reading: int, reading_source: str) -> tuple[int, str]:
    """The larger of the tape's own class II error, a + b·L (L in m, rounded up), and the eye's."""
    row = _rows(_TAPE_CLASS)[0]
    fixed, each = (_nm(figure) for figure in _NUMBER.findall(row["permissible_error_mm"])[:2])
    own = fixed + each * math.ceil(nm / (1000 * NM_PER_MM))
    return (own, row["standard"]) if own > reading else (reading, reading_source)


def _nm(mm: str) -> int:
    return round(float(mm) * NM_PER_MM)
