"""Show what was changed, and take back a command whole."""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from shlex import quote
from typing import Any

from sqlalchemy import Connection, Table, and_, delete, insert, or_, select, update

from xref.errors import InputError, NotFoundError
from xref.store.index.scan import lay_out_again
from xref.store.index.tally import rewrite_tally, tally_of
from xref.store.read.load import every_part, pieces
from xref.store.read.unused import unused_boundaries
from xref.store.tables.history import action, change
from xref.store.tables.layout import metadata
from xref.store.tables.tables import boundary, part, spelling
from xref.store.upkeep.checked_once import checked_once
from xref.store.upkeep.clashes import clashes
from xref.store.write.history import COUNTED, DELETE, INSERT, UPDATE, Change, key_column, member_of
from xref.store.write.unit import UnitOfWork

FEW = 500
"""Up to this many parts the figures are brought up to date part by part; beyond, made anew."""
SHOWN = 6
"""Later actions that are named where they stand in the way."""


@dataclass(frozen=True, slots=True)
class Action:
    """One command that changed something: when (UTC), by which command, whether taken back.

    ``member`` is who gave it in a store that several share, "" elsewhere.
    """

    id: int
    at: str
    command: str
    undone: bool
    changes: tuple[Change, ...] = ()
    member: str = ""


def actions(conn: Connection, part_id: int | None = None, most: int = 50) -> list[Action]:
    """The last commands, newest first, with their changes; of one part where it is named."""
    query = select(action).order_by(action.c.id.desc()).limit(most)
    if part_id is not None:
        query = query.where(action.c.id.in_(_touching(conn, part_id)))
    found = []
    for row in conn.execute(query).mappings():
        kept = _changes(conn, row["id"])
        found.append(
            Action(row["id"], row["at"], row["command"], row["undone"], tuple(kept), row["member"])
        )
    return found


def _touching(conn: Connection, part_id: int) -> list[int]:
    """Ids of the actions that changed a part or what hangs on it."""
    c = change.c
    tests = [and_(c.table_name == part.name, c.low <= part_id, c.high >= part_id)]
    found = set(conn.scalars(select(c.action_id).where(or_(*tests))))
    for table in metadata.sorted_tables:
        for link in table.foreign_keys:
            if link.column.table is not part:
                continue
            name = key_column(table)
            for ident in conn.scalars(select(name).where(link.parent == part_id)):
                here = and_(c.table_name == table.name, c.low <= ident, c.high >= ident)
                found |= set(conn.scalars(select(c.action_id).where(here)))
    return list(found)


def _changes(conn: Connection, action_id: int) -> list[Change]:
    query = select(change).where(change.c.action_id == action_id).order_by(change.c.id)
    return [
        Change(
            row["table_name"],
            row["kind"],
            row["low"],
            row["high"],
            _row(row["before"]),
            _row(row["after"]),
            row["id"],
        )
        for row in conn.execute(query).mappings()
    ]


def _row(text: str | None) -> Mapping[str, Any] | None:
    return None if text is None else dict(json.loads(text))


def inserted_rows(conn: Connection, item: Change) -> list[dict[str, Any]]:
    """The rows that an insertion made, as they are now; those that have gone are left out."""
    table = metadata.tables[item.table]
    here = key_column(table).between(item.low, item.high)
    return [dict(row) for row in conn.execute(select(table).where(here)).mappings()]


def rows_as_added(conn: Connection, item: Change, undone: bool) -> list[Mapping[str, Any] | None]:
    """The rows that an insertion made, as they were then; None for one that is nowhere kept.

    What is changed or deleted later is kept as it was before that. The rest is as it is now, unless
    it was taken back (``undone``): its ids may be other rows' by now.
    """
    c = change.c
    later = select(c.low, c.high, c.before).where(c.table_name == item.table, c.id > item.id)
    if undone:
        later = later.where(c.low <= item.high, c.high >= item.low)
    else:
        later = later.where(c.low.between(item.low, item.high))
    first: dict[int, str | None] = {}
    for low, high, before in conn.execute(later.order_by(c.id)):
        for ident in range(max(low, item.low), min(high, item.high) + 1):
            first.setdefault(ident, before)
    key = key_column(metadata.tables[item.table]).name
    now = {} if undone else {row[key]: row for row in inserted_rows(conn, item)}
    return [
        _row(first[ident]) if ident in first else now.get(ident)
        for ident in range(item.low, item.high + 1)
    ]


def undo(unit: UnitOfWork, number: int | None = None, member: str = "") -> Action:
    """Take back the action of this number whole, None for the last that was not taken back yet.

    In a store that several share it is one's own, unless another ``member`` is named.

    ``unit`` must not be watched. What an action made along the way stays where later facts rest on
    it. Raises NotFoundError where there is nothing to take back, InputError where it was taken back
    already, and where later actions stand in the way, naming them.
    """
    conn = unit.conn
    row = _asked_for(conn, number, member or member_of(conn))
    changes = _changes(conn, row["id"])
    held = clashes(conn, row["id"], changes)
    if held.actions:
        raise _barred(row, held.actions)
    ids = _parts_of(conn, changes)
    few = len(ids) <= FEW
    if few:
        unit.touch(_groups(conn, ids) | _groups_kept(changes))
    sized = _boundaries_of(conn, changes)
    came_back: list[int] = []
    with nullcontext() if few else checked_once(conn, part):
        for item in reversed(changes):
            came_back += _take_back(conn, item, held.stays)
    lay_out_again(conn, came_back)
    conn.execute(update(action).where(action.c.id == row["id"]).values(undone=True))
    for some in pieces(unused_boundaries(conn, sized)):
        conn.execute(delete(boundary).where(boundary.c.id.in_(some)))
    if not few:
        rewrite_tally(conn, tally_of(every_part(conn)))
    return Action(row["id"], row["at"], row["command"], True, tuple(changes), row["member"])


def _asked_for(conn: Connection, number: int | None, member: str) -> Mapping[str, Any]:
    """The row of the action to take back: one of ``member``, where the store knows members."""
    query = select(action).order_by(action.c.id.desc()).limit(1)
    if number is None:
        query = query.where(action.c.undone.is_(False), action.c.member.in_(("", member)))
    else:
        query = query.where(action.c.id == number)
    row = conn.execute(query).mappings().first()
    if row is None:
        told = "there is nothing to take back" if number is None else f"no action is {number}"
        raise NotFoundError(told, "xref history shows what was done.")
    if row["undone"]:
        raise InputError(
            f"{number}, {row['command']}, was taken back already", "xref history shows what stands."
        )
    if row["member"] not in ("", member):
        raise InputError(
            f"{number} ({row['command']}) was done by {row['member']}",
            f"Ask first; then take it back with xref undo {number} --by {quote(row['member'])}.",
        )
    return dict(row)


def _barred(row: Mapping[str, Any], later: Sequence[tuple[int, str]]) -> InputError:
    """The refusal, with the later actions that are to be taken back first, newest first."""
    named = [f"{number} ({command})" for number, command in later]
    more = f" and {len(named) - SHOWN} more" if len(named) > SHOWN else ""
    them = ", ".join(named[:SHOWN]) + more
    verb = "rests on it or touches" if len(named) == 1 else "rest on it or touch"
    first = later[-1][0]
    return InputError(
        f"{row['id']} ({row['command']}) cannot be taken back alone: {them} {verb} the same rows",
        f"Take back what came later first, the newest first: xref undo {first}.",
    )


def _take_back(conn: Connection, item: Change, stays: Collection[tuple[str, int]]) -> list[int]:
    """Take back one change, but for rows that stay; the ids of spellings that came back."""
    table = metadata.tables[item.table]
    column = key_column(table)
    if table.name in COUNTED:
        _take_off(conn, table, item)
    elif item.kind == INSERT:
        kept = [ident for name, ident in stays if name == item.table]
        here = column.between(item.low, item.high)
        conn.execute(delete(table).where(here, column.not_in(kept)))
    elif item.kind == UPDATE and item.before is not None:
        conn.execute(update(table).where(column == item.low).values(**item.before))
    elif item.kind == DELETE and item.before is not None:
        conn.execute(insert(table).values(**item.before))
        return [item.low] if table is spelling else []
    return []


def _take_off(conn: Connection, table: Table, item: Change) -> None:
    """Take back what one change added to a count, and leave what others did.

    A row is found by what it counts, for another may count the same by now.
    """
    name = COUNTED[table.name]
    made = item.kind == INSERT and item.after is None
    before, after = item.before, rows_as_added(conn, item, False)[0] if made else item.after
    row = before or after
    if row is None:
        return
    more = (float(after[name]) if after else 0.0) - (float(before[name]) if before else 0.0)
    column = key_column(table)
    same = [table.c[c] == value for c, value in row.items() if c not in (column.name, name)]
    held = conn.execute(select(column, table.c[name]).where(*same)).first()
    left = (float(held[1]) if held else 0.0) - more
    if held is not None and left > 0:
        conn.execute(update(table).where(column == held[0]).values({name: left}))
    elif held is not None:
        conn.execute(delete(table).where(column == held[0]))
    elif left > 0:
        conn.execute(insert(table).values(_free(conn, table, {**row, name: left})))


def _free(conn: Connection, table: Table, row: dict[str, Any]) -> dict[str, Any]:
    """``row`` with its id, or without where another row has that by now."""
    column = key_column(table)
    if conn.scalar(select(column).where(column == row[column.name])) is not None:
        del row[column.name]
    return row


def _parts_of(conn: Connection, changes: Iterable[Change]) -> set[int]:
    """Ids of the parts that the changes are about."""
    found: set[int] = set()
    for item in changes:
        table = metadata.tables[item.table]
        if table is part:
            found |= _ids_between(conn, table, item)
        elif "part_id" in table.c:
            for row in (item.before, item.after):
                if row is not None and row["part_id"] is not None:
                    found.add(int(row["part_id"]))
            if item.kind == INSERT:
                here = key_column(table).between(item.low, item.high)
                found |= {i for i in conn.scalars(select(table.c.part_id).where(here)) if i}
    return found


def _boundaries_of(conn: Connection, changes: Iterable[Change]) -> set[int]:
    """Ids of the boundary dimensions that the changes gave to parts."""
    found: set[int] = set()
    for item in changes:
        if item.table == part.name:
            rows = inserted_rows(conn, item) if item.kind == INSERT else [item.before, item.after]
            found |= {int(row["boundary_id"]) for row in rows if row and row["boundary_id"]}
    return found


def _ids_between(conn: Connection, table: Table, item: Change) -> set[int]:
    if item.kind != INSERT:
        return {item.low}
    column = key_column(table)
    return set(conn.scalars(select(column).where(column.between(item.low, item.high))))


def _groups(conn: Connection, ids: Sequence[int] | set[int]) -> set[str]:
    return {
        group
        for some in pieces(list(ids))
        for group in conn.scalars(select(part.c.group_key).where(part.c.id.in_(some)))
    }


def _groups_kept(changes: Iterable[Change]) -> set[str]:
    return {
        str(row["group_key"])
        for item in changes
        if item.table == part.name
        for row in (item.before, item.after)
        if row is not None
    }
