"""What goes wrong between the number that was struck and the mark that is read.

The likelihoods are the bench's own and judged; only the pairs of look-alikes come from the shipped
table. A truth is worked on as a row of signs, and no sign takes two faults.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from xref.domain.number import folded
from xref.tables import read_table

CHARACTERS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
FEWEST_LEGIBLE = 3
"""A mark with fewer characters than this left is no mark, and another fault is drawn."""
END_LENGTHS = ((1, 0.5), (2, 0.3), (3, 0.2))
"""How many characters a worn end takes. Judged."""
TRIES = 200


@dataclass(slots=True)
class Sign:
    """One place on the metal: what is read there ("" for nothing), and whether it is spoilt."""

    read: str
    spoilt: bool = False


Signs = list[Sign]
Fault = Callable[[Signs, random.Random], bool]


@dataclass(frozen=True, slots=True)
class Marked:
    """A truth (letters and digits alone), the mark made from it, and the faults on it."""

    truth: str
    mark: str
    kinds: tuple[str, ...]


def likelihoods() -> dict[str, dict[str, float]]:
    """For each character, how likely each look-alike is read: more where more lists name the pair.

    Four lists or more count 4, two or three 2, fewer 1. Judged; not the costs that xref takes.
    """
    table: dict[str, dict[str, float]] = defaultdict(dict)
    for row in read_table("look_alike"):
        lists = int(row["lists_naming_it"])
        weight = 4.0 if lists >= 4 else 2.0 if lists >= 2 else 1.0
        table[row["char_a"]][row["char_b"]] = weight
        table[row["char_b"]][row["char_a"]] = weight
    return dict(table)


LOOK_ALIKES = likelihoods()


def _sound(signs: Signs) -> list[int]:
    return [at for at, sign in enumerate(signs) if not sign.spoilt]


def _spoil(sign: Sign, read: str) -> bool:
    sign.read, sign.spoilt = read, True
    return True


def look_alike(signs: Signs, chance: random.Random) -> bool:
    """One character read as one that looks like it."""
    able = [at for at in _sound(signs) if signs[at].read in LOOK_ALIKES]
    if not able:
        return False
    at = chance.choice(able)
    rows = LOOK_ALIKES[signs[at].read]
    return _spoil(signs[at], chance.choices(list(rows), list(rows.values()))[0])


def illegible(signs: Signs, chance: random.Random) -> bool:
    """One character seen but not read."""
    able = _sound(signs)
    return bool(able) and _spoil(signs[chance.choice(able)], "?")


def lost(signs: Signs, chance: random.Random) -> bool:
    """One character not at an end passed over without a trace."""
    able = [at for at in _sound(signs) if 0 < at < len(signs) - 1]
    return bool(able) and _spoil(signs[chance.choice(able)], "")


def lost_end(signs: Signs, chance: random.Random) -> bool:
    """One to three characters gone from an end, noticed (``*``) or not; the last end oftener."""
    lengths = [length for length, _ in END_LENGTHS]
    length = chance.choices(lengths, [share for _, share in END_LENGTHS])[0]
    last = chance.random() < 0.7
    gone = signs[-length:] if last else signs[:length]
    if len(signs) <= length or any(sign.spoilt for sign in gone):
        return False
    for sign in gone:
        _spoil(sign, "")
    if chance.random() < 0.5:
        (gone[-1] if last else gone[0]).read = "*"
    return True


def substitution(signs: Signs, chance: random.Random) -> bool:
    """One character read as any other that does not look like it."""
    able = _sound(signs)
    if not able:
        return False
    at = chance.choice(able)
    alike = LOOK_ALIKES.get(signs[at].read, {})
    others = [c for c in CHARACTERS if c != signs[at].read and c not in alike]
    # A digit is taken for a digit and a letter for a letter more often than not. Judged.
    same = [c for c in others if c.isdigit() == signs[at].read.isdigit()]
    return _spoil(signs[at], chance.choice(same if same and chance.random() < 0.7 else others))


def transposition(signs: Signs, chance: random.Random) -> bool:
    """Two different neighbours the wrong way round."""
    able = [
        at
        for at in range(len(signs) - 1)
        if not (signs[at].spoilt or signs[at + 1].spoilt) and signs[at].read != signs[at + 1].read
    ]
    if not able:
        return False
    at = chance.choice(able)
    one, two = signs[at], signs[at + 1]
    one.read, two.read = two.read, one.read
    one.spoilt = two.spoilt = True
    return True


def extra(signs: Signs, chance: random.Random) -> bool:
    """One character read where nothing stands."""
    signs.insert(chance.randrange(len(signs) + 1), Sign(chance.choice(CHARACTERS), True))
    return True


FAULTS: Mapping[str, Fault] = {
    f.__name__: f
    for f in (look_alike, illegible, lost, lost_end, substitution, transposition, extra)
}

SHARES: Mapping[str, float] = {
    "look_alike": 0.35,
    "illegible": 0.20,
    "lost": 0.10,
    "lost_end": 0.15,
    "substitution": 0.08,
    "transposition": 0.06,
    "extra": 0.06,
}
"""How often each fault occurs on a worn mark. Judged."""

NO_LOOK_ALIKES: Mapping[str, float] = {
    "substitution": 1.0,
    "lost": 1.0,
    "transposition": 1.0,
    "extra": 1.0,
}
"""Faults that a table of look-alikes does not help with."""


def make_mark(
    number: str, count: int, shares: Mapping[str, float], chance: random.Random
) -> Marked | None:
    """``number`` with ``count`` faults drawn by ``shares``; None where they do not fit on it."""
    truth = folded(number)
    for _ in range(TRIES):
        signs = [Sign(c) for c in truth]
        kinds = chance.choices(list(shares), list(shares.values()), k=count)
        if not all(FAULTS[kind](signs, chance) for kind in kinds):
            continue
        mark = "".join(sign.read for sign in signs)
        if sum(c.isalnum() for c in mark) >= FEWEST_LEGIBLE and mark != truth:
            return Marked(truth, mark, tuple(kinds))
    return None


def kinds_of(marks: Sequence[Marked]) -> list[str]:
    """The kinds of fault that occur in ``marks``, in the order of the table."""
    met = {kind for marked in marks for kind in marked.kinds}
    return [kind for kind in FAULTS if kind in met]
