"""The user's own parts as a list that imports again with nothing changed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection

from xref.domain.part import is_plain_number
from xref.domain.size_names import NAMES
from xref.services.links.facts import facts_of
from xref.services.lists.export_rows import Cells, part_rows
from xref.sheets.fields import INTERCHANGE_NOTE, MODELS, ORDER_INSTEAD, PRICE, RANGE, STEP
from xref.sheets.headings import KEPT
from xref.sheets.part_row import MARKS
from xref.sheets.write import write_list
from xref.store.read.sheet_links import beyond_parts
from xref.store.write.sheet_facts import own_ids

_FIRST = ("number", "maker", "kind", "description", "status", "note", "source")
_AFTER = (
    ORDER_INSTEAD,
    *NAMES,
    *MARKS,
    "replaced by",
    *STEP,
    "interchange",
    INTERCHANGE_NOTE,
    *MODELS,
    *RANGE,
    *PRICE,
    "thread",
    "claim",
)


@dataclass(frozen=True, slots=True)
class Exported:
    """How many parts were written, in how many rows, and how many things of each kind there are
    that are no parts and stand in no list of them."""

    parts: int
    rows: int
    beyond: dict[str, int]


def export_file(conn: Connection, path: Path, kind: str = "") -> Exported:
    """Write the user's own parts (of ``kind``) to a csv or xlsx file.

    A part with several ranges, prices, links or claims has several rows. Raises InputError for
    another ending, FileError where the file cannot be written.
    """
    ids = own_ids(conn, kind)
    used: dict[str, None] = {}
    rows: list[Cells] = []
    for facts in facts_of(conn, ids):
        for cells in part_rows(facts):
            used.update(dict.fromkeys(cells))
            rows.append(cells)
    titles = _titles(used)
    heads = [_title(name) for name in titles]
    write_list(path, heads, ([cells.get(name, "") for name in titles] for cells in rows))
    return Exported(len(ids), len(rows), beyond_parts(conn))


def _titles(used: Iterable[str]) -> list[str]:
    there = set(used)
    kept = [name for name in used if name.startswith(KEPT)]
    return [*_FIRST, *(name for name in _AFTER if name in there), *kept]


def _title(name: str) -> str:
    return f"{name} (mm)" if name in NAMES and not is_plain_number(name) else name
