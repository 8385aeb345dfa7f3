"""Parts that share their boundary dimensions, kind and type: counted, as part of the figures.

They stand in a table of their own, which a search by size looks through in place of the parts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sqlalchemy import Connection, delete, select, text

from xref.domain.part import BOUNDARY, StoredSize
from xref.store.tables.tables import boundary_class

CLASS_FIGURES = WEIGHT, COUNT = "class weight", "class count"
"""What the figures of a class are called among those of the population."""

Figures = Mapping[tuple[str, str], float]

_MOVE = text(
    "INSERT INTO boundary_class (bore, outside, width, kind, type, weight, parts) "
    "VALUES (:bore, :outside, :width, :kind, :type, :weight, :parts) "
    "ON CONFLICT (bore, outside, width, kind, type) DO UPDATE SET "
    "weight = boundary_class.weight + excluded.weight, "
    "parts = boundary_class.parts + excluded.parts"
)
_DROP = text(
    "DELETE FROM boundary_class WHERE bore = :bore AND outside = :outside AND width = :width "
    "AND kind = :kind AND type = :type AND parts < 1"
)


def class_figures(
    sizes: Mapping[str, StoredSize], kind: str, type_: str, weight: float
) -> dict[tuple[str, str], float]:
    """What one part adds to the figures of its class; nothing without a boundary dimension."""
    dimensions = [sizes[n].value if n in sizes else 0 for n in BOUNDARY]
    if not any(dimensions):
        return {}
    name = _name(dimensions, kind, type_)
    return {(WEIGHT, name): weight, (COUNT, name): 1}


def _name(dimensions: Sequence[int], kind: str, type_: str) -> str:
    return f"{','.join(map(str, dimensions))}|{kind}|{type_}"


def move_classes(conn: Connection, delta: Figures) -> None:
    """Add what ``delta`` says of classes to the stored ones; one of no parts is removed."""
    names = dict.fromkeys(value for what, value in delta if what in CLASS_FIGURES)
    if not names:
        return
    rows = [
        {
            **_key(name),
            "weight": delta.get((WEIGHT, name), 0.0),
            "parts": delta.get((COUNT, name), 0),
        }
        for name in names
    ]
    conn.execute(_MOVE, rows)
    fewer = [_key(name) for name in names if delta.get((COUNT, name), 0) < 0]
    if fewer:
        conn.execute(_DROP, fewer)


def _key(name: str) -> dict[str, object]:
    dimensions, kind, type_ = name.split("|", 2)
    sizes = dict(zip(BOUNDARY, map(int, dimensions.split(",")), strict=True))
    return {**sizes, "kind": kind, "type": type_}


def stored_classes(conn: Connection) -> dict[tuple[str, str], float]:
    """The figures of every stored class."""
    figures = {}
    for *dimensions, kind, type_, weight, parts in conn.execute(select(boundary_class)):
        name = _name(dimensions, kind, type_)
        figures[WEIGHT, name] = float(weight)
        figures[COUNT, name] = float(parts)
    return figures


def drop_classes(conn: Connection) -> None:
    """Remove every stored class."""
    conn.execute(delete(boundary_class))
