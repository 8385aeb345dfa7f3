"""Noise that the costs were not set for: typing slips, and strokes worn off the letters.

The likelihoods are judged; keys are those of the common QWERTY layout.
"""

from __future__ import annotations

import random
from collections.abc import Mapping

from scripts.benches import faults
from scripts.benches.faults import NO_LOOK_ALIKES, Fault, Sign, Signs

KEY_ROWS = ("1234567890", "QWERTYUIOP", "ASDFGHJKL", "ZXCVBNM")
STROKES: Mapping[str, str] = {
    "E": "FC",
    "R": "P",
    "Q": "O",
    "B": "3P",
    "8": "3690",
    "G": "C",
    "6": "C",
    "W": "V",
    "M": "N",
    "H": "I",
    "D": "J",
    "0": "C",
    "9": "7",
    "5": "3",
    "4": "1",
    "A": "4",
}
"""What is left of a character when one stroke of it is worn off. Judged by eye."""


def neighbour_keys() -> dict[str, str]:
    """For each key the keys beside it and in the rows above and below."""
    found: dict[str, str] = {}
    for at, row in enumerate(KEY_ROWS):
        for place, key in enumerate(row):
            near = row[max(0, place - 1) : place] + row[place + 1 : place + 2]
            for other in (at - 1, at + 1):
                if 0 <= other < len(KEY_ROWS):
                    near += KEY_ROWS[other][place : place + 1]
            found[key] = near
    return found


KEYS = neighbour_keys()


def neighbour_key(signs: Signs, chance: random.Random) -> bool:
    """One character typed as a key beside it."""
    return _one(signs, chance, KEYS)


def stroke_lost(signs: Signs, chance: random.Random) -> bool:
    """One character of which a stroke is worn off."""
    return _one(signs, chance, STROKES)


def doubled(signs: Signs, chance: random.Random) -> bool:
    """One character typed twice."""
    able = [at for at, sign in enumerate(signs) if not sign.spoilt]
    if not able:
        return False
    at = chance.choice(able)
    signs.insert(at + 1, Sign(signs[at].read, True))
    signs[at].spoilt = True
    return True


def _one(signs: Signs, chance: random.Random, table: Mapping[str, str]) -> bool:
    able = [at for at, sign in enumerate(signs) if not sign.spoilt and table.get(sign.read)]
    if not able:
        return False
    at = chance.choice(able)
    signs[at].read, signs[at].spoilt = chance.choice(table[signs[at].read]), True
    return True


KINDS: tuple[Fault, ...] = (neighbour_key, stroke_lost, doubled)

TYPED: Mapping[str, float] = {
    "neighbour_key": 0.40,
    "transposition": 0.25,
    "lost": 0.20,
    "doubled": 0.15,
}
WORN: Mapping[str, float] = {"stroke_lost": 0.70, "illegible": 0.15, "lost_end": 0.15}

NOISES: Mapping[str, Mapping[str, float]] = {
    "random edits": NO_LOOK_ALIKES,
    "typing": TYPED,
    "strokes lost": WORN,
}
CELLS = tuple((name, shares, count) for name, shares in NOISES.items() for count in (1, 2, 3))


def known() -> None:
    """Make the kinds of fault known to the marks that are drawn."""
    faults.FAULTS = {**faults.FAULTS, **{kind.__name__: kind for kind in KINDS}}
