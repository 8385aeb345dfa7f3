"""The verdict, kept apart from the odds: one answer, several, or none of these."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref.domain.evidence import MARKS, SIZES, Scored, Topic

ONE_AT_LEAST = 0.96
"""Fitted: from here on at most about one single answer in fifty is wrong: 1.8 % of 8,400 in six
stores of 100,000, the worst of the sizes of store; 0.93 gave one in forty there."""
ONE_OVER_NEXT = 10.0
"""Judged: a near tie is never settled by the tool itself."""
NONE_AT_LEAST = 0.5
"""Judged: none of these is the verdict where it is likelier than everything else together."""
CONFLICT_BITS = 8.0
"""Judged: marks and sizes that pull this far apart speak of two different parts."""
ENOUGH_SIZES = 3
"""Judged: without a mark, fewer sizes than this settle nothing."""
ENOUGH_OF = {"thread": 2}
"""Kinds of which fewer sizes are all there are: a thread is its diameter and its pitch."""
OPEN_READING = 0.01
"""A reading in another numbering system that holds this much keeps the question open. Judged."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """``word`` is one, several or none; ``caps`` say in plain words why it is not *one*."""

    word: str
    caps: tuple[str, ...]
    best_by_marks: int | None = None
    best_by_sizes: int | None = None


def give_verdict(
    scored: Sequence[Scored],
    probabilities: Sequence[float],
    none: float,
    given: tuple[int, int],
    open_systems: bool = False,
) -> Verdict:
    """The verdict over things sorted best first.

    ``given`` is (how many marks, how many sizes) the user gave. ``open_systems`` says that the
    same mark reads as two different bearings in two numbering systems and both are still likely.
    A mark that is plainly of one part with sizes that are plainly of another is never *none*: both
    are shown.
    """
    best = probabilities[0] if probabilities else 0.0
    marks, sizes = given
    by_marks = _best_by(scored, MARKS) if marks and sizes else None
    by_sizes = _best_by(scored, SIZES) if marks and sizes else None
    caps: list[str] = []
    conflict = _conflict(scored, by_marks, by_sizes)
    if none >= NONE_AT_LEAST and none > best and not conflict:
        return Verdict("none", ())
    if conflict:
        caps.append("the mark and the sizes speak of different parts")
    enough = ENOUGH_OF.get(scored[0].part.kind if scored else "", ENOUGH_SIZES)
    if not marks and sizes < enough:
        needed = {2: "two sizes", 3: "three sizes"}[enough]
        caps.append(f"a mark, or {needed}, would be needed to settle on one")
    if open_systems:
        caps.append("the number means different bearings in two numbering systems")
    second = probabilities[1] if len(probabilities) > 1 else 0.0
    clear = best >= ONE_AT_LEAST and best >= ONE_OVER_NEXT * second
    word = "one" if clear and not caps else "several" if scored else "none"
    return Verdict(
        word, tuple(caps), by_marks if conflict else None, by_sizes if conflict else None
    )


def _best_by(scored: Sequence[Scored], topics: frozenset[Topic]) -> int | None:
    if not scored:
        return None
    return max(range(len(scored)), key=lambda i: scored[i].bits_about(*topics))


def _conflict(scored: Sequence[Scored], by_marks: int | None, by_sizes: int | None) -> bool:
    if by_marks is None or by_sizes is None or by_marks == by_sizes:
        return False
    marks, sizes = scored[by_marks], scored[by_sizes]
    lag_in_marks = marks.bits_about(*MARKS) - sizes.bits_about(*MARKS)
    lag_in_sizes = sizes.bits_about(*SIZES) - marks.bits_about(*SIZES)
    return min(lag_in_marks, lag_in_sizes) >= CONFLICT_BITS
