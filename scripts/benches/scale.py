"""How time, memory and size on disk grow with the store."""

from __future__ import annotations

import math
import multiprocessing
import random
import resource
import statistics
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from scripts.benches.diagram import Line, growth_svg
from scripts.benches.faults import SHARES, make_mark
from scripts.benches.stores import full_store
from scripts.benches.tables import aligned
from xref.services.identify.run import identify
from xref.services.question import Asked, understand
from xref.store.open.engine import open_engine

FAULTS_MOST = 3


@dataclass(frozen=True, slots=True)
class Point:
    """One store: own parts, seconds a warm query, bytes of memory at most, bytes on disk."""

    size: int
    median: float
    slow: float
    memory: int
    disk: int


def measure(sizes: Sequence[int], cases: int, seed: int, svg: Path | None) -> None:
    """Print a row for each size, how each figure grows, and draw it where ``svg`` says."""
    points = [_point(size, cases, seed) for size in sizes]
    table = [["own parts", "median ms", "95 % under ms", "memory MB", "on disk MB", "queries"]]
    table += [
        [
            f"{p.size:,}",
            f"{1000 * p.median:.1f}",
            f"{1000 * p.slow:.1f}",
            f"{p.memory / 1e6:.0f}",
            f"{p.disk / 1e6:.1f}",
            str(cases),
        ]
        for p in points
    ]
    print(f"seed {seed}; a whole answer to one mark with one to {FAULTS_MOST} faults, warm, one")
    print("process a store; memory is the most that process ever held, Python and all")
    print(aligned(table))
    for before, after in pairwise(points):
        print(
            f"store × {after.size / before.size:.0f}: time × {after.median / before.median:.2f}, "
            f"memory × {after.memory / before.memory:.2f}, disk × {after.disk / before.disk:.2f}"
        )
    if svg:
        svg.write_text(growth_svg([point.size for point in points], _lines(points)), "utf-8")
        print(f"drawn to {svg}")


def _lines(points: Sequence[Point]) -> list[Line]:
    return [
        Line("milliseconds a query, median", [1000 * p.median for p in points]),
        Line("megabytes of memory", [p.memory / 1e6 for p in points]),
        Line("megabytes on disk", [p.disk / 1e6 for p in points]),
    ]


def _point(size: int, cases: int, seed: int) -> Point:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bench.xref"
        store, own = full_store(path, size, seed)
        store.close()
        chance = random.Random(f"{seed} {size}")
        marks: list[str] = []
        while len(marks) < cases:
            truth = chance.choice(own)
            made = make_mark(truth.number, 1 + len(marks) % FAULTS_MOST, SHARES, chance)
            if made is not None:
                marks.append(made.mark)
        del own
        # A process of its own: what the filling took is no part of what searching takes.
        with multiprocessing.get_context("spawn").Pool(1) as pool:
            took, memory = pool.apply(_searched, (path, marks))
        slow = took[math.ceil(0.95 * len(took)) - 1]
        return Point(size, statistics.median(took), slow, memory, path.stat().st_size)


def _searched(path: Path, marks: Sequence[str]) -> tuple[list[float], int]:
    """Seconds of every query, shortest first, and the most memory that was held."""
    store = open_engine(path)
    took = []
    with store.reading() as conn:
        queries = [understand(Asked(marks=[mark])) for mark in marks]
        for query in queries:
            identify(conn, query)
        for query in queries:
            start = time.perf_counter()
            identify(conn, query)
            took.append(time.perf_counter() - start)
    store.close()
    return sorted(took), _held_at_most()


def _held_at_most() -> int:
    """Bytes. Linux alone tells it for this program; elsewhere it may be that of the one before."""
    status = Path("/proc/self/status")
    if status.exists():
        line = next(line for line in status.read_text().splitlines() if line.startswith("VmHWM"))
        return int(line.split()[1]) * 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
