"""Which rubber suits which fluid, and how little its hardness says.

Ratings are the worse of two sources where they differ. A field the table names as unsourced rests
on general knowledge and is shown so: a wrong rubber in a brake is a danger.
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

SUITED, FAIR = 1, 2
RATINGS = {SUITED: "suited", FAIR: "fair", 3: "poor", 4: "not to be used"}

_OTHER_NAMES = {"FPM": "FKM", "MVQ": "VMQ"}
"""Older symbols for the same rubber (DIN ISO 1629 before 1992, from memory)."""

UNSOURCED = "general knowledge, no source read"

MADE_TO_SHORE_A = 5
"""New rubber is made to ± this of its named Shore A: a usual specification (A70±5), two sources."""

AGED_SHORE_A = 15
"""How much harder than named old rubber may be. Judged: there is no published figure."""


@dataclass(frozen=True, slots=True)
class Suitability:
    """How a rubber stands one fluid: ``rating`` 1 (suited) to 4 (not to be used), in ``words``.

    ``sourced`` is False where the rating rests on general knowledge only. ``conflict`` is the
    table's note on where sources differ, on any fluid or temperature. ``caution`` is what to mind,
    "" for nothing.
    """

    rating: int
    words: str
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
    rating = int(rubber[column])
    sourced = column not in rubber["unsourced_fields"].split()
    caution = _caution(rubber, wanted, rating, sourced)
    return Suitability(rating, RATINGS[rating], sourced, rubber["conflict"], caution)


def in_fluids(code: str) -> str:
    """How the rubber ``code`` stands every fluid of the table, in one line, best first.

    A rating that no source was read for is marked "(no source)". Raises InputError as ``suits``.
    """
    told = sorted(((suits(code, fluid), fluid) for fluid in FLUIDS), key=lambda t: t[0].rating)
    pieces = [
        f"{fluid} {found.words}{'' if found.sourced else ' (no source)'}" for found, fluid in told
    ]
    return f"{_row(code)['code']}: {', '.join(pieces)}"


def hardness_agrees(shore_a: int, named: int) -> bool:
    """Whether a reading of ``shore_a`` may be old or new rubber named ``named`` degrees Shore A.

    Old rubber reads harder, never much softer, than it was made.
    """
    return named - MADE_TO_SHORE_A <= shore_a <= named + MADE_TO_SHORE_A + AGED_SHORE_A


def _caution(rubber: Row, fluid: str, rating: int, sourced: bool) -> str:
    said: list[str] = []
    oil, glycol = int(rubber["mineral_oil"]), int(rubber["glycol_brake_fluid_dot3_4"])
    if fluid == "glycol brake fluid" and oil <= FAIR < glycol:
        said.append("Mineral-oil rubber fails in glycol brake fluid.")
    if fluid == "mineral oil" and glycol == SUITED and oil > FAIR:
        said.append("Brake-fluid rubber swells and fails in mineral oil.")
    if rating > FAIR:
        said.append(f"{rubber['code']} is {RATINGS[rating]} in {fluid}.")
    if fluid == "glycol brake fluid":
        said.append("A brake seal is fitted only to the maker's data, by a qualified person.")
    if not sourced:
        said.append(f"This rating is {UNSOURCED}: check it with the maker's data.")
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
