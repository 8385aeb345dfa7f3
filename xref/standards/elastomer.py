"""Which rubber suits which fluid, and how little its hardness says.

Ratings are in words, and the worse of two sources where they differ. A field the table names as
from memory is shown so: a wrong rubber in a brake is a danger.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from xref.domain.number import visible
from xref.errors import InputError
from xref.tables import Row, read_table

FLUIDS = {
    "mineral oil": "mineral_oil",
    "diesel": "diesel",
    "petrol": "petrol",
    "glycol brake fluid": "glycol_brake_fluid_dot3_4",
    "water": "water",
    "steam": "steam",
    "ozone and weather": "ozone_weather",
    "phosphate ester": "phosphate_ester",
}
"""What a rubber may meet, and the table's column for it."""

SUITED, FAIR, POOR, UNFIT = RATINGS = ("suited", "fair", "poor", "not to be used")
"""How a rubber stands a fluid, best first."""

_OTHER_NAMES = {"FPM": "FKM", "MVQ": "VMQ"}
"""Older symbols for the same rubber (DIN ISO 1629 before 1992, from memory)."""

MEMORY = "from memory, no published source"

MADE_TO_SHORE_A = 5
"""New rubber is made to ± this of its named Shore A: common practice, no published source."""

AGED_SHORE_A = 15
"""How much harder than named old rubber may be. Judged: there is no published figure."""


@dataclass(frozen=True, slots=True)
class Suitability:
    """How a rubber stands one fluid: ``rating`` is one of RATINGS.

    ``sourced`` is False where the rating is from memory only. ``conflict`` is the
    table's note on where sources differ, on any fluid or temperature. ``caution`` is what to mind,
    "" for nothing.
    """

    rating: str
    sourced: bool
    conflict: str
    caution: str


def suits(code: str, fluid: str) -> Suitability:
    """How the rubber ``code`` stands ``fluid`` (one of FLUIDS).

    Raises InputError for a rubber or fluid that is not in the table, naming those that are.
    """
    rubber = _row(code)
    wanted = " ".join(fluid.lower().split())
    column = FLUIDS.get(wanted)
    if column is None:
        raise InputError(
            f'no fluid is called "{visible(fluid)}"', "Fluids: " + ", ".join(FLUIDS) + "."
        )
    rating = rubber[column]
    sourced = column not in rubber["from_memory"].split()
    caution = _caution(rubber, wanted, rating, sourced)
    return Suitability(rating, sourced, rubber["conflict"], caution)


def in_fluids(code: str) -> str:
    """How the rubber ``code`` stands every fluid of the table, in one line, best first.

    A rating from memory is marked so. Raises InputError as ``suits``.
    """
    stands = [(suits(code, fluid), fluid) for fluid in FLUIDS]
    stands.sort(key=lambda one: RATINGS.index(one[0].rating))
    pieces = [
        f"{fluid} {found.rating}{'' if found.sourced else ' (from memory)'}"
        for found, fluid in stands
    ]
    return f"{_row(code)['code']}: {', '.join(pieces)}"


def hardness_agrees(shore_a: int, named: int) -> bool:
    """Whether a reading of ``shore_a`` may be old or new rubber named ``named`` degrees Shore A.

    Old rubber reads harder, never much softer, than it was made.
    """
    return named - MADE_TO_SHORE_A <= shore_a <= named + MADE_TO_SHORE_A + AGED_SHORE_A


def _caution(rubber: Row, fluid: str, rating: str, sourced: bool) -> str:
    said: list[str] = []
    oil, glycol = rubber["mineral_oil"], rubber["glycol_brake_fluid_dot3_4"]
    serves, fails = {SUITED, FAIR}, {POOR, UNFIT}
    if fluid == "glycol brake fluid" and oil in serves and glycol in fails:
        said.append("Mineral-oil rubber fails in glycol brake fluid.")
    if fluid == "mineral oil" and glycol == SUITED and oil in fails:
        said.append("Brake-fluid rubber swells and fails in mineral oil.")
    if rating in fails:
        said.append(f"{rubber['code']} is {rating} in {fluid}.")
    if fluid == "glycol brake fluid":
        said.append("A brake seal is fitted only to the maker's data, by a qualified person.")
    if not sourced:
        said.append(f"This rating is {MEMORY}: check it with the maker's data.")
    return " ".join(said)


@cache
def _by_code() -> dict[str, Row]:
    return {row["code"]: row for row in read_table("elastomer")}


def _row(code: str) -> Row:
    plain = code.strip().upper()
    row = _by_code().get(_OTHER_NAMES.get(plain, plain))
    if row is None:
        raise InputError(
            f'no rubber is called "{visible(code)}"', "Rubbers: " + ", ".join(_by_code()) + "."
        )
    return row
