"""What lists say of parts beyond their records: prices, claims and kept cells, one by one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection

from xref.domain.line import needed_line, optional_line
from xref.domain.part import Part, is_plain_number
from xref.domain.size import mm_text, parse_count, parse_length
from xref.domain.size_names import SIZES
from xref.services.changing.fact import MOST, NOTHING, Changed, Fact, joined, no_such
from xref.services.parts.designated import look_up
from xref.services.parts.source import source_id_of
from xref.store.notes.bare_unit import default_unit
from xref.store.read.load import load_parts
from xref.store.read.sheet_links import source_names
from xref.store.write import facts
from xref.store.write.unit import UnitOfWork

PRICE, CLAIM, KEPT = "price", "claim", "kept"


@dataclass(frozen=True, slots=True)
class Sort:
    """One sort of such facts: the most characters of each field that is text.

    ``needed`` is the field that it cannot be without; "" for none.
    """

    most: Mapping[str, int]
    needed: str = ""


SORTS = {
    PRICE: Sort({"supplier": 120, "price": 40, "currency": 10, "seen": 40, "note": 300}),
    CLAIM: Sort({"value": 300}, "value"),
    KEPT: Sort({"label": 200, "value": 2000}, "value"),
}


def listed(
    conn: Connection,
    kind: str,
    number: str | None = None,
    maker: str | None = None,
    most: int = MOST,
) -> list[Fact]:
    """The facts of a sort (PRICE, CLAIM, KEPT), oldest first: those of one part, or all."""
    part_id = look_up(conn, number, maker).id if number else None
    return of_part(conn, kind, part_id, most)


def of_part(conn: Connection, kind: str, part_id: int | None, most: int = MOST) -> list[Fact]:
    """The same by the part's id; None for those of all parts."""
    rows = facts.noted_rows(conn, kind, most, part_id)
    parts = {p.id: p for p in load_parts(conn, sorted({row["part_id"] for row in rows}))}
    names = source_names(conn)
    return [_fact(kind, row, parts[row["part_id"]], names) for row in rows]


def _fact(kind: str, row: Mapping[str, Any], part: Part, names: Mapping[int, str]) -> Fact:
    fields = [*SORTS[kind].most]
    values: dict[str, Any] = {"maker": part.own_maker or None}
    if kind == CLAIM:
        fields = ["field", *fields]
    values |= {name: row[name] or None for name in fields}
    if kind == CLAIM:
        values["source"] = names.get(row["source_id"] or 0)
    return Fact(int(row["id"]), kind, part.number, _says(kind, values), values)


def _says(kind: str, values: Mapping[str, Any]) -> str:
    told = {name: " / ".join(str(text or "").splitlines()) for name, text in values.items()}
    if kind == PRICE:
        beside = "" if told["currency"] in told["price"] else told["currency"]
        asked = f"{told['price']} {beside}".strip()
        return joined(told["supplier"], asked, told["seen"], told["note"])
    if kind == CLAIM:
        what = "description" if told["field"] == "words" else told["field"]
        return joined(f"{what} {told['value']}", told["source"])
    return f"{told['label']}: {told['value']}"


def change(
    unit: UnitOfWork, kind: str, ident: int, values: Mapping[str, str], source: str | None = None
) -> Changed:
    """Change what is given of one price, claim or kept cell; "" takes it away.

    Raises NotFoundError for a number that none has, InputError for a text that is too long, for
    nothing where something must be, and for a size that is none.
    """
    if not values and source is None:
        raise NOTHING
    held, before = _held(unit.conn, kind, ident)
    sort = SORTS[kind]
    row: dict[str, Any] = {}
    for name, text in values.items():
        line = needed_line if name == sort.needed else optional_line
        row[name] = line(text, sort.most[name], name)
    if kind == CLAIM and "value" in row:
        row["value"] = _claimed(unit.conn, held["field"], row["value"])
    if source is not None:
        row["source_id"] = source_id_of(unit, source)
    unit.update(facts.NOTED[kind], ident, row)
    return Changed(before, _held(unit.conn, kind, ident)[1])


def _claimed(conn: Connection, field: str, text: str) -> str:
    """A claimed size as it is kept, in millimetres; other text as it is."""
    if is_plain_number(field):
        return str(parse_count(text))
    return mm_text(parse_length(text, default_unit(conn)).nm) if field in SIZES else text


def remove(unit: UnitOfWork, kind: str, ident: int) -> Changed:
    """Remove one price, claim or kept cell. Raises NotFoundError for a number that none has."""
    _, before = _held(unit.conn, kind, ident)
    unit.delete(facts.NOTED[kind], ident)
    return Changed(before)


def _held(conn: Connection, kind: str, ident: int) -> tuple[dict[str, Any], Fact]:
    row = facts.row_of(conn, facts.NOTED[kind], ident)
    if row is None:
        raise no_such(kind if kind != KEPT else "kept cell", ident, f"part {kind}")
    parts = load_parts(conn, [row["part_id"]])
    return row, _fact(kind, row, parts[0], source_names(conn))
