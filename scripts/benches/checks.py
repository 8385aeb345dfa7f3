"""How many of the checks asked for it takes until one part stands, and whether it is right.

The truth is in the store and answers each check by what its record shows, with readings as a person
takes them; where it does not say, by what is usual on its kind, and where nothing is, "cannot".
"""

from __future__ import annotations

import math
import random
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import Connection

from scripts.benches.intervals import percent
from scripts.benches.measured import Cell, case_of, read_size, thinned
from scripts.benches.tables import aligned
from xref.domain.number import folded
from xref.domain.part import Part, is_plain_number
from xref.services.identify.answer import Identified
from xref.services.identify.run import identify
from xref.services.parts.traits import shown
from xref.services.question import Asked, understand
from xref.standards.check import keys, sights

CELLS = (
    Cell("one size", 1),
    Cell("one size, kind", 1, kind=True),
    Cell("two sizes", 2),
    Cell("two sizes, kind", 2, kind=True),
    Cell("three sizes", 3),
    Cell("mark, one size", 1, mark=True),
)
MOST = 12
"""Checks after which a session is given up."""


@dataclass(frozen=True, slots=True)
class Session:
    """How many checks were answered, whether one stood then, and whether the first was right."""

    checks: int
    stands: bool
    right: bool


def measure(count: int, seed: int) -> None:
    """Print for each cell the checks needed and how often the end is right, with intervals."""
    print(f"seed {seed}, {count} sessions a cell, at most {MOST} checks each; every truth is held")
    with tempfile.TemporaryDirectory() as folder:
        store, present, _ = thinned(Path(folder) / "bench.xref", seed)
        try:
            with store.reading() as conn:
                rows = [_row(conn, cell, count, seed, present) for cell in CELLS]
        finally:
            store.close()
    heads = ["given", "one stands %", "checks until then, median", "90 %"]
    heads += ["right where one stands %", "right first, all %", "n"]
    print(aligned([heads, *rows]))


def _row(conn: Connection, cell: Cell, count: int, seed: int, present: Sequence[Part]) -> list[str]:
    chance = random.Random(f"{seed} checks {cell.name}")
    held: list[Session] = []
    while len(held) < count:
        session = _session(conn, cell, chance.choice(present), chance)
        if session is not None:
            held.append(session)
    print(f"{cell.name} done", file=sys.stderr, flush=True)
    ended = sorted(s.checks for s in held if s.stands)
    right = sum(s.right for s in held if s.stands)
    return [
        cell.name,
        percent(len(ended), count),
        _quantile(ended, 0.5),
        _quantile(ended, 0.9),
        percent(right, len(ended)),
        percent(sum(s.right for s in held), count),
        str(count),
    ]


def _quantile(ordered: Sequence[int], share: float) -> str:
    """The least number that ``share`` of them do not exceed; "-" where there is none."""
    return str(ordered[math.ceil(share * len(ordered)) - 1]) if ordered else "-"


def _session(conn: Connection, cell: Cell, truth: Part, chance: random.Random) -> Session | None:
    """One session on ``truth``; None where it has not what the cell gives."""
    case = case_of(cell, truth, truth.group, chance)
    if case is None:
        return None
    marks = [case.mark] if case.mark else []
    asked = Asked(marks=marks, sizes=case.sizes, kind=case.kind)
    told = identify(conn, understand(asked))
    checks = 0
    while told.verdict != "one" and told.next_check and checks < MOST:
        key = told.next_check[0].key
        answer = _answer(key, told, truth, chance)
        if answer:
            asked = replace(asked, seen={**asked.seen, key: answer})
        else:
            asked = replace(asked, cannot=[*asked.cannot, key])
        told = identify(conn, understand(asked))
        checks += 1
    right = bool(told.candidates) and told.candidates[0].part.group == truth.group
    return Session(checks, told.verdict == "one", right)


def _answer(key: str, told: Identified, truth: Part, chance: random.Random) -> str:
    """What is answered of ``truth``; "" where it cannot be told."""
    if key == "kind":
        return truth.kind
    if key.startswith("mark"):
        place = key.partition("-")[2]
        number = folded(truth.number)
        if not place:
            return truth.number
        same = len(told.query.marks[0].signs) == len(number)
        return number[int(place) - 1] if same else ""
    if key not in keys():
        if key not in truth.sizes:
            return ""
        counted = is_plain_number(key)
        return str(truth.sizes[key].value) if counted else read_size(truth, key, True, chance)
    words = shown(truth).get(key)
    if words:
        return chance.choice(words)
    usual = sights(key, truth.kind)
    return chance.choices(list(usual), [s.share for s in usual.values()])[0] if usual else ""
