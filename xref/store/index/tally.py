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
from xref.store.index.classes import (
    CLASS_FIGURES,
    class_figures,
    drop_classes,
    move_classes,
    stored_classes,
)
from xref.store.read.load import load_parts, pieces
from xref.store.tables.tables import part, tally

COUNTED_SPELLING = 0.3
"""Spellings rarer than this do not count among the characters people look for. Judged."""

Key = tuple[str, str]

_MOVE = text(
    "INSERT INTO tally (what, value, weight) VALUES (:what, :value, :weight) "
    "ON CONFLICT (what, value) DO UPDATE SET weight = tally.weight + excluded.weight"
)
_DROP = text("DELETE FROM tally WHERE what = :what AND value = :value AND weight < 1e-9")


def size_figure(kind: str, name: str) -> Key:
    """What the weight of the parts of ``kind`` with a size ``name`` on record is called."""
    return "size", f"{kind}|{name}"


def groups_tally(conn: Connection, groups: Iterable[str]) -> Counter[Key]:
    """What these groups count for as they stand in the store now."""
    ids = [
        ident
        for some in pieces(list(groups))
        for ident in conn.scalars(select(part.c.id).where(part.c.group_key.in_(some)))
    ]
    return tally_of(load_parts(conn, ids))


def tally_of(parts: Iterable[Part]) -> Counter[Key]:
    """What all these parts count for together: a physical thing's pattern once, with the weight of
    its heaviest record, and everything else record by record."""
    grouped: dict[str, list[Part]] = defaultdict(list)
    for record in parts:
        grouped[record.group].append(record)
    every = [record for records in grouped.values() for record in records]
    total = _of_texts(every)
    for records in grouped.values():
        pattern, weight = _pattern(records)
        total["pattern", pattern] += weight  # type: ignore[assignment]
    for record in every:
        if not record.is_standard:
            total["shape", f"{shape(record.number)[:80]}|{record.maker[:100]}"] += 1
        figures = class_figures(record.sizes, record.kind, record.type, record.weight)
        for figure, amount in figures.items():
            total[figure] += amount  # type: ignore[assignment]
        for name in record.sizes:
            total[size_figure(record.kind, name)] += record.weight  # type: ignore[assignment]
    return total


def _pattern(records: Sequence[Part]) -> tuple[str, float]:
    """What is known of one physical thing, and its weight."""
    if len(records) > 1:
        records = sorted(records, key=lambda p: (-p.weight, p.id))
    kind = next((p.kind for p in records if p.kind), "")
    sizes = sorted({name for p in records for name in p.sizes})
    described = any(p.words for p in records)
    flags = ("w" if described else "") + ("s" if all(p.is_standard for p in records) else "")
    return "|".join((kind, ",".join(sizes), flags)), records[0].weight


def _of_texts(records: Sequence[Part]) -> Counter[Key]:
    """How many records there are, and the signs and words they are written in."""
    total: Counter[Key] = Counter()
    if records:
        total["things", ""] = len(records)
    texts = (
        folded(spelled.text)
        for record in records
        for spelled in record.spellings
        if spelled.weight >= COUNTED_SPELLING
    )
    for char, count in Counter("".join(texts)).items():
        total["char", char] = count
    said = Counter(record.words for record in records if record.words)
    if said:
        total["described", ""] = said.total()
    for words, count in said.items():
        for word in split_words(words):
            total["word", word[:100]] += count
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
            kind, sizes, flags = value.split("|")
            named = frozenset(s for s in sizes.split(",") if s)
            patterns[Pattern(kind, named, "w" in flags, "s" in flags)] = weight
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
