"""The population in figures: what every write adds to it or takes from it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence

from sqlalchemy import Connection, delete, select, text

from xref.domain.number import folded
from xref.domain.part import Part
from xref.domain.population import Pattern, Population
from xref.domain.shape import shape
from xref.domain.words import split_words
from xref.store.classes import (
    CLASS_FIGURES,
    class_figures,
    drop_classes,
    move_classes,
    stored_classes,
)  # fmt: skip
from xref.store.load import load_parts, pieces
from xref.store.tables import part, tally

COUNTED_SPELLING = 0.3
"""Spellings rarer than this do not count among the characters people look for. Judged."""

Key = tuple[str, str]

_MOVE = text(
    "INSERT INTO tally (what, value, weight) VALUES (:what, :value, :weight) "
    "ON CONFLICT (what, value) DO UPDATE SET weight = tally.weight + excluded.weight"
)
_DROP = text("DELETE FROM tally WHERE what = :what AND value = :value AND weight < 1e-9")


def group_tally(records: Sequence[Part]) -> Counter[Key]:
    """What one physical thing counts for: its pattern once, with its heaviest record's weight."""
    counts: Counter[Key] = Counter()
    if not records:
        return counts
    heaviest = sorted(records, key=lambda p: (-p.weight, p.id))
    kind = next((p.kind for p in heaviest if p.kind), "")
    sizes = sorted({name for p in records for name in p.sizes})
    described = any(p.words for p in records)
    pattern = "|".join((kind, ",".join(sizes), "w" if described else ""))
    counts["pattern", pattern] += heaviest[0].weight  # type: ignore[assignment]
    for record in records:
        counts["things", ""] += 1
        if not record.is_standard:
            counts["shape", f"{shape(record.number)[:80]}|{record.maker[:100]}"] += 1
        _count_texts(record, counts)
        counts.update(class_figures(record.sizes, record.kind, record.type, record.weight))
        for name in record.sizes:
            counts[size_figure(record.kind, name)] += record.weight  # type: ignore[assignment]
    return counts


def size_figure(kind: str, name: str) -> Key:
    """What the weight of the parts of ``kind`` with a size ``name`` on record is called."""
    return "size", f"{kind}|{name}"


def _count_texts(record: Part, counts: Counter[Key]) -> None:
    for spelled in record.spellings:
        if spelled.weight >= COUNTED_SPELLING:
            for char in folded(spelled.text):
                counts["char", char] += 1
    if record.words:
        counts["described", ""] += 1
        for word in split_words(record.words):
            counts["word", word[:100]] += 1


def groups_tally(conn: Connection, groups: Iterable[str]) -> Counter[Key]:
    """What these groups count for as they stand in the store now."""
    ids = [
        ident
        for some in pieces(list(groups))
        for ident in conn.scalars(select(part.c.id).where(part.c.group_key.in_(some)))
    ]
    return tally_of(load_parts(conn, ids))


def tally_of(parts: Iterable[Part]) -> Counter[Key]:
    """What all these parts count for together."""
    grouped: dict[str, list[Part]] = defaultdict(list)
    for record in parts:
        grouped[record.group].append(record)
    total: Counter[Key] = Counter()
    for records in grouped.values():
        total.update(group_tally(records))
    return total


def add_tally(conn: Connection, delta: Counter[Key]) -> None:
    """Add ``delta`` to the stored figures; a figure that comes to nothing is removed."""
    moved = {key: amount for key, amount in delta.items() if abs(amount) > 1e-9}
    if not moved:
        return
    move_classes(conn, moved)
    rows = [
        {"what": what, "value": value, "weight": float(amount)}
        for (what, value), amount in moved.items()
        if what not in CLASS_FIGURES
    ]
    if rows:
        conn.execute(_MOVE, rows)
    fewer = [row for row in rows if row["weight"] < 0]  # type: ignore[operator]
    if fewer:
        conn.execute(_DROP, fewer)


def rewrite_tally(conn: Connection, whole: Counter[Key]) -> None:
    """Put ``whole`` in place of all stored figures."""
    conn.execute(delete(tally))
    drop_classes(conn)
    add_tally(conn, whole)


def stored_tally(conn: Connection) -> dict[Key, float]:
    """All stored figures, as ``tally_of`` would make them of the parts."""
    figures = {
        (what, value): weight
        for what, value, weight in conn.execute(select(tally.c.what, tally.c.value, tally.c.weight))
    }
    return figures | stored_classes(conn)


def population(conn: Connection) -> Population:
    """The stored figures as the domain's Population."""
    patterns: dict[Pattern, float] = {}
    characters: dict[str, float] = {}
    words: dict[str, float] = {}
    sized: dict[tuple[str, str], float] = {}
    single = {"described": 0.0, "things": 0.0}
    figures = select(tally.c.what, tally.c.value, tally.c.weight).where(tally.c.what != "shape")
    for what, value, weight in conn.execute(figures):
        if what == "pattern":
            kind, sizes, described = value.split("|")
            named = frozenset(s for s in sizes.split(",") if s)
            patterns[Pattern(kind, named, bool(described))] = weight
        elif what == "size":
            kind, name = value.split("|")
            sized[kind, name] = weight
        elif what == "char":
            characters[value] = weight
        elif what == "word":
            words[value] = weight
        else:
            single[what] = weight
    things = round(single["things"])
    return Population(patterns, characters, words, single["described"], things, sized)
