"""The user's own parts as a list that imports again with nothing changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from pathlib import Path

from sqlalchemy import Connection

from xref.domain.machine import WORKS, Applicability
from xref.domain.part import Part, is_plain_number
from xref.domain.size import mm_text
from xref.domain.size_names import NAMES
from xref.services.facts import Facts, facts_of
from xref.services.interchanging import STATED
from xref.sheets.headings import KEPT
from xref.sheets.part_row import MARKS
from xref.sheets.write import write_list
from xref.store.sheet_facts import Claim, Price, own_ids

CHUNK = 2_000

_FIRST = ("number", "maker", "kind", "description", "status", "note", "source")
_MARK_OF = {role: name for name, role in MARKS.items()}
_LINKS = ("replaced by", "interchange")
_RANGE = ("model", "serials", "assembly", "quantity")
_PRICE = ("supplier", "price", "currency", "price date", "price note")

Cells = dict[str, str]


@dataclass(frozen=True, slots=True)
class Exported:
    """How many parts were written, in how many rows, and what the list cannot hold."""

    parts: int
    rows: int
    left_out: tuple[str, ...]


def export_file(conn: Connection, path: Path, kind: str = "") -> Exported:
    """Write the user's own parts (of ``kind``) to a csv or xlsx file.

    A part with several ranges, prices or claims has several rows. Raises InputError for another
    ending, FileError where the file cannot be written.
    """
    ids = own_ids(conn, kind)
    left_out: list[str] = []
    used: dict[str, None] = {}
    rows: list[Cells] = []
    for at in range(0, len(ids), CHUNK):
        for facts in facts_of(conn, ids[at : at + CHUNK]):
            for cells in part_rows(facts, left_out):
                used.update(dict.fromkeys(cells))
                rows.append(cells)
    titles = _titles(used)
    heads = [_title(name) for name in titles]
    write_list(path, heads, ([cells.get(name, "") for name in titles] for cells in rows))
    return Exported(len(ids), len(rows), tuple(left_out))


def part_rows(facts: Facts, left_out: list[str]) -> Iterator[Cells]:
    """The rows of one part: all that has one value first, what has several from there down."""
    part = facts.part
    base = {"number": part.number, "maker": part.maker, "status": part.status}
    first: Cells = {**base, "source": facts.source}
    for name, value in (("kind", part.kind), ("description", part.words), ("note", part.note)):
        if value:
            first[name] = value
    first.update(_sizes(part))
    for role, name in _MARK_OF.items():
        texts = [m.text for m in part.marks if m.role == role]
        if texts:
            first[name] = " | ".join(texts)
    down = zip_longest(
        _extras(facts), _ranges(facts, left_out), map(_price, facts.prices),
        map(_claim, facts.claims), _links(facts, left_out), fillvalue=None,
    )  # fmt: skip
    rows = [[c for c in cells if c] for cells in down]
    yield from _spread(first, base, rows)


def _spread(first: Cells, base: Cells, rows: Sequence[Sequence[Cells]]) -> Iterator[Cells]:
    """Rows whose sources differ cannot share a row: a row has one source."""
    open_row = dict(first)
    started = False
    for group in rows:
        for cells in group:
            source = cells.get("source", open_row.get("source", ""))
            clash = any(name in open_row for name in cells if name != "source")
            if clash or source != open_row.get("source", ""):
                yield open_row
                open_row = dict(base)
                started = True
            open_row.update(cells)
    if open_row != base or not started:
        yield open_row


def _sizes(part: Part) -> Cells:
    found = {}
    for name, held in part.sizes.items():
        plain = is_plain_number(name)
        found[name] = str(held.value) if plain else mm_text(held.value).removesuffix(" mm")
    return found


def _extras(facts: Facts) -> Iterator[Cells]:
    """The kept cells; those of one heading go down, those of several beside each other."""
    waiting = list(facts.extras)
    while waiting:
        cells: Cells = {}
        rest = []
        for extra in waiting:
            name = KEPT + extra.label
            if name in cells:
                rest.append(extra)
            else:
                cells[name] = extra.value
        yield cells
        waiting = rest


def _ranges(facts: Facts, left_out: list[str]) -> Iterator[Cells]:
    for entry in facts.applies:
        if not entry.fits or entry.component != WORKS or entry.note:
            left_out.append(f"{facts.part.number}: {_entry_text(entry)}")
            continue
        cells = {"model": entry.model, "source": entry.source or facts.source}
        if entry.serials:
            cells["serials"] = entry.serials
        if entry.assembly:
            cells["assembly"] = entry.assembly
        if entry.quantity is not None:
            cells["quantity"] = f"{entry.quantity:g}"
        yield cells


def _entry_text(entry: Applicability) -> str:
    word = "" if entry.fits else "does not fit "
    return f"{word}{entry.model} {entry.serials} ({entry.component})"


def _price(price: Price) -> Cells:
    named = zip(_PRICE, price, strict=True)
    return {name: text for name, text in named if text}


def _claim(claim: Claim) -> Cells:
    return {"claim": f"{claim.field}={claim.value}", "source": claim.source}


def _links(facts: Facts, left_out: list[str]) -> Iterator[Cells]:
    for step in facts.steps:
        joined = " and " if step.kind == "set" else " | "
        if step.partial:
            left_out.append(f"{facts.part.number}: a conditional step to {joined.join(step.news)}")
            continue
        cells = {"replaced by": joined.join(step.news)}
        yield {**cells, "source": step.source or facts.source}
    for link in facts.interchanges:
        grade = link.grade
        if not link.both_ways:
            grade += ", one way"
        shown = link.number if grade == STATED else f"{link.number} [{grade}]"
        yield {"interchange": shown, "source": link.source or facts.source}


def _titles(used: Iterable[str]) -> list[str]:
    there = set(used)
    order = [*_FIRST, *NAMES, *_MARK_OF.values(), *_LINKS, *_RANGE, *_PRICE, "claim"]
    kept = [name for name in used if name.startswith(KEPT)]
    return [name for name in order if name in there or name in _FIRST] + kept


def _title(name: str) -> str:
    return f"{name} (mm)" if name in NAMES and not is_plain_number(name) else name
