"""Bores for invented parts, and what a caliper reads of them.

Drawn otherwise than the model takes it: hand and wear have shares and sizes of their own here.
"""

from __future__ import annotations

import random

from xref.domain.size import NM_PER_MM

USUAL = (10, 12, 12.7, 15, 16, 17, 19.05, 20, 22, 25, 25.4, 28, 30, 32, 35, 38.1, 40, 45, 50, 60)
"""Millimetres: most bores are one of these. Judged."""
SHARE_USUAL = 0.7
HAND = 0.02
"""Millimetres: the standard deviation of a caliper reading. Judged."""
SHARE_WORN, WORN = 0.3, 0.12
"""How many bores have worn, and by how many millimetres on average. Judged."""


def drawn_bore(chance: random.Random) -> int:
    """A nominal bore in nanometres."""
    if chance.random() < SHARE_USUAL:
        return round(chance.choice(USUAL) * NM_PER_MM)
    return chance.randrange(10, 160) * NM_PER_MM // 2


def read_bore(nominal: int, chance: random.Random) -> str:
    """What a caliper shows of it, to a hundredth of a millimetre."""
    worn = chance.expovariate(1 / WORN) if chance.random() < SHARE_WORN else 0.0
    return f"{nominal / NM_PER_MM + worn + chance.gauss(0, HAND):.2f} mm"
