"""Which parts are worth scoring for sizes: distinct boundary dimensions first, parts only then."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    FromClause,
    Null,
    Table,
    func,
    null,
    select,
    tuple_,
)

from xref.domain.part import BOUNDARY, StoredSize
from xref.store.read.load import pieces
from xref.store.tables.tables import boundary, boundary_class, mark, part, size, spelling

T = TypeVar("T")
V = TypeVar("V")

Dimensions = tuple[int, ...]
"""Bore, outside and width in nanometres, 0 where not known."""


class BoundaryClass(NamedTuple):
    """All parts of one kind and type that share their boundary dimensions.

    Dimensions in nanometres, 0 where not known; their weight together, and their count.
    """

    bore: int
    outside: int
    width: int
    kind: str
    type: str
    weight: float
    parts: int

    @property
    def dimensions(self) -> Dimensions:
        """Bore, outside and width, 0 where not known."""
        return (self.bore, self.outside, self.width)

    @property
    def sizes(self) -> dict[str, int]:
        """The dimensions that are known, by name."""
        return {n: v for n, v in zip(BOUNDARY, self.dimensions, strict=True) if v}


class Window(NamedTuple):
    """Values of one boundary dimension in nanometres, of parts of some kinds (None: of all)."""

    name: str
    low: int
    high: int
    kinds: tuple[str, ...] | None = None


@dataclass(frozen=True, slots=True)
class SpellingRow:
    """One spelling with the prior weight of the thing that is written so."""

    part_id: int
    group: str
    folded: str
    weight: float
    takes_suffix: bool
    part_weight: float


def boundary_classes(conn: Connection, windows: Sequence[Window]) -> list[BoundaryClass]:
    """The classes of which at least one dimension lies in one of the windows."""
    if not windows:
        return []
    # As the driver takes it: to put the same together of expressions takes as long as the search.
    place = "?" if conn.dialect.paramstyle == "qmark" else "%s"
    tests = " OR ".join(_within(window, place) for window in windows)
    query = f"SELECT {', '.join(BoundaryClass._fields)} FROM boundary_class WHERE {tests}"
    kinds = tuple(kind for window in windows for kind in window.kinds or ())
    return list(map(BoundaryClass._make, conn.exec_driver_sql(query, kinds).all()))


def _within(window: Window, place: str) -> str:
    """A window as SQL, with a ``place`` for each of its kinds."""
    inside = f"{window.name} BETWEEN {window.low} AND {window.high}"
    if window.kinds is None:
        return f"({inside})"
    return f"({inside} AND kind IN ({', '.join([place] * len(window.kinds))}))"


def parts_on_dimensions(conn: Connection, many: Sequence[Dimensions]) -> list[int]:
    """Ids of the parts that have one of these boundary dimensions (0 = not known)."""
    three = tuple_(*(boundary.c[name] for name in BOUNDARY))
    ids = [
        ident
        for some in pieces(many)
        for ident in conn.scalars(select(boundary.c.id).where(three.in_(some)))
    ]
    return _among(conn, part.c.id, part.c.boundary_id, ids)


def parts_with_size(
    conn: Connection, name: str, window: tuple[int, int], most: int, kind: str = ""
) -> list[int]:
    """Ids of at most ``most`` parts whose other size ``name`` lies in the window, nearest first.

    Nearest is to the middle of the window. ``kind`` "" is any kind.
    """
    low, high = window
    middle = (low + high) // 2
    query = select(size.c.part_id).where(size.c.name == name, size.c.value.between(low, high))
    if kind:
        query = query.join(part, part.c.id == size.c.part_id).where(part.c.kind == kind)
    query = query.order_by(func.abs(size.c.value - middle), size.c.part_id).limit(most)
    return list(conn.scalars(query))


class SetOfSizes(NamedTuple):
    """Parts of one kind and type that have the same sizes of some names.

    ``sizes`` by name, with their limits where such are on record; the parts' weight together, and
    their count.
    """

    sizes: dict[str, StoredSize]
    kind: str
    type: str
    weight: float
    parts: int


class _Held(NamedTuple):
    """Where sizes of some names stand: their columns, what to ask, and how to weigh and count."""

    columns: Mapping[str, ColumnElement[Any]]
    limits: Mapping[str, tuple[ColumnElement[Any], ColumnElement[Any]]]
    owner: Table
    source: FromClause
    weight: ColumnElement[float]
    parts: ColumnElement[int]


def _held(names: Sequence[str]) -> _Held:
    if all(name in BOUNDARY for name in names):
        held = {name: boundary_class.c[name] for name in names}
        weight, parts = boundary_class.c.weight, boundary_class.c.parts
        return _Held(held, {}, boundary_class, boundary_class, func.sum(weight), func.sum(parts))
    columns: dict[str, ColumnElement[Any]] = {}
    limits: dict[str, tuple[ColumnElement[Any], ColumnElement[Any]]] = {}
    source: FromClause = part
    for name in names:
        if name not in BOUNDARY:
            one = size.alias()
            source = source.join(one, (one.c.part_id == part.c.id) & (one.c.name == name))
            columns[name] = one.c.value
            limits[name] = (one.c.lower, one.c.upper)
    if len(columns) < len(names):
        source = source.join(boundary, boundary.c.id == part.c.boundary_id)
        columns |= {name: boundary.c[name] for name in names if name in BOUNDARY}
    return _Held(columns, limits, part, source, func.sum(part.c.weight), func.count())


def sets_of_sizes(conn: Connection, windows: Mapping[str, tuple[int, int]]) -> list[SetOfSizes]:
    """The sets of sizes in which each size named lies within its window, in nanometres."""
    held = _held(list(windows))
    unlimited = (null(), null())
    shared: list[ColumnElement[Any]] = [held.owner.c.kind, held.owner.c.type]
    for name in windows:
        shared += [held.columns[name], *held.limits.get(name, unlimited)]
    query = select(held.weight, held.parts, *shared).select_from(held.source)
    query = query.where(*(held.columns[n].between(low, high) for n, (low, high) in windows.items()))
    grouped = query.group_by(*(column for column in shared if not isinstance(column, Null)))
    found = []
    for weight, parts, kind, type_, *rest in map(tuple, conn.execute(grouped)):
        each = {n: StoredSize(*rest[3 * i : 3 * i + 3]) for i, n in enumerate(windows)}
        found.append(SetOfSizes(each, kind, type_, float(weight), parts))
    return found


def weights_of_types(
    conn: Connection, names: Sequence[str], window: tuple[int, int] | None = None
) -> dict[tuple[str, str], float]:
    """The weight of the parts of each kind and type that have sizes of all ``names`` on record,
    the first of them within ``window`` (nanometres; None: any)."""
    held = _held(names)
    shared = [held.owner.c.kind, held.owner.c.type]
    low, high = window or (1, None)
    query = select(*shared, held.weight).select_from(held.source).group_by(*shared)
    query = query.where(*(held.columns[name] > 0 for name in names))
    first = held.columns[names[0]]
    query = query.where(first >= low) if high is None else query.where(first.between(low, high))
    return {(row[0], row[1]): float(row[2]) for row in conn.execute(query)}


def group_members(conn: Connection, part_ids: Sequence[int]) -> list[int]:
    """Ids of every part that is the same physical thing as one of ``part_ids``."""
    groups = _among(conn, part.c.group_key, part.c.id, part_ids)
    return _among(conn, part.c.id, part.c.group_key, list(dict.fromkeys(groups)))


def _among(conn: Connection, wanted: Column[T], column: Column[V], values: Sequence[V]) -> list[T]:
    """``wanted`` of every part whose ``column`` holds one of ``values``."""
    return [
        found
        for piece in pieces(values)
        for found in conn.scalars(select(wanted).where(column.in_(piece)))
    ]


def spelling_rows(conn: Connection, ids: Sequence[int]) -> list[SpellingRow]:
    """The spellings with these ids, each with its part's group and weight."""
    found: list[SpellingRow] = []
    for piece in pieces(ids):
        query = (
            select(
                spelling.c.part_id,
                part.c.group_key,
                spelling.c.folded,
                spelling.c.weight,
                spelling.c.takes_suffix,
                part.c.weight,
            )
            .join(part, part.c.id == spelling.c.part_id)
            .where(spelling.c.id.in_(piece))
        )
        found.extend(SpellingRow(*row) for row in conn.execute(query))
    return found


def casting_marks(conn: Connection) -> list[tuple[int, str, float]]:
    """Every casting mark on record: part id, folded text, weight of the part."""
    query = (
        select(mark.c.part_id, mark.c.folded, part.c.weight)
        .join(part, part.c.id == mark.c.part_id)
        .where(mark.c.role == "casting")
    )
    return [(ident, text, float(weight)) for ident, text, weight in conn.execute(query)]
