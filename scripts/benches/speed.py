"""The shortlist against scoring every number: what it lets through, how fast, and what it costs."""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rapidfuzz import fuzz, process
from rapidfuzz.distance import OSA
from sqlalchemy import Connection, select

from scripts.benches.faults import NO_LOOK_ALIKES, SHARES, make_mark
from scripts.benches.stores import full_store
from scripts.benches.tables import aligned
from xref.domain.mark import read_mark
from xref.domain.model import Model
from xref.domain.part import Part
from xref.domain.population import Population
from xref.services.identify.evidence.marks import Readable, costs_of, differs_bits, readables
from xref.services.identify.gather import mark_parts
from xref.services.parts import part as parts
from xref.store.index.scan import fold_in, lay_out_all
from xref.store.index.shortlist import nearest_spellings
from xref.store.index.tally import population
from xref.store.open.engine import Store
from xref.store.tables.tables import part, spelling

TEN = 10
TIE = 1e-9
CELLS = tuple(
    (name, shares, count)
    for name, shares in (("all kinds", SHARES), ("no look-alikes", NO_LOOK_ALIKES))
    for count in (1, 2, 3)
)
Row = tuple[int, str, float, bool, str]
"""Id, folded text, weight, takes a suffix, group."""


@dataclass(frozen=True, slots=True)
class Took:
    """Seconds that each way took on one mark."""

    search: float
    distance: float
    wratio: float


def in_ten(bits: dict[str, float], truth: str) -> float:
    """The chance that ``truth`` stands among the first ten; equals share their places."""
    if truth not in bits:
        return 0.0
    own = bits[truth]
    better = sum(value > own + TIE for value in bits.values())
    equals = sum(abs(value - own) <= TIE for value in bits.values())
    return max(0.0, min(1.0, (TEN - better) / equals))


def measure(sizes: Sequence[int], cases: int, seed: int) -> None:
    """Print, for each size, what is let through beside the ceiling, the times and the costs."""
    print(f"seed {seed}, {cases} marks a cell; the ceiling scores every spelling by the same model")
    for size in sizes:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "bench.xref"
            start = time.perf_counter()
            store, own = full_store(path, size, seed)
            filled = time.perf_counter() - start
            try:
                print(f"\n{size:,} own parts")
                _recall_and_times(store, own, cases, seed)
                _costs(store, filled)
            finally:
                store.close()


def _recall_and_times(store: Store, own: Sequence[Part], cases: int, seed: int) -> None:
    model = costs_of(Model())
    took: list[Took] = []
    table = [["faults", "count", "ceiling in ten", "let through", "share", "n"]]
    with store.reading() as conn:
        rows = _rows(conn)
        texts = [row[1] for row in rows]
        known = population(conn)
        for name, shares, count in CELLS:
            chance = random.Random(f"{seed} {name} {count}")
            ceiling = reached = 0.0
            for _ in range(cases):
                truth, mark = _drawn(own, count, shares, chance)
                ways = readables([read_mark(mark)], model, known)
                _, _, ways = mark_parts(conn, ways, known, model)
                every = _best(rows, ways, model)
                let = set(nearest_spellings(conn, [way.reading.mark for way in ways]))
                ceiling += in_ten(every, truth.group)
                reached += in_ten(_best([r for r in rows if r[0] in let], ways, model), truth.group)
                took.append(_times(conn, mark, ways, known, model, texts))
            share = reached / ceiling if ceiling else 1.0
            figures = [f"{100 * x:.1f}" for x in (ceiling / cases, reached / cases, share)]
            table.append([name, str(count), *figures, str(cases)])
    print(aligned(table))
    _print_times(took)


def _rows(conn: Connection) -> list[Row]:
    query = select(
        spelling.c.id,
        spelling.c.folded,
        spelling.c.weight,
        spelling.c.takes_suffix,
        part.c.group_key,
    ).join(part, part.c.id == spelling.c.part_id)
    return [(r[0], r[1], r[2], bool(r[3]), r[4]) for r in conn.execute(query)]


def _drawn(
    own: Sequence[Part], count: int, shares: Mapping[str, float], chance: random.Random
) -> tuple[Part, str]:
    while True:
        truth = chance.choice(own)
        marked = make_mark(truth.number, count, shares, chance)
        if marked is not None:
            return truth, marked.mark


def _best(rows: Sequence[Row], ways: Sequence[Readable], model: Model) -> dict[str, float]:
    """The bits of each group by its best spelling and reading."""
    best: dict[str, float] = {}
    for _, text, weight, takes_suffix, group in rows:
        bits = max(w.bits + differs_bits(w, text, weight, takes_suffix, model) for w in ways)
        if bits > best.get(group, float("-inf")):
            best[group] = bits
    return best


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _times(
    conn: Connection,
    mark: str,
    ways: Sequence[Readable],
    known: Population,
    model: Model,
    texts: Sequence[str],
) -> Took:
    wanted = mark.replace("*", "")
    return Took(
        _timed(lambda: mark_parts(conn, ways, known, model)),
        _timed(lambda: process.extract(wanted, texts, scorer=OSA.distance, limit=TEN)),
        _timed(lambda: process.extract(wanted, texts, scorer=fuzz.WRatio, limit=TEN)),
    )


def _print_times(took: Sequence[Took]) -> None:
    for word, pick in (("median", 0.5), ("95 % under", 0.95)):
        search, distance, wratio = (
            sorted(values)[int(pick * len(values))]
            for values in zip(*((t.search, t.distance, t.wratio) for t in took), strict=True)
        )
        print(
            f"{word}: mark search {1000 * search:.1f} ms; edit distance over all ready texts "
            f"{1000 * distance:.1f} ms (× {distance / search:.1f}); WRatio {1000 * wratio:.1f} ms "
            f"(× {wratio / search:.1f})"
        )


def _costs(store: Store, filled: float) -> None:
    with store.writing("lay out again") as unit:
        laid_out = _timed(lambda: lay_out_all(unit.conn))
    added, kept = [], []
    for at in range(30):
        with store.writing("add one") as unit:
            added.append(_timed(lambda: parts.add(unit, f"ZZ-{at}-90210")))  # noqa: B023
            kept.append(_timed(lambda: fold_in(unit.conn)))
            added[-1] += _timed(unit.commit)
    with store.reading() as conn:
        told = conn.exec_driver_sql("SELECT name, sum(pgsize) FROM dbstat GROUP BY name")
        sizes: dict[str, int] = {row[0]: row[1] for row in told}
    scan = sum(size for name, size in sizes.items() if "scan_" in name)
    whole, bare = sum(sizes.values()), sizes["part"]
    print(f"filling {filled:.1f} s, of that laying out {laid_out:.2f} s ({laid_out / filled:.2f})")
    print(
        f"one part added: median {1000 * statistics.median(added):.1f} ms, of that for the scan "
        f"{1000 * statistics.median(kept):.2f} ms"
    )
    print(
        f"store {whole / 1e6:.1f} MB, bare parts table {bare / 1e6:.1f} MB (× {whole / bare:.1f}), "
        f"planes {scan / 1e6:.1f} MB"
    )
