"""Where knowledge comes from: parts books, drawings, measurements."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection

from xref.domain.line import needed_line, optional_line
from xref.domain.number import visible
from xref.errors import AmbiguousError
from xref.store.read.near_names import new_name
from xref.store.read.queries import find_sources, sources
from xref.store.write.unit import UnitOfWork

MOST_TITLE = 200
"""Characters of a title."""

SourceRow = tuple[int, str, str, str, str]


def add(unit: UnitOfWork, title: str, edition: str, kind: str, note: str) -> str:
    """Add a source and return how it is named. Raises InputError for one that is there."""
    named = needed_line(title, MOST_TITLE, "title")
    printed = optional_line(edition, 80, "edition")
    sort = optional_line(kind, 40, "kind")
    unit.add_source(named, printed, sort, optional_line(note, 500, "note"))
    return f"{named} {printed}".strip()


def source_id_of(unit: UnitOfWork, title: str) -> int | None:
    """The id of the source called ``title``, None for "".

    One that is not there is made, and ``unit.news`` says so. Raises InputError for what is no
    title, AmbiguousError where several editions are called so.
    """
    if not title.strip():
        return None
    named = needed_line(title, MOST_TITLE, "source")
    found = find_sources(unit.conn, named)
    if not found:
        known = [f"{one} {edition}".strip() for _, one, edition, *_ in sources(unit.conn)]
        unit.news.append(new_name("source", named, known))
        return unit.add_source(named, "", "", "")
    if len(found) > 1:
        raise AmbiguousError(
            f'"{visible(title)}" is on record in {len(found)} editions',
            f"Say which: {', '.join(name for _, name in found)}.",
        )
    return found[0][0]


def every(conn: Connection) -> list[SourceRow]:
    """Every source in order of title."""
    return sources(conn)


def to_json(rows: list[SourceRow]) -> dict[str, Any]:
    """The sources as one JSON document."""
    names = ("title", "edition", "kind", "note")
    return {"sources": [dict(zip(names, row[1:], strict=True)) for row in rows]}
