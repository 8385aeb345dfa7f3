"""Whether the odds are honest: the constants fitted on one store, judged on another.

Marks alone, all kinds of fault, none to three of them; a fifth of the truths are numbers drawn with
the others and then kept out of the store. The fit prints the constants that overstep the targets by
the least on the training seed, and changes nothing. With ``noise`` the faults are of kinds that the
costs were not set for.
"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import Connection

from scripts.benches.cases import ABSENT, COUNTS, Case, cases
from scripts.benches.diagram import reliability_svg
from scripts.benches.faults import SHARES
from scripts.benches.fitting import Seen, fit, see
from scripts.benches.intervals import percent
from scripts.benches.judged import Judged, Said, mean
from scripts.benches.reliability import Told, calibration_error, error_by_chance, error_interval
from scripts.benches.rivals import TIE
from scripts.benches.tables import aligned
from xref.domain.population import Population
from xref.services.identify.gather import BY_MARK
from xref.services.identify.run import identify
from xref.services.question import Asked, understand
from xref.store.index.tally import population

USUAL = {"all kinds of fault": SHARES}


@dataclass(frozen=True, slots=True)
class Plan:
    """Marks a fault count to judge by and to fit by (0: no fit), the seed, and where to draw.

    ``noise`` holds the shares of the kinds of fault by the name of the noise. With ``bore`` every
    part has a bore, and the same marks are asked without it and with it.
    """

    cases: int
    fit_cases: int
    seed: int
    svg: Path | None
    noise: Mapping[str, Mapping[str, float]] = field(default_factory=lambda: dict(USUAL))
    bore: bool = False


def measure(sizes: Sequence[int], plan: Plan) -> None:
    """Fit on one seed, judge the shipped constants on another, and print both."""
    if plan.fit_cases:
        seed = plan.seed + 1
        print(f"fit: seed {seed}, {plan.fit_cases} marks a fault count and store")
        fit([(size, _seen(size, seed, plan.fit_cases)) for size in sizes], seed)
    for name, shares in plan.noise.items():
        print(
            f"\nseed {plan.seed}, {name}, {plan.cases} marks a fault count, {ABSENT:.0%} of truths"
        )
        print(
            "absent. Calibration errors over ten tenths of the odds, with bootstrap 95 % intervals"
        )
        print("and what exactly right odds would show with as many marks.")
        for measured in (False, True) if plan.bore else (False,):
            print("\nmark and bore" if measured else "\nmarks alone")
            _print([_judged(size, plan, shares, measured) for size in sizes], plan)


def _print(judged: Sequence[Judged], plan: Plan) -> None:
    chance = random.Random(plan.seed)
    heads = ["own parts", "top", *(f"{count} faults" for count in COUNTS), "none"]
    rows = [
        [
            f"{one.size:,}",
            *(_error(told, chance) for told in (one.top(), *map(one.top, COUNTS))),
            _error(one.none(), chance),
        ]
        for one in judged
    ]
    print(aligned([heads, *rows]))
    heads = [
        "own parts",
        "95 % or more, wrong %",
        "n",
        '"one", wrong %',
        "n",
        "none, mean",
        "absent",
        "right first %",
        "mean −ln",
        "oversteps",
    ]
    print(aligned([heads, *map(_shares, judged)]))
    if plan.svg:
        panels = {f"{one.size:,}: first answer": one.top() for one in judged}
        panels |= {f"{one.size:,}: none of these": one.none() for one in judged}
        plan.svg.write_text(reliability_svg(panels), encoding="utf-8")
        print(f"drawn: {plan.svg}")


def _judged(size: int, plan: Plan, shares: Mapping[str, float], measured: bool) -> Judged:
    """What is said of marks of a new store with so many own parts."""
    held = Judged(size)
    for conn, case in cases(size, plan.seed, plan.cases, shares, plan.bore):
        held.said.append(_said(conn, case, measured))
    return held


def _seen(size: int, seed: int, count: int) -> list[Seen]:
    """The same, kept for the fit and not yet judged."""
    seen = []
    known: Population | None = None
    for conn, case in cases(size, seed, count, SHARES):
        known = known or population(conn)
        seen.append(see(conn, known, case.mark, case.faults, case.group))
    return seen


def _said(conn: Connection, case: Case, measured: bool) -> Said:
    """What ``identify`` says of a mark, and of a bore too where it was ``measured``."""
    sizes = {"bore": case.bore} if measured else {}
    found = identify(conn, understand(Asked(marks=[case.mark], sizes=sizes)), limit=BY_MARK)
    odds = {c.part.group: c.probability for c in found.candidates}
    best, second = [*sorted(odds.values(), reverse=True), 0.0, 0.0][:2]
    first = [held for held, p in odds.items() if p >= best - TIE]
    none, absent = found.none_of_these, not case.group
    given = none if absent else odds.get(case.group, 0.0)
    right = 1 / len(first) if case.group in first else 0.0
    return Said(case.faults, absent, best, second, right, given, none, bool(found.caps))


def _error(told: Told, chance: random.Random) -> str:
    low, high = error_interval(told, chance)
    by_chance = error_by_chance(told, chance)
    return f"{calibration_error(told):.3f} ({low:.3f}–{high:.3f}; {by_chance:.3f})"


def _shares(one: Judged) -> list[str]:
    def wrong(right: Sequence[float]) -> tuple[str, str]:
        return percent(len(right) - math.fsum(right), len(right), 1), str(len(right))

    none = mean([s.none for s in one.said])
    absent = mean([t for _, t in one.none()])
    told = [*wrong(one.sure()), *wrong(one.ones()), f"{none:.3f}", f"{absent:.3f}"]
    right = f"{100 * mean([s.right for s in one.said]):.1f}"
    return [f"{one.size:,}", *told, right, f"{one.surprise():.3f}", f"{one.oversteps():.3f}"]
