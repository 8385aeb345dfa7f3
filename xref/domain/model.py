"""The constants of the model, in one place; passed in, never read from a setting while scoring."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref.domain.confusion import FaultCosts


@dataclass(frozen=True, slots=True)
class Model:
    """Everything the odds depend on besides the store and what was seen.

    *fitted*: 25 November 2026 by ``scripts/bench calibration``: invented numbers, 1,000 to
    100,000 of them, seed 313, marks with none to three faults, a fifth of the truths absent. C0 is
    that of an earlier trial; what marks alone asked for beyond it stands in ``mark_discount``, so
    that sizes are not weighed by it (an O-ring by its sizes would turn into none of these).
    *judged*: no published source. All in bits unless the name says otherwise.
    """

    prior_bits: float = 4.1
    """C0, fitted in an earlier trial: the whole store together against "none of these"."""
    cost_scale: float = 0.76
    """λ, fitted: misreadings are less independent than the costs pretend."""
    mark_most: float = 30.0
    """K, the most a mark can say. Fitted in an earlier trial and kept: 34 was the same, 28 a little
    better (1.54 against 1.58 nats a mark, on other stores)."""
    mark_discount: float = 3.3
    """Fitted: what is taken off every mark's information, for any mark resembles some number by
    chance. At 1,000 numbers 2.3, 3.3 and 4.3 gave *none* a mean of 0.08, 0.11 and 0.14 for a truth
    of 0.20, and the first answer an error of 0.054, 0.034 and 0.032 (400 marks)."""
    mark_agrees: float = 2.0
    """Judged: what a mark is worth more where every legible character agrees, since most marks are
    read right. Between 0 and 3 it changed no figure of that trial by more than 0.01; it matters
    among the short numbers of bearings, where every misreading is another number."""
    mark_floor: float = -6.0
    """Judged: no mark speaks more strongly than this against a part."""
    size_floor: float = -6.0
    """Judged: the same for one size: a slip of the pen or the wrong surface."""
    sizes_floor: float = -9.0
    """Judged: all sizes together."""
    kind_right: float = 0.97
    """Judged: how often the user names the kind as the store does."""
    kind_wrong: float = -5.0
    """Judged."""
    words_most: float = 4.0
    """Judged: descriptions are written by many hands."""
    hand_wrong: float = -6.0
    """Judged: a left-hand part is not a right-hand one."""
    cast_near: float = 2.0
    """Judged: the finished number often lies a few digits from the casting number (common
    practice, no published source)."""
    faults: FaultCosts = field(default_factory=FaultCosts)
