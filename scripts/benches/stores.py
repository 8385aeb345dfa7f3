"""A store full of invented parts, filled in bulk through the store's own layer."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import func, insert, select

from fixtures.numbers import OwnNumber, own_numbers
from xref.domain.number import folded
from xref.domain.part import Part, StoredSize
from xref.services.parts.part import own_part
from xref.store.index.tally import add_tally, tally_of
from xref.store.open.engine import Store, open_engine
from xref.store.tables.tables import part, spelling
from xref.store.write.unit import part_row, spelling_row


def full_store(path: Path, count: int, seed: int) -> tuple[Store, list[Part]]:
    """A new store at ``path`` with ``count`` own parts beside the standards' rows; and those."""
    return fill(path, own_numbers(count, seed))


def fill(
    path: Path, numbers: Sequence[OwnNumber], bores: Sequence[int] = ()
) -> tuple[Store, list[Part]]:
    """A new store at ``path`` with these parts beside the standards' rows; and the parts.

    ``bores`` are their bores in nanometres, in the same order; () for parts without any.
    """
    store = open_engine(path)
    sizes = [{"bore": StoredSize(bore)} for bore in bores] or [{} for _ in numbers]
    records = [
        own_part(drawn.number, drawn.maker, "casting", drawn.words, held)
        for drawn, held in zip(numbers, sizes, strict=True)
    ]
    with store.writing("fill a store for measuring") as unit:
        makers = {name: unit.ensure_maker(name) for name in {r.maker for r in records}}
        first = (unit.conn.scalar(select(func.max(part.c.id))) or 0) + 1
        rows, spelled = [], []
        held_at = {bore: unit.ensure_boundary({"bore": StoredSize(bore)}) for bore in set(bores)}
        boundaries = [held_at[bore] for bore in bores] or [None] * len(records)
        for ident, (record, on) in enumerate(zip(records, boundaries, strict=True), first):
            rows.append({"id": ident, **part_row(record, makers[record.maker], on)})
            spelled += [spelling_row(ident, s) for s in record.spellings if folded(s.text)]
        unit.conn.execute(insert(part), rows)
        unit.conn.execute(insert(spelling), spelled)
        add_tally(unit.conn, tally_of(records))
        unit.commit()
    return store, records
