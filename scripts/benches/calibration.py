"""Whether the odds are honest: C0 and λ fitted on one store, judged on another.

Marks alone, all kinds of fault, none to three of them; a fifth of the truths are numbers drawn with
the others and then kept out of the store. The fit takes the constants that overstep the targets by
the least on the training seed (then the least mean −ln of what the truth was given); it prints
them and changes nothing.
"""

from __future__ import annotations

import math
import random
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from sqlalchemy import Connection

from fixtures.numbers import own_numbers
from scripts.benches.diagram import reliability_svg
from scripts.benches.faults import SHARES, Marked, make_mark
from scripts.benches.intervals import percent
from scripts.benches.reliability import (
    Told,
    calibration_error,
    error_by_chance,
    error_interval,
)  # fmt: skip
from scripts.benches.rivals import TIE, read_numbers
from scripts.benches.stores import fill
from scripts.benches.tables import aligned
from xref.domain.model import Model
from xref.domain.number import folded
from xref.domain.verdict import ONE_AT_LEAST, ONE_OVER_NEXT
from xref.services.gather import BY_MARK
from xref.services.identify import identify
from xref.services.query import Asked, understand

ABSENT = 0.2
COUNTS = (0, 1, 2, 3)
TARGETED = (1, 2, 3)
"""The fault counts that have a target of their own; a mark read right has none."""
SCALES = (0.6, 0.68, 0.76, 0.84, 0.92)
SHIFTS = tuple(step / 2 for step in range(-12, 7))
LEAST_GIVEN = 1e-4
"""What a truth that was not listed is taken to have been given."""
TOP_ERROR, COUNT_ERROR, SURE_WRONG, ONE_WRONG, NONE_OFF, NONE_ERROR = (
    0.05, 0.08, 0.03, 0.02, 0.05, 0.10
)  # fmt: skip
"""The targets, in the order in which ``_oversteps`` takes them."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Marks a fault count to judge by and to fit by (0: no fit), the seed, and where to draw."""

    cases: int
    fit_cases: int
    seed: int
    svg: Path | None


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of one mark: the two best odds, whether the first was right (a fraction where
    equals share it), what the truth was given, and the odds of none."""

    faults: int
    absent: bool
    best: float
    second: float
    right: float
    given: float
    none: float
    capped: bool = False

    def shifted(self, bits: float) -> Said:
        """The same with C0 raised by ``bits``: exact, since it multiplies all but *none*."""
        factor = 2.0**bits
        whole = self.none + factor * (1 - self.none)
        return replace(
            self,
            best=self.best * factor / whole,
            second=self.second * factor / whole,
            given=self.given * (1.0 if self.absent else factor) / whole,
            none=self.none / whole,
        )

    @property
    def is_one(self) -> bool:
        """Whether the verdict is *one*."""
        clear = self.best >= ONE_AT_LEAST and self.best >= ONE_OVER_NEXT * self.second
        return clear and not self.capped


@dataclass
class Judged:
    """Everything said about the marks of one store."""

    size: int
    said: list[Said] = field(default_factory=list)

    def top(self, faults: int | None = None) -> Told:
        """The first answer's odds and whether it was right, of all marks or of a fault count."""
        return [(s.best, s.right) for s in self.said if faults in (None, s.faults)]

    def none(self) -> Told:
        """The odds of none of these, and whether the truth was absent."""
        return [(s.none, float(s.absent)) for s in self.said]

    def sure(self) -> list[float]:
        """Right or not where the first answer holds 95 % or more."""
        return [s.right for s in self.said if s.best >= 0.95]

    def ones(self) -> list[float]:
        """Right or not where the verdict is *one*."""
        return [s.right for s in self.said if s.is_one]

    def shifted(self, bits: float) -> Judged:
        """The same with C0 raised."""
        return Judged(self.size, [s.shifted(bits) for s in self.said])

    def surprise(self) -> float:
        """Mean −ln of what the truth was given."""
        given = [-math.log(max(LEAST_GIVEN, s.given)) for s in self.said]
        return math.fsum(given) / len(given)

    def oversteps(self) -> float:
        """By how much the targets are missed, added up."""
        off = abs(_mean([s.none for s in self.said]) - _mean([t for _, t in self.none()]))
        missed = [
            calibration_error(self.top()) - TOP_ERROR,
            *(calibration_error(self.top(count)) - COUNT_ERROR for count in TARGETED),
            1 - _mean(self.sure(), 1.0) - SURE_WRONG,
            1 - _mean(self.ones(), 1.0) - ONE_WRONG,
            off - NONE_OFF,
            calibration_error(self.none()) - NONE_ERROR,
        ]
        return math.fsum(max(0.0, by) for by in missed)


def _mean(values: Sequence[float], empty: float = 0.0) -> float:
    return math.fsum(values) / len(values) if values else empty


def measure(sizes: Sequence[int], plan: Plan) -> None:
    """Fit on one seed, judge the shipped constants on another, and print both."""
    if plan.fit_cases:
        _fit(sizes, plan)
    shipped = Model()
    print(
        f"\nshipped: C0 {shipped.prior_bits:g}, λ {shipped.cost_scale:g}, K {shipped.mark_most:g}"
    )
    print(f"seed {plan.seed}, marks alone, all kinds of fault, {plan.cases} marks a fault count,")
    print(f"{ABSENT:.0%} of truths absent. Calibration errors over ten tenths of the odds, with a")
    print("bootstrap 95 % interval and what exactly right odds would show with as many marks.")
    judged = [_asked(size, plan.seed, plan.cases, [shipped])[0] for size in sizes]
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


def _fit(sizes: Sequence[int], plan: Plan) -> None:
    seed = plan.seed + 1
    print(f"fit: seed {seed}, {plan.fit_cases} marks a fault count and store")
    models = [Model(cost_scale=scale) for scale in SCALES]
    by_size = [_asked(size, seed, plan.fit_cases, models) for size in sizes]
    rows = []
    for model, judged in zip(models, zip(*by_size, strict=True), strict=True):
        for bits in SHIFTS:
            moved = [one.shifted(bits) for one in judged]
            missed = math.fsum(one.oversteps() for one in moved)
            surprise = _mean([one.surprise() for one in moved])
            rows.append((missed, surprise, model.cost_scale, model.prior_bits + bits))
    rows.sort()
    table = [
        [f"{scale:g}", f"{start:g}", f"{missed:.3f}", f"{surprise:.3f}"]
        for missed, surprise, scale, start in rows[:8]
    ]
    print(aligned([["λ", "C0", "targets overstepped by", "mean −ln"], *table]))


def _asked(size: int, seed: int, cases: int, models: Sequence[Model]) -> list[Judged]:
    """The same marks asked of one store with each of ``models``."""
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
                judged = [Judged(size) for _ in models]
                for count in COUNTS:
                    for _ in range(cases):
                        absent = chance.random() < ABSENT
                        marked = None
                        while marked is None:
                            number, group = chance.choice(away if absent else present)
                            marked = _marked(number, count, chance)
                        for model, held in zip(models, judged, strict=True):
                            held.said.append(_said(conn, marked.mark, count, group, model))
                    print(f"{size:,}, {count} faults done", file=sys.stderr, flush=True)
                return judged
        finally:
            store.close()


def _marked(number: str, count: int, chance: random.Random) -> Marked | None:
    """The number with so many faults; without any, as it stands."""
    if not count:
        return Marked(folded(number), folded(number), ())
    return make_mark(number, count, SHARES, chance)


def _said(conn: Connection, mark: str, faults: int, group: str, model: Model) -> Said:
    """What ``identify`` says of a mark; ``group`` is "" where the truth is absent."""
    found = identify(conn, understand(Asked(marks=[mark])), limit=BY_MARK, model=model)
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

    none = _mean([s.none for s in one.said])
    absent = _mean([t for _, t in one.none()])
    told = [*wrong(one.sure()), *wrong(one.ones()), f"{none:.3f}", f"{absent:.3f}"]
    return [f"{one.size:,}", *told, f"{one.oversteps():.3f}"]
