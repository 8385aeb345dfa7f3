"""What a list says of a part through other tables, and what a list of parts cannot say."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence

from sqlalchemy import ColumnElement, Connection, Table, func, select

from xref.domain.number import key
from xref.domain.part import PartMark
from xref.domain.weights import ORIGIN_STANDARD
from xref.store.read.load import pieces
from xref.store.tables.bench import bench_item, wanted
from xref.store.tables.links import (
    applicability,
    interchange,
    machine,
    model,
    ordering,
    supersession,
)
from xref.store.tables.tables import mark, part, source


def orders_of(conn: Connection, ids: Sequence[int]) -> dict[int, str]:
    """What to order instead of each part, for those of which it is on record."""
    query = select(ordering.c.part_id, ordering.c.order_instead)
    return {
        ident: text
        for some in pieces(ids)
        for ident, text in conn.execute(query.where(ordering.c.part_id.in_(some)))
        if text
    }


def mark_sources_of(conn: Connection, ids: Sequence[int]) -> dict[int, dict[PartMark, str]]:
    """The sources of each part's marks, for those that name one."""
    names = source_names(conn)
    found: dict[int, dict[PartMark, str]] = defaultdict(dict)
    columns = (mark.c.part_id, mark.c.text, mark.c.role, mark.c.source_id)
    query = select(*columns).where(mark.c.source_id.is_not(None))
    for some in pieces(ids):
        for ident, text, role, source_id in conn.execute(query.where(mark.c.part_id.in_(some))):
            found[ident][PartMark(text, role)] = names[source_id]
    return found


def model_names(conn: Connection) -> dict[int, str]:
    """Every model's name by its id."""
    rows = conn.execute(select(model.c.id, model.c.name))
    return {ident: name for ident, name in rows}  # noqa: C416 (rows are no pairs to the checker)


def shared_numbers(conn: Connection, numbers: Iterable[str]) -> set[str]:
    """Those of ``numbers`` that parts of several makers have, written just so."""
    wanted_ = set(numbers)
    counts: Counter[str] = Counter()
    for some in pieces(sorted({key(number) for number in wanted_})):
        query = select(part.c.number).where(part.c.key.in_(some))
        counts.update(number for number in conn.scalars(query) if number in wanted_)
    return {number for number, count in counts.items() if count > 1}


def beyond_parts(conn: Connection) -> dict[str, int]:
    """How many things are on record that hang on no part of the user's own: machines, the bench
    book, and what was written down of the standards' rows."""
    of_standard = select(part.c.id).where(part.c.origin == ORIGIN_STANDARD)
    pair = interchange.c.part_id.in_(of_standard) & interchange.c.other_id.in_(of_standard)
    asked: dict[str, tuple[Table, ColumnElement[bool] | None]] = {
        "machines": (machine, None),
        "bench items": (bench_item, None),
        "wanted parts": (wanted, None),
        "serial ranges of standard parts": (
            applicability,
            applicability.c.part_id.in_(of_standard),
        ),
        "supersessions of standard parts": (supersession, supersession.c.old_id.in_(of_standard)),
        "interchanges of standard parts": (interchange, pair),
    }
    found = {}
    for what, (table, which) in asked.items():
        query = select(func.count()).select_from(table)
        count = int(conn.scalar(query if which is None else query.where(which)) or 0)
        if count:
            found[what] = count
    return found


def source_names(conn: Connection) -> dict[int, str]:
    """Title and edition of every source by its id."""
    query = select(source.c.id, source.c.title, source.c.edition)
    return {ident: f"{title} {edition}".strip() for ident, title, edition in conn.execute(query)}
