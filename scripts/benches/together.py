"""Whether the odds are honest where sizes decide: with kind, words, a mark, or alone."""

from __future__ import annotations

import math
import random
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path

from sqlalchemy import Connection

from scripts.benches.intervals import percent
from scripts.benches.judged import Judged, Said, mean
from scripts.benches.measured import CELLS, Case, Cell, drawn, thinned
from scripts.benches.reliability import calibration_error, error_by_chance
from scripts.benches.rivals import TIE
from scripts.benches.tables import aligned
from xref.domain.model import Model
from xref.services.identify.ruled import ORIGIN_RULE
from xref.services.identify.run import identify
from xref.services.identify.stamp import ORIGIN_MARK
from xref.services.question import Asked, understand

NOWHERE = "three sizes of nothing"
MADE = (ORIGIN_MARK, ORIGIN_RULE)
"""Where an entry is from that no table has: its odds are those of nothing on record, as none of
these is, and it is right where it is the very thing that the store lacks."""


def measure(count: int, seed: int, only: str = "", model: Model | None = None) -> None:
    """Print for each cell how far the odds are from what came true, with the number of cases."""
    print(f"seed {seed}, {count} cases a cell, a quarter of the truths not in the store")
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        store, present, away = thinned(Path(folder) / "bench.xref", seed)
        try:
            with store.reading() as conn:
                rows = [
                    _row(
                        cell,
                        _judged(conn, cell, drawn(cell, count, seed, present, away), model),
                        chance,
                    )
                    for cell in CELLS
                    if only in cell.name
                ]
                if only in NOWHERE:
                    _print_nowhere(conn, count, seed)
        finally:
            store.close()
    print(aligned([HEADS, *rows]))


HEADS = [
    "given",
    "not on record, mean",
    "absent",
    "by bins",
    "top",
    "by chance",
    "right first %",
    "95 % or more, wrong %",
    "n",
    '"one", wrong %',
    "n",
    "mean −ln",
]


def _judged(
    conn: Connection, cell: Cell, drawn_cases: Iterable[Case], model: Model | None
) -> Judged:
    held = Judged(0)
    for case in drawn_cases:
        held.said.append(_said(conn, case, model))
    print(f"{cell.name} done", file=sys.stderr, flush=True)
    return held


def _said(conn: Connection, case: Case, model: Model | None) -> Said:
    asked = Asked(
        marks=[case.mark] if case.mark else [], sizes=case.sizes, kind=case.kind, words=case.words
    )
    found = identify(conn, understand(asked), limit=60, model=model)
    best, second = [*sorted((c.probability for c in found.candidates), reverse=True), 0.0, 0.0][:2]
    first = [c.part for c in found.candidates if c.probability >= best - TIE]
    made = math.fsum(c.probability for c in found.candidates if c.part.origin in MADE)
    named = math.fsum(c.probability for c in found.candidates if case.is_named(c.part))
    none, absent = found.none_of_these, not case.group
    given = none + named if absent else named
    right = sum(map(case.is_named, first)) / max(1, len(first))
    return Said(0, absent, best, second, right, given, none + made, bool(found.caps))


def _row(cell: Cell, judged: Judged, chance: random.Random) -> list[str]:
    sure, ones = judged.sure(), judged.ones()
    return [
        cell.name,
        f"{mean([s.none for s in judged.said]):.3f}",
        f"{mean([t for _, t in judged.none()]):.3f}",
        f"{calibration_error(judged.none()):.3f}",
        f"{calibration_error(judged.top()):.3f}",
        f"{error_by_chance(judged.top(), chance):.3f}",
        f"{100 * mean([s.right for s in judged.said]):.0f}",
        percent(len(sure) - sum(sure), len(sure)) if sure else "–",
        str(len(sure)),
        percent(len(ones) - sum(ones), len(ones)) if ones else "–",
        str(len(ones)),
        f"{judged.surprise():.2f}",
    ]


def _print_nowhere(conn: Connection, count: int, seed: int) -> None:
    """Bore, outside and width that were drawn at random: what none of these is given."""
    chance = random.Random(f"{seed} nowhere")
    none, sure = [], 0
    for _ in range(count):
        bore = chance.uniform(6, 60)
        outside = bore * chance.uniform(1.2, 2.6)
        width = (outside - bore) * chance.uniform(0.2, 1.2)
        sizes = {"bore": bore, "outside": outside, "width": width}
        texts = {name: f"{value:.2f} mm" for name, value in sizes.items()}
        found = identify(conn, understand(Asked(sizes=texts)), limit=3)
        none.append(found.none_of_these)
        sure += bool(found.candidates and found.candidates[0].probability >= 0.95)
    print(f"{NOWHERE}: none {mean(none):.2f}; 95 % or more given to a part {sure} of {count}")
