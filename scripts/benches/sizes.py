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
from xref.domain.population import Population
from xref.domain.query import Query
from xref.services.identify.gather_sizes import size_parts, size_scales, windows
from xref.services.question import Asked, understand
from xref.store.index.near import Window, boundary_classes
from xref.store.index.tally import population, rewrite_tally, tally_of
from xref.store.open.engine import Store
from xref.store.read.load import every_part
from xref.store.tables.tables import boundary, part

ASKED = (BOUNDARY, ("bore", "outside"), ("bore",), ("outside",), ("width",))
OWN_DIMENSIONS = 20_000
"""Boundary dimensions that no standard has, beside those that the standards have. Judged."""
BATCH = 50_000
Dimensions = tuple[int, int, int]


def measure(counts: Sequence[int], cases: int, seed: int) -> None:
    """Print, for each size of store, the median time of each way by what is known."""
    print(f"seed {seed}, {cases} queries a row, median ms, warm; every part has three dimensions")
    print("classes: the counted dimensions that lie in the windows of their kind; gathered: the")
    print("whole step, windows, ranking and ids of parts too; rows: the same windows asked of a")
    print("table of all parts with their dimensions and an index on each")
    for count in counts:
        with tempfile.TemporaryDirectory() as folder:
            store, _ = full_store(Path(folder) / "bench.xref", count, seed)
            try:
                chance = random.Random(seed)
                held = _give_sizes(store, count, chance)
                _flat(store)
                print(f"\n{count:,} own parts, {len(held):,} distinct boundary dimensions")
                with store.reading() as conn:
                    print(aligned(list(_compared(conn, held, cases, chance))))
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
        rewrite_tally(conn, tally_of(every_part(conn)))
        unit.commit()
    return [*held, *drawn]


def _flat(store: Store) -> None:
    """Every part with its dimensions in one table, each with its index."""
    with store.writing("the other way") as unit:
        names = ", ".join(BOUNDARY)
        unit.conn.execute(
            text(
                f"CREATE TABLE flat AS SELECT part.id AS part_id, kind, {names} FROM part "
                "JOIN boundary ON boundary.id = part.boundary_id"
            )
        )
        for name in BOUNDARY:
            unit.conn.execute(text(f"CREATE INDEX flat_{name} ON flat ({name}, kind)"))
        unit.conn.execute(text("ANALYZE flat"))
        unit.conn.commit()


def _compared(
    conn: Connection, held: Sequence[Dimensions], cases: int, chance: random.Random
) -> Iterator[list[str]]:
    yield [
        "known",
        "windows hold",
        "classes",
        "gathered",
        "rows",
        "rows / classes",
        "rows / gathered",
    ]
    model, figures = Model(), population(conn)
    for names in ASKED:
        took: list[tuple[float, ...]] = []
        for _ in range(cases):
            truth = dict(zip(BOUNDARY, chance.choice(held), strict=True))
            sizes = {name: f"{(truth[name] + 30_000) / 1e6:.2f} mm" for name in names}
            query = understand(Asked(sizes=sizes))
            some = _windows(conn, query, model)
            took.append(
                (
                    len(_flat_rows(conn, some)),
                    _timed(lambda: boundary_classes(conn, some)),  # noqa: B023
                    _timed(lambda: _gathered(conn, query, figures, model)),  # noqa: B023
                    _timed(lambda: _flat_rows(conn, some)),  # noqa: B023
                )
            )
        count, classes, gathered, rows = map(statistics.median, zip(*took, strict=True))
        cells = [f"{1000 * seconds:.1f}" for seconds in (classes, gathered, rows)]
        ratios = [f"{rows / classes:.1f}", f"{rows / gathered:.1f}"]
        yield ["+".join(names), f"{count:,.0f}", *cells, *ratios]


def _windows(conn: Connection, query: Query, model: Model) -> list[Window]:
    figures = population(conn)
    scales = size_scales(conn, query, figures)
    return list(windows(query, scales, {p.kind for p in figures.patterns}, model))


def _gathered(conn: Connection, query: Query, figures: Population, model: Model) -> None:
    size_parts(conn, query, size_scales(conn, query, figures), figures, model)


def _flat_rows(conn: Connection, some: Sequence[Window]) -> Sequence[object]:
    tests = []
    for window in some:
        kinds = ", ".join(f"'{kind}'" for kind in window.kinds or ())
        test = f"{window.name} BETWEEN {window.low} AND {window.high} AND kind IN ({kinds})"
        tests.append(f"({test})")
    found = f"SELECT part_id, bore, outside, width FROM flat WHERE {' OR '.join(tests)}"
    return conn.execute(text(found)).fetchall()


def _timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
