"""How often the right number comes first: xref beside two plain text distances."""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scripts.benches.faults import NO_LOOK_ALIKES, SHARES, Marked, kinds_of, make_mark
from scripts.benches.intervals import Place, counted, lead
from scripts.benches.rivals import Answer, Way, by_distance, by_wratio, by_xref, read_numbers
from scripts.benches.stores import full_store
from scripts.benches.tables import aligned
from xref.domain.number import folded
from xref.domain.part import Part

NAMES = ("xref", "WRatio", "edit distance")
CELLS: tuple[tuple[str, Mapping[str, float], int], ...] = (
    ("all kinds", SHARES, 1),
    ("all kinds", SHARES, 2),
    ("all kinds", SHARES, 3),
    ("no look-alikes", NO_LOOK_ALIKES, 1),
    ("no look-alikes", NO_LOOK_ALIKES, 2),
    ("no look-alikes", NO_LOOK_ALIKES, 3),
)


@dataclass(frozen=True, slots=True)
class Case:
    """One mark, the part it was made from, and what each way made of it."""

    marked: Marked
    number: str
    answers: tuple[Answer, ...]

    def places(self) -> tuple[Place, ...]:
        """The truth's place by each way, in the order of NAMES."""
        return tuple(answer.place for answer in self.answers)


@dataclass(frozen=True, slots=True)
class Plan:
    """What is asked for: marks a cell, the seed, whether the plain distances are spared the
    standards' rows, and how many lost marks to show."""

    cases: int
    seed: int
    own_only: bool
    examples: int
    cells: tuple[tuple[str, Mapping[str, float], int], ...] = CELLS


def measure(sizes: Sequence[int], plan: Plan) -> None:
    """Measure every cell at every size, and print."""
    told = ", ".join(f"{size:,}" for size in sizes)
    print(f"seed {plan.seed}, {plan.cases} marks a cell, stores of {told} own parts beside the")
    print("standards' rows. Right first and in ten in per cent with Wilson 95 % intervals; equals")
    print("share the places they stand on (each order is as likely). Truths are own parts, each of")
    print("its own letters and digits; look-alike pairs are those of the shipped table, drawn by")
    what = "own parts alone" if plan.own_only else "own parts and the standards' rows"
    print("other likelihoods. Leads are points of a hundred in right first, on the same marks.")
    print(f"xref searches everything; the plain distances search {what}.")
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            _measure_one(Path(folder) / "bench.xref", size, plan)


def _measure_one(path: Path, size: int, plan: Plan) -> None:
    store, parts = full_store(path, size, plan.seed)
    rows: list[list[str]] = []
    single: list[Case] = []
    every: list[Case] = []
    try:
        with store.reading() as conn:
            numbers = read_numbers(conn, plan.own_only)
            owners = read_numbers(conn, own_only=False).owners
            ways = (by_xref(conn), by_wratio(numbers), by_distance(numbers))
            alone = [p for p in parts if len(owners[folded(p.number)]) == 1]
            for name, shares, count in plan.cells:
                chance = random.Random(f"{plan.seed} {name} {count}")
                done = _cell(alone, ways, (shares, count, plan.cases), chance)
                rows.append([name, str(count), *_figures(done)])
                every += done
                print(f"{size:,}, {name}, {count}:", *rows[-1][2:5], file=sys.stderr, flush=True)
                single += done if count == 1 else []
    finally:
        store.close()
    print(f"\n{size:,} own parts, {len(owners):,} different texts in the store")
    print(aligned([["faults", "count", *_heads()], *rows]))
    print("\nmarks with one fault, by its kind (both columns of cells together)")
    print(aligned([["kind", "", *_heads()], *_by_kind(single)]))
    _print_times(every)
    _print_lost(every, plan.examples)


def _cell(
    parts: Sequence[Part],
    ways: Sequence[Way],
    drawn: tuple[Mapping[str, float], int, int],
    chance: random.Random,
) -> list[Case]:
    shares, count, cases = drawn
    done: list[Case] = []
    while len(done) < cases:
        truth = chance.choice(parts)
        marked = make_mark(truth.number, count, shares, chance)
        if marked is not None:
            answers = tuple(way(marked.mark, truth.group) for way in ways)
            done.append(Case(marked, truth.number, answers))
    return done


def _heads() -> list[str]:
    leads = [f"lead on {name}" for name in NAMES[1:]]
    return [*(f"{n} first" for n in NAMES), *(f"{n} ten" for n in NAMES), *leads, "n"]


def _figures(cases: Sequence[Case]) -> list[str]:
    by_way = list(zip(*(case.places() for case in cases), strict=True))
    shares = [counted(places, most) for most in (1, 10) for places in by_way]
    return [*shares, *(lead(by_way[0], other) for other in by_way[1:]), str(len(cases))]


def _by_kind(cases: Sequence[Case]) -> list[list[str]]:
    rows = []
    for kind in kinds_of([case.marked for case in cases]):
        of_kind = [case for case in cases if case.marked.kinds == (kind,)]
        rows.append([kind, "", *_figures(of_kind)])
    return rows


def _print_times(cases: Sequence[Case]) -> None:
    medians = [
        statistics.median(case.answers[at].seconds for case in cases) for at in range(len(NAMES))
    ]
    told = ", ".join(
        f"{name} {1000 * took:.0f} ms ({took / medians[0]:.2f})"
        for name, took in zip(NAMES, medians, strict=True)
    )
    print(f"\nmedian time of a query, and as a ratio to xref's: {told}")
    print("(xref reads its store for every query; the others search a list that lies ready)")


def _print_lost(cases: Sequence[Case], most: int) -> None:
    """Where another way put the truth clearly before xref did."""
    rows = []
    for case in cases:
        own, *others = case.places()
        behind = max(other.within(1) for other in others) - own.within(1)
        if behind >= 0.5:
            rows.append((behind, own.rank, case))
    rows.sort(key=lambda row: (-row[0], -row[1]))
    print(f"\nmarks that another way got right first and xref did not: {len(rows)}")
    table = [["mark", "truth", "faults", *(f"{n} rank" for n in NAMES), "xref's first"]]
    for _, _, case in rows[:most]:
        ranks = [f"{place.rank:g}" for place in case.places()]
        kinds = "+".join(case.marked.kinds)
        table.append([case.marked.mark, case.number, kinds, *ranks, case.answers[0].first])
    if len(table) > 1:
        print(aligned(table))
