"""What is wanted, changed and removed."""

from __future__ import annotations

from sqlalchemy import Connection

from xref.services.bench.wanted import row_of
from xref.services.changing.fact import NOTHING, Changed, Fact, joined, kept
from xref.store.notes import bench
from xref.store.notes.bench import Wanted
from xref.store.write import facts
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "wanted item", "wanted"
WITHOUT = ("supplier", "price", "seen", "note", "machine")
"""What can be taken from something wanted."""


def fact_of(row: Wanted) -> Fact:
    """Something wanted as a fact."""
    price = f"{row.price} {row.currency}".strip()
    on = f"for {row.machine}" if row.machine else ""
    told = joined(f"{row.quantity:g} × {row.need}", on, row.supplier, price, row.seen, row.note)
    return Fact(row.id, KIND, "", f"{told}, got" if row.done_at else told)


def change(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    ident: int,
    *,
    need: str | None = None,
    quantity: float | None = None,
    supplier: str | None = None,
    price: str | None = None,
    seen: str | None = None,
    note: str | None = None,
    got: bool | None = None,
    machine: str | None = None,
) -> Changed:
    """Change what is given of something wanted and leave the rest (None); "" takes it away.

    ``got`` False makes it wanted again. Raises NotFoundError for a number or machine that is not
    there, InputError for what ``wanted add`` refuses.
    """
    held = bench.want(unit.conn, ident)
    words = (need, quantity, supplier, price, seen, note, got, machine)
    if all(word is None for word in words):
        raise NOTHING
    row = row_of(
        unit.conn,
        kept(need, held.need),
        held.quantity if quantity is None else quantity,
        kept(supplier, held.supplier),
        kept(price, f"{held.price} {held.currency}".strip()),
        kept(seen, held.seen),
        kept(note, held.note),
        kept(machine, held.machine),
    )
    if need is None:
        row["part_id"] = held.part_id
    unit.update(facts.WANT, ident, row)
    if got is False:
        unit.update(facts.WANT, ident, {"done_at": ""})
    elif got and not held.done_at:
        bench.done_want(unit, ident)
    return Changed(fact_of(held), fact_of(bench.want(unit.conn, ident)))


def remove(unit: UnitOfWork, ident: int) -> Changed:
    """Remove something wanted. Raises NotFoundError for a number that is not there."""
    held = bench.want(unit.conn, ident)
    unit.delete(facts.WANT, ident)
    return Changed(fact_of(held))


def naming(conn: Connection, part_id: int) -> list[Fact]:
    """What is wanted that names a part."""
    return [fact_of(bench.want(conn, ident)) for ident in facts.want_numbers(conn, part_id)]


def in_words(unit: UnitOfWork, ident: int) -> Changed:
    """Let something wanted stay in words alone, without its part."""
    held = bench.want(unit.conn, ident)
    unit.update(facts.WANT, ident, {"part_id": None})
    now = bench.want(unit.conn, ident)
    return Changed(fact_of(held), fact_of(now), ("It stays in words alone.",))
