"""Fit the constants of the mark's evidence: what was seen is kept, so that odds under any constants
are worked out without another search."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

from sqlalchemy import Connection

from scripts.benches.judged import Judged, Said, mean
from scripts.benches.rivals import TIE
from scripts.benches.tables import aligned
from xref.domain.channel import distance
from xref.domain.evidence import odds
from xref.domain.mark import read_mark
from xref.domain.model import Model
from xref.domain.population import Population
from xref.domain.rarity import nearness, rarity_bits
from xref.services.identify.evidence.marks import agrees, costs_of, differs_at, readables
from xref.store.index.near import spelling_rows
from xref.store.index.shortlist import nearest_spellings

DRAWS, REFINED, ROUNDS = 120, 8, 2
"""Constants drawn at large, how many of the best are gone on from, and how often."""
RANGES = {
    "cost_scale": (0.7, 1.1),
    "near_scale": (0.6, 1.1),
    "near_share": (0.5, 1.0),
    "mark_most": (26.0, 50.0),
    "mark_discount": (0.0, 4.0),
    "mark_agrees": (0.0, 4.0),
}
"""Between which values each constant is drawn. ``near_share`` 0 is the form without a crowd; the
floor is taken in whole bits and by hand."""
NEARER = 0.1
"""What of its range a constant is moved by, one standard deviation, to go on from a good one."""
PER_NAT = 0.05
"""What a nat of mean −ln counts for beside an overstep of 1. Judged: it settles near ties."""


Missed = tuple[float, tuple[float, float], Model]
"""What a model is ranked by, made of the oversteps and the mean −ln, and the model."""


@dataclass(frozen=True, slots=True)
class Account:
    """The best account of one thing by one way to read the mark."""

    cost: float
    spelling_weight: float
    weight: float
    agrees: bool
    way: int
    is_truth: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """One mark with everything near it; ``characters`` are the bits of each way to read it."""

    faults: int
    absent: bool
    accounts: tuple[Account, ...]
    characters: tuple[float, ...]
    whole: float


def see(conn: Connection, known: Population, mark: str, faults: int, group: str) -> Seen:
    """Look the mark up once; ``group`` is "" where the truth is absent."""
    model = costs_of(Model())
    ways = readables([read_mark(mark)], model, known)
    rows = spelling_rows(conn, nearest_spellings(conn, [way.reading.mark for way in ways]))
    best: dict[str, tuple[float, Account]] = {}
    for row in rows:
        for at, way in enumerate(ways):
            cost = distance(way.reading, row.folded, row.takes_suffix)
            clean = agrees(way.reading.mark, row.folded, row.takes_suffix)
            one = Account(cost, row.weight, row.part_weight, clean, at, row.group == group)
            bits = _differs(one, model) + way.characters
            if row.group not in best or bits > best[row.group][0]:
                best[row.group] = (bits, one)
    accounts = tuple(one for _, one in best.values())
    characters = tuple(way.characters for way in ways)
    return Seen(faults, not group, accounts, characters, known.weight)


def said(seen: Seen, model: Model) -> Said:
    """What ``identify`` would say of it with the constants of ``model``."""
    crowd = math.fsum(
        nearness(one.cost, one.weight / seen.whole * one.spelling_weight, model)
        for one in seen.accounts
    )
    read = [rarity_bits(characters, crowd, model) for characters in seen.characters]
    totals = []
    for one in seen.accounts:
        differs = max(_differs(one, model), model.mark_floor - read[one.way])
        start = model.prior_bits + math.log2(one.weight / seen.whole)
        totals.append(start + read[one.way] + differs)
    left = 1 - math.fsum(one.weight for one in seen.accounts) / seen.whole
    rest = model.prior_bits + model.mark_floor + math.log2(left) if left > 0 else -math.inf
    told = odds(totals, rest)
    truths = [one.is_truth for one in seen.accounts]
    best, second = [*sorted(told.probabilities, reverse=True), 0.0, 0.0][:2]
    held = list(zip(told.probabilities, truths, strict=True))
    first = [truth for p, truth in held if p >= best - TIE]
    given = told.none if seen.absent else math.fsum(p for p, truth in held if truth)
    right = sum(first) / len(first) if first else 0.0
    return Said(seen.faults, seen.absent, best, second, right, given, told.none)


def _differs(one: Account, model: Model) -> float:
    return differs_at(one.cost, one.spelling_weight, one.agrees, model)


def fit(stores: Sequence[tuple[int, Sequence[Seen]]], seed: int) -> None:
    """Print the shipped constants, and those that overstep the targets least on these marks."""
    chance = random.Random(seed)
    shipped = _missed(stores, Model())
    drawn = [_missed(stores, _drawn(chance)) for _ in range(DRAWS)]
    found = sorted([shipped, *drawn], key=lambda row: row[0])
    for _ in range(ROUNDS):
        near = [_moved(row[2], chance) for row in found[:REFINED] for _ in range(REFINED)]
        found = sorted([*found, *(_missed(stores, one) for one in near)], key=lambda row: row[0])
    heads = ["", *RANGES, "targets overstepped by", "mean −ln"]
    rows = [["shipped", *_row(shipped)], *(["fitted", *_row(one)] for one in found[:REFINED])]
    print(aligned([heads, *rows]))


def _with(constants: Mapping[str, float]) -> Model:
    shipped = Model()
    held = {field.name: getattr(shipped, field.name) for field in fields(shipped)}
    return Model(**{**held, **constants})


def _drawn(chance: random.Random) -> Model:
    return _with({name: chance.uniform(*ends) for name, ends in RANGES.items()})


def _moved(model: Model, chance: random.Random) -> Model:
    moved = {
        name: min(high, max(low, chance.gauss(getattr(model, name), NEARER * (high - low))))
        for name, (low, high) in RANGES.items()
    }
    return _with(moved)


def _missed(stores: Sequence[tuple[int, Sequence[Seen]]], model: Model) -> Missed:
    judged = [Judged(size, [said(one, model) for one in seen]) for size, seen in stores]
    missed = math.fsum(one.oversteps() for one in judged)
    surprise = mean([one.surprise() for one in judged])
    return missed + PER_NAT * surprise, (missed, surprise), model


def _row(found: Missed) -> list[str]:
    _, (missed, surprise), model = found
    constants = [f"{getattr(model, name):.2f}" for name in RANGES]
    return [*constants, f"{missed:.3f}", f"{surprise:.3f}"]
