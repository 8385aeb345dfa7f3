"""The constants of the model, in one place; passed in, never read from a setting while scoring."""

from __future__ import annotations

from dataclasses import dataclass, field

from xref.domain.confusion import FaultCosts


@dataclass(frozen=True, slots=True)
class Model:
    """Everything the odds depend on besides the store and what was seen.

    *fitted*: 25 November 2026, by ``scripts/bench calibration`` and a longer search of the same
    kind: invented numbers, 1,000 to 1,000,000 of them, marks with none to three faults, a fifth of
    the truths absent; seeds 41, 42 and 43, 600 to 1,500 marks a cell. The optimum is flat. C0 is
    that of an earlier trial; what marks alone asked for below it stands in ``mark_discount``, so
    that sizes are not weighed by it (an O-ring by its sizes would turn into none of these). A plain
    6204 had to keep 0.86 or more, for the trial's numbers are longer than most designations.
    *judged*: no published source. All in bits unless the name says otherwise.
    """

    prior_bits: float = 4.1
    """C0, fitted in an earlier trial: the whole store together against "none of these"."""
    sizes_prior_bits: float = 1.6
    """The same where no mark is given: three things of four that lie on a bench and are measured
    are of a sort that the store holds. Fitted by ``scripts/bench together``, where a quarter of
    the truths is absent."""
    unsized: float = -2.0
    """Judged: a part of which nobody wrote down any size, where only sizes are asked."""
    size_lacking: float = -4.0
    """Judged: a size that was measured, and that a standard's part does not have."""
    sizes_unseen: float = 0.8
    """d, of the standards' tables (1 − 2·N₂/N₁, Good and Turing's estimate): so much of each set
    of sizes on record speaks for its neighbourhood, not for things of those very sizes."""
    misread_beside: float = -2.0
    """Fitted: the same for a part whose number reads otherwise than the mark: of a thing that is
    not on record the number always does, and its sizes are often those of a part beside it."""
    sizes_beside_mark: float = -1.0
    """Fitted: what is taken off the whole store where sizes are given beside a mark: what speaks
    for the two to be of nothing on record is not told by either alone."""
    sizes_near_mark: float = 0.9
    """ρ, fitted: how often a thing that is not on record, numbered like one that is, has its
    sizes."""
    cost_scale: float = 0.94
    """λ, fitted: misreadings are less independent than the costs pretend."""
    mark_most: float = 38.0
    """K, fitted: the most the characters of a mark can say. With 30 the long numbers of a million
    were believed too little."""
    near_scale: float = 0.91
    """μ, fitted: how quickly numbers at a distance cease to crowd a mark."""
    near_share: float = 0.67
    """Fitted: how far the crowd of numbers near a mark, and not its characters, say how rare it
    is. By its characters alone (the fit's best of that form) the odds of *none* were off by 0.11
    to 0.15 and had a mean of 0.11 for a truth of 0.20."""
    near_over: float = 4.0
    """Judged: so many bits more than its characters a mark may say for having no number near it.
    2 and 4 were as good; without it a mark of one legible character would say too much, since only
    the nearest numbers are looked at."""
    mark_discount: float = 2.7
    """Fitted, with C0: what is taken off every mark's information."""
    mark_agrees: float = 2.0
    """Fitted: what a mark is worth more where every legible character agrees, since most marks are
    read right."""
    mark_floor: float = -8.0
    """Fitted, in whole bits: no mark speaks more strongly than this against a part. With the -6
    that were judged before, marks near no number left a fifth of the odds to the whole store."""
    size_floor: float = -6.0
    """Judged: the same for one size: a slip of the pen or the wrong surface."""
    sizes_floor: float = -9.0
    """Judged: all sizes together."""
    kind_right: float = 0.97
    """Judged: how often the user names the kind as the store does."""
    kind_wrong: float = -5.0
    """Judged."""
    kind_excluded: float = -15.0
    """Judged: the same where something of the kind that was named is near: it shuts out others."""
    sort_wrong: float = -4.0
    """Judged: another sort of the kind: a taper pin for a split one."""
    words_most: float = 4.0
    """Judged: descriptions are written by many hands."""
    hand_wrong: float = -6.0
    """Judged: a left-hand part is not a right-hand one."""
    cast_near: float = 2.0
    """Judged: the finished number often lies a few digits from the casting number (common
    practice, no published source)."""
    faults: FaultCosts = field(default_factory=FaultCosts)
