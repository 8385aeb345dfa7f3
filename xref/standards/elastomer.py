"""Which rubber stands which fluid, what is unsourced about it, and what hardness tells."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref.domain.number import visible
from xref.errors import InputError
from xref.tables import Row, read_table

RATINGS = {1: "suited", 2: "fair", 3: "poor", 4: "not to be used"}

_COLUMN = {
    "mineral oil": "mineral_oil",
    "diesel": "diesel",
    "petrol": "petrol",
    "glycol brake fluid": "glycol_brake_fluid_dot3_4",
    "water": "water",
    "steam": "steam",
    "ozone and weather": "ozone_weather",
    "phosphate ester": "phosphate_ester",
}
FLUIDS = tuple(_COLUMN)

_GLYCOL = "glycol brake fluid"
_OIL = "mineral oil"
_DEFER = "follow the maker's data and ask someone qualified before it goes into a brake"


@dataclass(frozen=True, slots=True)
class Elastomer:
    """One rubber by its ISO 1629 code. Temperatures in °C, hardness in Shore A as the table has it.

    ``unsourced`` are the columns that rest on general knowledge and must be shown as such;
    ``conflict`` says where sources disagree, "" where they do not.
    """

    code: str
    name: str
    kind: str
    least_c: int
    most_c: int
    hardness: str
    unsourced: tuple[str, ...]
    conflict: str


@dataclass(frozen=True, slots=True)
class Suitability:
    """How a rubber stands a fluid: ``rating`` 1 (suited) to 4 (not to be used) and its ``word``.

    Of two sources that differ the worse counts. ``unsourced``: this rating rests on general
    knowledge. ``caution`` is "" where none is due.
    """

    code: str
    fluid: str
    rating: int
    word: str
    unsourced: bool
    conflict: str
    caution: str


@cache
def elastomers() -> tuple[Elastomer, ...]:
    """Every rubber (and PTFE, which is none) in the table."""
    return tuple(
        Elastomer(
            row["code"],
            row["common_name"],
            row["kind"],
            int(row["temp_min_c"]),
            int(row["temp_max_c"]),
            row["typical_hardness_shore_a"],
            _unsourced(row),
            row["conflict"],
        )
        for row in read_table("elastomer")
    )


def suits(code: str, fluid: str) -> Suitability:
    """How the rubber ``code`` ("NBR") stands ``fluid`` (one of FLUIDS); case does not matter.

    Raises InputError for a rubber or a fluid that is not in the table.
    """
    rubber, wanted = code.strip().upper(), fluid.strip().lower()
    rows = {row["code"]: row for row in read_table("elastomer")}
    if rubber not in rows:
        raise InputError(
            f'no rubber has the code "{visible(code)}"', "Codes: " + ", ".join(rows) + "."
        )
    if wanted not in _COLUMN:
        raise InputError(
            f'no fluid is called "{visible(fluid)}"', "Fluids: " + ", ".join(FLUIDS) + "."
        )
    row = rows[rubber]
    rating = int(row[_COLUMN[wanted]])
    return Suitability(
        rubber,
        wanted,
        rating,
        RATINGS[rating],
        _COLUMN[wanted] in _unsourced(row),
        row["conflict"],
        _caution(row, wanted),
    )


def _unsourced(row: Row) -> tuple[str, ...]:
    """The columns named as unsourced; other words in that cell only explain."""
    return tuple(word for word in row["unsourced_fields"].split() if word in row)


def _caution(row: Row, fluid: str) -> str:
    """Mineral-oil rubber fails in glycol brake fluid, and brake rubber in mineral oil."""
    if fluid not in (_GLYCOL, _OIL):
        return ""
    other = _OIL if fluid == _GLYCOL else _GLYCOL
    poor = int(row[_COLUMN[fluid]]) >= 3
    if poor and int(row[_COLUMN[other]]) <= 2:
        return f"danger: {row['code']} stands {other} and fails in {fluid}; {_DEFER}"
    return f"brakes: the rubber must suit the fluid; {_DEFER}" if fluid == _GLYCOL else ""


HARDNESS_IS_WEAK = (
    "old rubber hardens, so hardness is weak evidence of which rubber or which part it was"
)
"""Common practice, no published source."""

_HARDNESS_WORDS = (
    (50, "soft, compresses well"),
    (59, "medium"),
    (80, "much harder than a soft strip of 40"),
)
"""Upper ends of the bands in Shore A. Strip of 40 is soft and compresses well, 60 to 80 is much
harder: common practice, no published source; the ends between them are judged."""


def hardness_word(shore_a: int) -> str:
    """What a hardness of ``shore_a`` (0 to 100) means in the hand.

    Raises InputError outside 0 to 100. A specification usually allows ±5 (elastomer_hardness).
    """
    if not 0 <= shore_a <= 100:
        raise InputError(
            f"Shore A {shore_a} does not exist", "The scale runs from 0 to 100; give that figure."
        )
    return next((word for most, word in _HARDNESS_WORDS if shore_a <= most), "very hard")
