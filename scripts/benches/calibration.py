"""Whether the odds are honest: the constants fitted on one store, judged on another.

Marks alone, all kinds of fault, none to three of them; a fifth of the truths are numbers drawn with
the others and then kept out of the store. The fit prints the constants that overstep the targets by
the least on the training seed, and changes nothing. With ``noise`` the faults are of kinds that the
costs were not set for.
"""

from __future__ import annotations

import math
import random
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Connection

from fixtures.numbers import own_numbers
from scripts.benches.diagram import reliability_svg
from scripts.benches.faults import SHARES, Marked, make_mark
from scripts.benches.fitting import Seen, fit, see
from scripts.benches.intervals import percent
from scripts.benches.judged import Judged, Said, mean
from scripts.benches.reliability import (
    Told,
    calibration_error,
    error_by_chance,
    error_interval,
)  # fmt: skip
from scripts.benches.rivals import TIE, read_numbers
from scripts.benches.stores import fill
from scripts.benches.tables import aligned
from xref.domain.number import folded
from xref.domain.population import Population
from xref.services.gather import BY_MARK
from xref.services.identify import identify
from xref.services.query import Asked, understand
from xref.store.queries import population

ABSENT = 0.2
COUNTS = (0, 1, 2, 3)
USUAL = {"all kinds of fault": SHARES}


@dataclass(frozen=True, slots=True)
class Plan:
    """Marks a fault count to judge by and to fit by (0: no fit), the seed, and where to draw.

    ``noise`` holds the shares of the kinds of fault by the name of the noise.
    """

    cases: int
    fit_cases: int
    seed: int
    svg: Path | None
    noise: Mapping[str, Mapping[str, float]] = field(default_factory=lambda: dict(USUAL))


def measure(sizes: Sequence[int], plan: Plan) -> None:
    """Fit on one seed, judge the shipped constants on another, and print both."""
    if plan.fit_cases:
        seed = plan.seed + 1
        print(f"fit: seed {seed}, {plan.fit_cases} marks a fault count and store")
        fit([(size, _seen(size, seed, plan.fit_cases)) for size in sizes], seed)
    for name, shares in plan.noise.items():
        print(f"\nseed {plan.seed}, marks alone, {name}, {plan.cases} marks a fault count,")
        print(
            f"{ABSENT:.0%} of truths absent. Calibration errors over ten tenths of the odds, with"
        )
        print("bootstrap 95 % intervals and what exactly right odds would show with as many marks.")
        judged = [_judged(size, plan, shares) for size in sizes]
        _print(judged, plan)


def _print(judged: Sequence[Judged], plan: Plan) -> None:
    chance = random.Random(plan.seed)
    heads = ["own parts", "top", *(f"{count} faults" for count in COUNTS), "none"]
    rows = [
        [f"{one.size:,}", *(_error(told, chance) for told in (one.top(), *map(one.top, COUNTS))),
         _error(one.none(), chance)]
        for one in judged
    ]  # fmt: skip
    print(aligned([heads, *rows]))
    print(aligned([["own parts", "95 % or more, wrong %", "n", '"one", wrong %', "n",
                    "none, mean", "absent", "oversteps"], *map(_shares, judged)]))  # fmt: skip
    if plan.svg:
        panels = {f"{one.size:,}: first answer": one.top() for one in judged}
        panels |= {f"{one.size:,}: none of these": one.none() for one in judged}
        plan.svg.write_text(reliability_svg(panels), encoding="utf-8")
        print(f"drawn: {plan.svg}")


def _judged(size: int, plan: Plan, shares: Mapping[str, float]) -> Judged:
    """What is said of marks of a new store with so many own parts."""
    held = Judged(size)
    for conn, mark, count, group in _asked(size, plan.seed, plan.cases, shares):
        held.said.append(_said(conn, mark, count, group))
    return held


def _seen(size: int, seed: int, cases: int) -> list[Seen]:
    """The same, kept for the fit and not yet judged."""
    seen = []
    known: Population | None = None
    for conn, mark, count, group in _asked(size, seed, cases, SHARES):
        known = known or population(conn)
        seen.append(see(conn, known, mark, count, group))
    return seen


def _asked(
    size: int, seed: int, cases: int, shares: Mapping[str, float]
) -> Iterator[tuple[Connection, str, int, str]]:
    """Marks with their faults and the group of the truth, "" where it is absent."""
    chance = random.Random(f"{seed} {size}")
    drawn = own_numbers(size + cases, seed)
    chance.shuffle(drawn)
    with tempfile.TemporaryDirectory() as folder:
        store, parts = fill(Path(folder) / "bench.xref", drawn[:size])
        try:
            with store.reading() as conn:
                owners = read_numbers(conn, own_only=False).owners
                present = [(p.number, p.group) for p in parts if len(owners[folded(p.number)]) == 1]
                away = [(d.number, "") for d in drawn[size:] if folded(d.number) not in owners]
                for count in COUNTS:
                    for _ in range(cases):
                        absent = chance.random() < ABSENT
                        marked = None
                        while marked is None:
                            number, group = chance.choice(away if absent else present)
                            marked = _marked(number, count, shares, chance)
                        yield conn, marked.mark, count, group
                    print(f"{size:,}, {count} faults done", file=sys.stderr, flush=True)
        finally:
            store.close()


def _marked(
    number: str, count: int, shares: Mapping[str, float], chance: random.Random
) -> Marked | None:
    """The number with so many faults; without any, as it stands."""
    if not count:
        return Marked(folded(number), folded(number), ())
    return make_mark(number, count, shares, chance)


def _said(conn: Connection, mark: str, faults: int, group: str) -> Said:
    """What ``identify`` says of a mark; ``group`` is "" where the truth is absent."""
    found = identify(conn, understand(Asked(marks=[mark])), limit=BY_MARK)
    odds = {c.part.group: c.probability for c in found.candidates}
    best, second = [*sorted(odds.values(), reverse=True), 0.0, 0.0][:2]
    first = [held for held, p in odds.items() if p >= best - TIE]
    given = odds.get(group, 0.0) if group else found.none_of_these
    right = 1 / len(first) if group in first else 0.0
    none = found.none_of_these
    return Said(faults, not group, best, second, right, given, none, bool(found.caps))


def _error(told: Told, chance: random.Random) -> str:
    low, high = error_interval(told, chance)
    by_chance = error_by_chance(told, chance)
    return f"{calibration_error(told):.3f} ({low:.3f}–{high:.3f}; {by_chance:.3f})"


def _shares(one: Judged) -> list[str]:
    def wrong(right: Sequence[float]) -> tuple[str, str]:
        return percent(len(right) - math.fsum(right), len(right)), str(len(right))

    none = mean([s.none for s in one.said])
    absent = mean([t for _, t in one.none()])
    told = [*wrong(one.sure()), *wrong(one.ones()), f"{none:.3f}", f"{absent:.3f}"]
    return [f"{one.size:,}", *told, f"{one.oversteps():.3f}"]
