"""Parts and sources as plain text."""

from __future__ import annotations

from collections.abc import Sequence

from xref.domain.part import Part, StoredSize, is_plain_number
from xref.domain.size import inch_text, mm_text
from xref.render.lines import what, wrapped
from xref.services.facts import Noted


def size_text(name: str, held: StoredSize) -> str:
    """One size in millimetres, and in inches where it is a plain fraction of one."""
    if is_plain_number(name):
        return str(held.value)
    inch = inch_text(held.value)
    return f"{mm_text(held.value)} ({inch})" if inch else mm_text(held.value)


def part_text(part: Part, width: int = 80) -> str:
    """Everything the store knows of one part."""
    whose = f", {part.maker}" if part.maker else ""
    told = [("what", what(part))]
    told += [(name, size_text(name, held)) for name, held in part.sizes.items()]
    also = [s.text for s in part.spellings if s.text != part.number and s.role != "mark"]
    told.append(("also", ", ".join(also)))
    told += [("mark", f"{mark.text} ({mark.role})") for mark in part.marks]
    if part.is_standard:
        tables = "one table only" if part.tables_agreeing == 1 else f"{part.tables_agreeing} tables"
        told.append(("known from", tables))
    else:
        told.append(("status", part.status))
    told.append(("note", part.note))
    lines = [f"{part.number}{whose}"]
    for name, text in told:
        lines += wrapped(text, width, " " * 14, f"  {name:<11} ") if text else []
    return "\n".join(lines)


def noted_text(noted: Noted) -> list[str]:
    """What spreadsheets say of a part beyond its record, a line each."""
    lines = []
    for price in noted.prices:
        asked = " ".join(x for x in (price.price, price.currency) if x)
        said = "  ".join(x for x in (price.supplier, asked, price.seen, price.note) if x)
        lines.append(f"  price       {said}")
    for claim in noted.claims:
        whose = f" ({claim.source})" if claim.source else ""
        name = "what" if claim.field == "words" else claim.field
        lines.append(f"  or {name:<8} {claim.value}{whose}")
    for extra in noted.extras:
        lines.append(f"  {extra.label:<11} {' / '.join(extra.value.splitlines())}")
    return lines


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
