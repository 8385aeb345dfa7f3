"""Parts and sources as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.part import Part, StoredSize, is_plain_number
from xref.domain.size import inch_text, mm_text
from xref.render.lines import what


def size_text(name: str, held: StoredSize) -> str:
    """One size in millimetres, and in inches where it is a plain fraction of one."""
    if is_plain_number(name):
        return str(held.value)
    inch = inch_text(held.value)
    return f"{mm_text(held.value)} ({inch})" if inch else mm_text(held.value)


def parts_text(parts: Sequence[Part]) -> str:
    """One line a part."""
    if not parts:
        return "No parts."
    wide = max(len(p.number) for p in parts)
    return "\n".join(
        f"{p.number:<{wide}}  {_listed(p)}{f'  ({p.maker})' if p.maker else ''}" for p in parts
    )


def _listed(part: Part) -> str:
    return what(part) or ("mentioned only" if part.status == "mentioned" else "no description")


def sources_text(rows: Sequence[tuple[int, str, str, str, str]]) -> str:
    """One line a source."""
    if not rows:
        return "No sources."
    return "\n".join(
        "  ".join(x for x in (title, edition, kind, note) if x)
        for _, title, edition, kind, note in rows
    )
