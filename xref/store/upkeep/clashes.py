"""What stands in the way of taking back one action among others: later ones on the same rows."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sqlalchemy import Connection, ForeignKey, Table, UniqueConstraint, select

from xref.store.tables.history import action, change
from xref.store.tables.layout import metadata
from xref.store.tables.links import model
from xref.store.tables.tables import maker, source
from xref.store.write.history import COUNTED, INSERT, UNWATCHED, UPDATE, Change, key_column

ALONG_THE_WAY = frozenset({maker.name, model.name, source.name})
"""Rows of these are made by whoever first names them: they stay where later facts rest on them."""

Row = tuple[str, int]
"""A table and the id of a row of it."""


@dataclass(frozen=True, slots=True)
class Clashes:
    """The later actions that bar an undo, as number and command, in their order; and the rows that
    must stay because later facts rest on them."""

    actions: tuple[tuple[int, str], ...] = ()
    stays: frozenset[Row] = field(default_factory=frozenset)


class Spans:
    """Ranges of ids by table, to be asked what they hold."""

    def __init__(self, found: Iterable[tuple[str, int, int]]) -> None:
        self._lows: dict[str, list[int]] = defaultdict(list)
        self._highs: dict[str, list[int]] = defaultdict(list)
        for table, low, high in sorted(found):
            highs = self._highs[table]
            self._lows[table].append(low)
            highs.append(max(high, highs[-1]) if highs else high)

    def meets(self, table: str, low: int, high: int) -> bool:
        """Whether one of the rows from ``low`` to ``high`` is among them."""
        at = bisect_right(self._lows[table], high)
        return at > 0 and self._highs[table][at - 1] >= low


def clashes(conn: Connection, ident: int, changes: Sequence[Change]) -> Clashes:
    """What bars taking back the action ``ident``, which made ``changes``.

    A later action bars it that touches one of its rows, adds to one that would go, removes what one
    that comes back points to, or took a name that would be had twice. A count bars nothing: each
    action's own share is taken off it.
    """
    later = _later(conn, ident)
    changes = [item for item in changes if item.table not in COUNTED]
    if not later:
        return Clashes()
    own = Spans((c.table, c.low, c.high) for c in changes)
    pointed = Spans(_pointed(changes))
    barring = {
        number
        for number, table, kind, low, high in later
        if own.meets(table, low, high) or (kind != UPDATE and pointed.meets(table, low, high))
    }
    resting, stays = _resting(conn, changes, own)
    barring |= _makers_of(later, [*resting, *_twice(conn, changes, own)])
    if not _does_more(changes, stays):
        barring |= _makers_of(later, _resting_on(conn, stays))
    return Clashes(_named(conn, barring), stays)


Later = Sequence[tuple[int, str, str, int, int]]


def _later(conn: Connection, ident: int) -> Later:
    c = change.c
    query = (
        select(c.action_id, c.table_name, c.kind, c.low, c.high)
        .join(action, action.c.id == c.action_id)
        .where(action.c.id > ident, action.c.undone.is_(False))
    )
    return [(row[0], row[1], row[2], row[3], row[4]) for row in conn.execute(query)]


def _named(conn: Connection, numbers: Iterable[int]) -> tuple[tuple[int, str], ...]:
    query = select(action.c.id, action.c.command).where(action.c.id.in_(list(numbers)))
    return tuple((row[0], row[1]) for row in conn.execute(query.order_by(action.c.id)))


def _makers_of(later: Later, rows: Sequence[Row]) -> set[int]:
    """The later actions that added or changed these rows."""
    wanted = Spans((table, ident, ident) for table, ident in rows)
    return {number for number, table, _, low, high in later if wanted.meets(table, low, high)}


def _links_of(table: Table) -> Iterator[ForeignKey]:
    for link in table.foreign_keys:
        if link.column.table.name not in UNWATCHED:
            yield link


def _pointed(changes: Iterable[Change]) -> Iterator[tuple[str, int, int]]:
    """The rows that those point to which would be put back."""
    for item in changes:
        if item.before is None:
            continue
        for link in _links_of(metadata.tables[item.table]):
            ident = item.before.get(link.parent.name)
            if ident is not None:
                yield link.column.table.name, int(ident), int(ident)


def _resting(
    conn: Connection, changes: Iterable[Change], own: Spans
) -> tuple[list[Row], frozenset[Row]]:
    """Rows of others that hang on rows which would go; and those rows that stay for them."""
    barring: list[Row] = []
    stays: set[Row] = set()
    for item in changes:
        if item.kind != INSERT:
            continue
        for row, target in _hanging(conn, item.table, item.low, item.high):
            if own.meets(row[0], row[1], row[1]):
                continue
            if item.table in ALONG_THE_WAY:
                stays.add((item.table, target))
            else:
                barring.append(row)
    return barring, frozenset(stays)


def _resting_on(conn: Connection, stays: Iterable[Row]) -> list[Row]:
    return [row for table, ident in stays for row, _ in _hanging(conn, table, ident, ident)]


def _hanging(conn: Connection, name: str, low: int, high: int) -> Iterator[tuple[Row, int]]:
    """Every row that points to one from ``low`` to ``high``, with the id it points to."""
    for child in metadata.sorted_tables:
        if child.name in UNWATCHED:
            continue
        for link in child.foreign_keys:
            if link.column.table.name == name:
                query = select(key_column(child), link.parent)
                for ident, target in conn.execute(query.where(link.parent.between(low, high))):
                    yield (child.name, int(ident)), int(target)


def _does_more(changes: Sequence[Change], stays: frozenset[Row]) -> bool:
    """Whether the action did anything but add rows that must stay."""
    return not stays or any(
        item.kind != INSERT
        or any((item.table, ident) not in stays for ident in range(item.low, item.high + 1))
        for item in changes
    )


def _twice(conn: Connection, changes: Iterable[Change], own: Spans) -> list[Row]:
    """Rows that have by now what must be had once by a row that would be put back."""
    found = []
    for item in changes:
        if item.before is None:
            continue
        table = metadata.tables[item.table]
        for rule in table.constraints:
            if not isinstance(rule, UniqueConstraint):
                continue
            names = [column.name for column in rule.columns]
            if item.after is None or _differ(item.before, item.after, names):
                same = [table.c[name] == item.before[name] for name in names]
                ids = conn.scalars(select(key_column(table)).where(*same))
                found += [(table.name, int(i)) for i in ids if not own.meets(table.name, i, i)]
    return found


def _differ(one: Mapping[str, Any], two: Mapping[str, Any], names: Iterable[str]) -> bool:
    return any(one[name] != two[name] for name in names)
