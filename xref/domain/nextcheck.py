"""What to check next: the expected fall in entropy over the candidates that remain."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

LEAST_BITS = 0.05
"""A check that tells less than this is not worth walking to the bench for. Judged."""
NO_TOOL_BONUS = 0.5
"""A check that needs no tool goes first unless another tells this much more, in bits. Judged."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """If the check shows ``seen`` then it is one of ``then`` (numbers, likeliest first).

    ``answer`` is the word that gives it back.
    """

    seen: str
    then: tuple[str, ...]
    answer: str = ""


@dataclass(frozen=True, slots=True)
class Check:
    """One check: in plain words, what it is expected to tell in bits, and what would decide.

    ``key`` names it for good, so that it can be answered.
    """

    check: str
    bits: float
    outcomes: tuple[Outcome, ...]
    needs_tool: bool
    key: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """What one candidate would answer to one check; "" where its record does not say.

    Of several words it may be any, each as likely.
    """

    number: str
    probability: float
    shows: str | tuple[str, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """Every word it may answer with; () where its record does not say."""
        if isinstance(self.shows, tuple):
            return self.shows
        return (self.shows,) if self.shows else ()


@dataclass(frozen=True, slots=True)
class Words:
    """How a check is asked, and what its answers mean.

    ``shares`` says how usual each answer is where nothing is on record, {} for as usual as among
    those that speak; ``slip`` how often such an answer comes in place of the right one; ``said``
    what each answer is in plain words.
    """

    key: str
    check: str
    needs_tool: bool
    shares: Mapping[str, float] = field(default_factory=dict)
    said: Mapping[str, str] = field(default_factory=dict)
    slip: float = 0.0


def entropy(weights: Sequence[float]) -> float:
    """Shannon entropy in bits of ``weights`` scaled to sum to 1; 0 for none."""
    whole = math.fsum(weights)
    if whole <= 0:
        return 0.0
    shares = [w / whole for w in weights]
    return -math.fsum(p * math.log2(p) for p in shares if p > 0)


def expected_fall(
    answers: Sequence[Answer], shares: Mapping[str, float] | None = None, slip: float = 0.0
) -> float:
    """How many bits of entropy the check is expected to take away.

    A candidate that does not say what it would show answers by ``shares``, or where there are none
    as those that speak do: it is never ruled out by a blank in its record. ``slip`` of the answers
    of each come by ``shares`` as well. Never negative.
    """
    usual = shares or _spoken(answers)
    speaking = {word for a in answers for word in a.words}
    if not speaking or len(usual) < 2:
        return 0.0
    after, whole = 0.0, math.fsum(a.probability for a in answers)
    if whole <= 0:
        return 0.0
    for word, share in usual.items():
        joint = [a.probability * _chance(a, word, share, slip) for a in answers]
        after += math.fsum(joint) / whole * entropy(joint)
    return max(0.0, entropy([a.probability for a in answers]) - after)


def _chance(answer: Answer, word: str, share: float, slip: float) -> float:
    """How likely the candidate answers with ``word``, which is as usual as ``share``."""
    words = answer.words
    if not words:
        return share
    return (1 - slip) * words.count(word) / len(words) + slip * share


def _spoken(answers: Sequence[Answer]) -> dict[str, float]:
    """How usual each answer is among those candidates that say one."""
    found: dict[str, float] = {}
    for a in answers:
        for word in a.words:
            found[word] = found.get(word, 0.0) + a.probability / len(a.words)
    whole = math.fsum(found.values())
    return {word: weight / whole for word, weight in found.items()} if whole > 0 else {}


def check_of(words: Words, answers: Sequence[Answer], share: float = 1.0) -> Check | None:
    """The check with its outcomes; None where it would tell next to nothing.

    ``share`` (0..1) is that of the odds which the ``answers`` are about.
    """
    bits = share * expected_fall(answers, words.shares, words.slip)
    if bits < LEAST_BITS:
        return None
    grouped: dict[str, list[str]] = {}
    for a in sorted(answers, key=lambda a: -a.probability):
        for word in a.words:
            grouped.setdefault(word, []).append(a.number)
    outcomes = tuple(
        Outcome(words.said.get(word, word), tuple(numbers), word)
        for word, numbers in grouped.items()
    )
    return Check(words.check, bits, outcomes, words.needs_tool, words.key)


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
