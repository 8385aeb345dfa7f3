"""Boundary dimensions at scale: distinct dimensions first, beside a range query over all parts."""

from __future__ import annotations

import random
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from sqlalchemy import Connection, bindparam, func, insert, select, text, update

from scripts.benches.stores import full_store
from scripts.benches.tables import aligned
from xref.domain.model import Model
from xref.domain.part import BOUNDARY
from xref.domain.query import Query
from xref.services import gather
from xref.services.query import Asked, understand
from xref.store.engine import Store
from xref.store.near import boundary_classes
from xref.store.tables import boundary, part

ASKED = (BOUNDARY, ("bore", "outside"), ("bore",), ("outside",), ("width",))
OWN_DIMENSIONS = 20_000
"""Boundary dimensions that no standard has, beside those that the standards have. Judged."""
BATCH = 50_000
Dimensions = tuple[int, int, int]


def measure(counts: Sequence[int], cases: int, seed: int) -> None:
    """Print, for each size of store, the median time of each way by what is known."""
    print(f"seed {seed}, {cases} queries a row, median ms, warm; every part has three dimensions")
    print("classes: distinct dimensions in the windows, with their parts counted; gathered: the")
    print("whole step, scales and ranking too; any: a table of all parts with an index on each")
    print("dimension, rows with any one in its window; all: rows with every one in its window")
    for count in counts:
        with tempfile.TemporaryDirectory() as folder:
            store, _ = full_store(Path(folder) / "bench.xref", count, seed)
            try:
                chance = random.Random(seed)
                held = _give_sizes(store, count, chance)
                _flat(store)
                print(f"\n{count:,} own parts, {len(held):,} distinct boundary dimensions")
                with store.reading() as conn:
                    print(aligned(list(_rows(conn, held, cases, chance))))
            finally:
                store.close()


def _give_sizes(store: Store, count: int, chance: random.Random) -> list[Dimensions]:
    """Give every own part boundary dimensions, half of them standard ones."""
    with store.writing("sizes to measure by") as unit:
        conn = unit.conn
        found = select(boundary.c.id, boundary.c.bore, boundary.c.outside, boundary.c.width)
        held = {(b, o, w): ident for ident, b, o, w in conn.execute(found) if b and o and w}
        standard = list(held.values())
        first = (conn.scalar(select(func.max(boundary.c.id))) or 0) + 1
        drawn: dict[Dimensions, int] = {}
        while len(drawn) < min(OWN_DIMENSIONS, count):
            bore = chance.randrange(5, 200) * 500_000
            outside = bore + chance.randrange(10, 150) * 500_000
            dimensions = (bore, outside, chance.randrange(6, 120) * 500_000)
            if dimensions not in held:
                drawn.setdefault(dimensions, first + len(drawn))
        conn.execute(
            insert(boundary),
            [{"id": i, **dict(zip(BOUNDARY, d, strict=True))} for d, i in drawn.items()],
        )
        own = list(drawn.values())
        ids = list(conn.scalars(select(part.c.id).where(part.c.origin == "store")))
        change = (
            update(part).where(part.c.id == bindparam("row")).values(boundary_id=bindparam("on"))
        )
        rows = [
            {"row": i, "on": chance.choice(standard if chance.random() < 0.5 else own)} for i in ids
        ]
        for start in range(0, len(rows), BATCH):
            conn.execute(change, rows[start : start + BATCH])
        unit.commit()
    return [*held, *drawn]


def _flat(store: Store) -> None:
    """Every part with its dimensions in one table, each with its index."""
    with store.writing("the other way") as unit:
        names = ", ".join(BOUNDARY)
        unit.conn.execute(
            text(f"CREATE TABLE flat AS SELECT part.id AS part_id, {names} FROM part "
                 "JOIN boundary ON boundary.id = part.boundary_id")
        )  # fmt: skip
        for name in BOUNDARY:
            unit.conn.execute(text(f"CREATE INDEX flat_{name} ON flat ({name})"))
        unit.conn.execute(text("ANALYZE flat"))
        unit.conn.commit()


def _rows(
    conn: Connection, held: Sequence[Dimensions], cases: int, chance: random.Random
) -> Iterator[list[str]]:
    yield ["known", "classes", "gathered", "any", "all", "any / classes", "all / gathered"]
    model = Model()
    for names in ASKED:
        took: list[tuple[float, ...]] = []
        for _ in range(cases):
            truth = dict(zip(BOUNDARY, chance.choice(held), strict=True))
            sizes = {name: f"{(truth[name] + 30_000) / 1e6:.2f} mm" for name in names}
            query = understand(Asked(sizes=sizes))
            windows = {name: gather.window(reading) for name, reading in query.sizes.items()}
            took.append(
                (
                    _timed(lambda: boundary_classes(conn, windows)),  # noqa: B023
                    _timed(lambda: _gathered(conn, query, model)),  # noqa: B023
                    _timed(lambda: _ranged(conn, windows, " OR ")),  # noqa: B023
                    _timed(lambda: _ranged(conn, windows, " AND ")),  # noqa: B023
                )
            )
        classes, gathered, some, every = map(statistics.median, zip(*took, strict=True))
        cells = [f"{1000 * seconds:.1f}" for seconds in (classes, gathered, some, every)]
        yield ["+".join(names), *cells, f"{some / classes:.1f}", f"{every / gathered:.1f}"]


def _gathered(conn: Connection, query: Query, model: Model) -> None:
    gather.size_parts(conn, query, gather.size_scales(conn, query), model)


def _ranged(conn: Connection, windows: dict[str, tuple[int, int]], joined: str) -> None:
    tests = joined.join(f"{name} BETWEEN {low} AND {high}" for name, (low, high) in windows.items())
    conn.execute(text(f"SELECT part_id, bore, outside, width FROM flat WHERE {tests}")).fetchall()


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
