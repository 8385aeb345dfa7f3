"""What must hold between the rows of inch tapers, and what of a row is withheld where it does not.

A cone has one bore and one width wherever it stands, a cup one outside diameter and one width, and
two cups change the whole width T by the same step on every cone.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from itertools import combinations

from xref.tables import Row

_OF_ONE_HALF = (
    ("cone", "d_mm", 110),
    ("cone", "B_mm", 50),
    ("cup", "D_mm", 110),
    ("cup", "C_mm", 50),
)
"""What belongs to a half, and how far two prints may differ by rounding, in ten-thousandths
of a millimetre. Judged."""

_STEP_IN = 11
"""How far the step of T between two cups may differ, in ten-thousandths of an inch: each of four
figures is rounded to that place, and some to thousandths. Judged."""

_SHORTEST = 3
"""Characters a cone or cup number has at least; a shorter one is a piece of another number."""

_MISPRINT = re.compile(r"(?P<half>cone|cup) width \S+ (?:(?!;).)*misprint")
_WIDTHS = {"cone": "B_mm", "cup": "C_mm"}


@dataclass(frozen=True, slots=True)
class Fault:
    """One cell that its own row or its neighbours speak against; ``column`` "" is the whole row."""

    at: int
    column: str
    why: str


@cache
def _cell(text: str) -> int:
    """A cell in ten-thousandths of its unit: whole numbers compare a hundred times a row."""
    return int(Decimal(text).scaleb(4))


def faults(rows: Sequence[Row]) -> tuple[Fault, ...]:
    """Every cell of the table that does not hold with the rest, by its row; () for a sound one."""
    found = (*_short(rows), *_own_word(rows), *_of_one_half(rows), *_steps(rows))
    return tuple(sorted(set(found), key=lambda fault: (fault.at, fault.column)))


def sound(rows: Sequence[Row]) -> tuple[Row, ...]:
    """``rows`` without what is at fault: a width is left empty, any other fault takes the row."""
    out: set[int] = set()
    empty: dict[int, set[str]] = defaultdict(set)
    for fault in faults(rows):
        if fault.column in _WIDTHS.values():
            empty[fault.at].add(fault.column)
        else:
            out.add(fault.at)
    return tuple(
        row | dict.fromkeys(empty[at], "") if at in empty else row
        for at, row in enumerate(rows)
        if at not in out
    )


def _short(rows: Sequence[Row]) -> Iterator[Fault]:
    for at, row in enumerate(rows):
        for half in ("cone", "cup"):
            if len(row[half]) < _SHORTEST:
                yield Fault(at, "", f"{half} {row[half]} is too short for a number")


def _own_word(rows: Sequence[Row]) -> Iterator[Fault]:
    """A width that the note of its own row calls a misprint."""
    for at, row in enumerate(rows):
        said = _MISPRINT.search(row["table_note"])
        if said and row[_WIDTHS[said["half"]]]:
            yield Fault(at, _WIDTHS[said["half"]], "its own note calls it a misprint")


def _of_one_half(rows: Sequence[Row]) -> Iterator[Fault]:
    """A size of a half that is another than most tables have for the same half."""
    for half, column, rounding in _OF_ONE_HALF:
        same: dict[str, list[int]] = defaultdict(list)
        for at, row in enumerate(rows):
            if row[column]:
                same[row[half]].append(at)
        for number, places in same.items():
            usual = _usual({at: _cell(rows[at][column]) for at in places}, rows)
            for at in places:
                if abs(_cell(rows[at][column]) - usual) > rounding:
                    yield Fault(at, column, f"{half} {number} has another in other pairs")


def _usual(values: dict[int, int], rows: Sequence[Row]) -> int:
    """The value that the most tables bear out, each row counting its tables."""
    votes: Counter[int] = Counter()
    for at, value in values.items():
        votes[value] += int(rows[at]["tables_agreeing"])
    return votes.most_common(1)[0][0]


def _steps(rows: Sequence[Row]) -> Iterator[Fault]:
    """The least attested row of a step between two cups that is another than on other cones."""
    cones: dict[str, list[int]] = defaultdict(list)
    for at, row in enumerate(rows):
        cones[row["cone"]].append(at)
    steps: dict[tuple[str, str], dict[tuple[int, int], int]] = defaultdict(dict)
    for places in cones.values():
        for pair in combinations(sorted(places, key=lambda at: rows[at]["cup"]), 2):
            first, second = (rows[at] for at in pair)
            step = _cell(second["T_in"]) - _cell(first["T_in"])
            steps[first["cup"], second["cup"]][pair] = step
    for (first_cup, second_cup), found in steps.items():
        usual = _usual({min(pair): step for pair, step in found.items()}, rows)
        for pair, step in found.items():
            if abs(step - usual) > _STEP_IN:
                at = min(pair, key=lambda at: int(rows[at]["tables_agreeing"]))
                why = f"cups {first_cup} and {second_cup} are another step apart on other cones"
                yield Fault(at, "T_in", why)
