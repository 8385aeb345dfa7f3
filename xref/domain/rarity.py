"""How much a mark says, whichever part it is on: how rare it is among numbers.

Two measures, neither of which is right alone. By its characters a mark of rare ones says much, but
numbers are not drawn character by character. By the numbers near it a mark in a crowd says little,
for a number nobody has listed may lie in the same crowd; but few numbers near are a poor sample.
"""

from __future__ import annotations

import math

from xref.domain.model import Model


def nearness(cost: float, weight: float, model: Model) -> float:
    """How much a number at ``cost`` nats from the mark adds to the crowd it lies in; ``weight`` is
    its share (0..1) of the weight of all parts, times that of the spelling."""
    return weight * math.exp(-model.near_scale * cost)


def rarity_bits(characters: float, crowd: float, model: Model) -> float:
    """The bits a mark says of any part that it agrees with, never below 0.

    ``characters`` is the information of its legible signs in bits, ``crowd`` the sum of
    ``nearness`` over the numbers near it, 0 where there is none.
    """
    characters = min(model.mark_most, characters)
    most = characters + model.near_over
    alone = min(most, -math.log2(crowd)) if crowd > 0 else most
    mixed = model.near_share * alone + (1 - model.near_share) * characters
    return max(0.0, mixed - model.mark_discount)
