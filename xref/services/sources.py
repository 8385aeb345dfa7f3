"""Where knowledge comes from: parts books, drawings, measurements."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection

from xref.domain.number import plain
from xref.store.queries import sources
from xref.store.unit import UnitOfWork

SourceRow = tuple[int, str, str, str, str]


def add(unit: UnitOfWork, title: str, edition: str, kind: str, note: str) -> str:
    """Add a source and return how it is named. Raises InputError for one that is there."""
    plain(title, 200, "title")
    named = " ".join(title.split())
    texts = [" ".join(text.split()) for text in (edition, kind, note)]
    for text, most, what in zip(texts, (80, 40, 500), ("edition", "kind", "note"), strict=True):
        if text:
            plain(text, most, what)
    unit.add_source(named, *texts)
    return f"{named} {texts[0]}".strip()


def every(conn: Connection) -> list[SourceRow]:
    """Every source in order of title."""
    return sources(conn)


def to_json(rows: list[SourceRow]) -> dict[str, Any]:
    """The sources as one JSON document."""
    names = ("title", "edition", "kind", "note")
    return {"sources": [dict(zip(names, row[1:], strict=True)) for row in rows]}
