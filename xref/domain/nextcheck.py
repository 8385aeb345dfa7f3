"""What to check next: the expected fall in entropy over the candidates that remain."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

LEAST_BITS = 0.05
"""A check that tells less than this is not worth walking to the bench for. Judged."""
NO_TOOL_BONUS = 0.5
"""A check that needs no tool goes first unless another tells this much more, in bits. Judged."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """If the check shows ``seen`` then it is one of ``then`` (numbers, likeliest first)."""

    seen: str
    then: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """One check: in plain words, what it is expected to tell in bits, and what would decide."""

    check: str
    bits: float
    outcomes: tuple[Outcome, ...]
    needs_tool: bool


@dataclass(frozen=True, slots=True)
class Answer:
    """What one candidate would answer to one check; "" where its record does not say."""

    number: str
    probability: float
    shows: str


def entropy(weights: Sequence[float]) -> float:
    """Shannon entropy in bits of ``weights`` scaled to sum to 1; 0 for none."""
    whole = math.fsum(weights)
    if whole <= 0:
        return 0.0
    shares = [w / whole for w in weights]
    return -math.fsum(p * math.log2(p) for p in shares if p > 0)


def expected_fall(answers: Sequence[Answer]) -> float:
    """How many bits of entropy the check is expected to take away.

    A candidate that does not say what it would show stays in every outcome, so it is never ruled
    out by a blank in its record. Never negative.
    """
    whole = math.fsum(a.probability for a in answers)
    if whole <= 0:
        return 0.0
    silent = [a.probability for a in answers if not a.shows]
    shown: dict[str, list[float]] = defaultdict(list)
    for a in answers:
        if a.shows:
            shown[a.shows].append(a.probability)
    speaking = math.fsum(math.fsum(ws) for ws in shown.values())
    if len(shown) < 2 or speaking <= 0:
        return 0.0
    after = 0.0
    for weights in shown.values():
        share = math.fsum(weights) / speaking
        after += share * entropy([*weights, *(share * s for s in silent)])
    return max(0.0, entropy([a.probability for a in answers]) - after)


def make_check(check: str, answers: Sequence[Answer], needs_tool: bool) -> Check | None:
    """The check with its outcomes; None where it would tell next to nothing."""
    bits = expected_fall(answers)
    if bits < LEAST_BITS:
        return None
    grouped: dict[str, list[Answer]] = defaultdict(list)
    for a in sorted(answers, key=lambda a: -a.probability):
        if a.shows:
            grouped[a.shows].append(a)
    outcomes = tuple(
        Outcome(seen, tuple(a.number for a in group)) for seen, group in grouped.items()
    )
    return Check(check, bits, outcomes, needs_tool)


def best_checks(checks: Sequence[Check], most: int = 2) -> tuple[Check, ...]:
    """The best one or two, a check that needs no tool favoured; of those it comes first."""
    worth = sorted(checks, key=lambda c: -(c.bits + (0.0 if c.needs_tool else NO_TOOL_BONUS)))
    return tuple(sorted(worth[:most], key=lambda c: c.needs_tool))


def classes(values: Mapping[str, float], apart: float) -> dict[str, int]:
    """Which readings a tool could tell from each other: names with values chained closer than
    ``apart`` share a class number."""
    ordered = sorted(values.items(), key=lambda item: item[1])
    found: dict[str, int] = {}
    current, last = 0, -math.inf
    for name, value in ordered:
        if found and value - last > apart:
            current += 1
        found[name] = current
        last = value
    return found
