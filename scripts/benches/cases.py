"""Marks with none to three faults of parts in a new store, and of parts that are not in it."""

from __future__ import annotations

import random
import sys
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from fixtures.numbers import own_numbers
from scripts.benches.bores import drawn_bore, read_bore
from scripts.benches.faults import Marked, make_mark
from scripts.benches.rivals import read_numbers
from scripts.benches.stores import fill
from xref.domain.number import folded

ABSENT = 0.2
COUNTS = (0, 1, 2, 3)


@dataclass(frozen=True, slots=True)
class Case:
    """A mark, its faults, the group of the truth ("" where it is absent), and the bore as it was
    read ("" where the parts have none)."""

    mark: str
    faults: int
    group: str
    bore: str = ""


@dataclass(frozen=True, slots=True)
class _Truth:
    number: str
    group: str
    bore: int


def cases(
    size: int, seed: int, count: int, shares: Mapping[str, float], bores: bool = False
) -> Iterator[tuple[Connection, Case]]:
    """``count`` marks of each number of faults, on a store with ``size`` own parts; the same for
    the same seed."""
    chance = random.Random(f"{seed} {size}")
    drawn = own_numbers(size + count, seed)
    chance.shuffle(drawn)
    held = [drawn_bore(chance) for _ in drawn] if bores else []
    with tempfile.TemporaryDirectory() as folder:
        store, parts = fill(Path(folder) / "bench.xref", drawn[:size], held[:size])
        truths = [
            _Truth(number, group, bore)
            for (number, group), bore in zip(
                [*((p.number, p.group) for p in parts), *((d.number, "") for d in drawn[size:])],
                held or [0] * len(drawn),
                strict=True,
            )
        ]
        try:
            with store.reading() as conn:
                owners = read_numbers(conn, own_only=False).owners
                present = [t for t in truths if t.group and len(owners[folded(t.number)]) == 1]
                away = [t for t in truths if not t.group and folded(t.number) not in owners]
                for faults in COUNTS:
                    for _ in range(count):
                        some = away if chance.random() < ABSENT else present
                        yield conn, _case(some, faults, shares, chance)
                    print(f"{size:,}, {faults} faults done", file=sys.stderr, flush=True)
        finally:
            store.close()


def _case(
    truths: Sequence[_Truth], faults: int, shares: Mapping[str, float], chance: random.Random
) -> Case:
    while True:
        truth = chance.choice(truths)
        marked = _marked(truth.number, faults, shares, chance)
        if marked is not None:
            bore = read_bore(truth.bore, chance) if truth.bore else ""
            return Case(marked.mark, faults, truth.group, bore)


def _marked(
    number: str, count: int, shares: Mapping[str, float], chance: random.Random
) -> Marked | None:
    """The number with so many faults; without any, as it stands."""
    if not count:
        return Marked(folded(number), folded(number), ())
    return make_mark(number, count, shares, chance)
