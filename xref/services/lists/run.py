"""The whole of an import: read, merge, link, propose, and say what became of every row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path

from xref.domain.part import is_plain_number
from xref.services.lists.highest import Highest
from xref.services.lists.imported import Imported
from xref.services.lists.link_book import LinkBook
from xref.services.lists.linker import Linker
from xref.services.lists.links import LinkRow
from xref.services.lists.merge import CHANGED, REJECTED, UNCHANGED, Merger
from xref.services.lists.proposals import propose_alike, propose_designations
from xref.sheets.column_seen import WhichColumnError, columns_of, headings_of
from xref.sheets.finding import Findings
from xref.sheets.headings import field_from, is_size
from xref.sheets.part_row import PartRow
from xref.sheets.reading import read_tables
from xref.sheets.rejects import write_rejects
from xref.sheets.rows import RowReader
from xref.sheets.sheet import Sheet
from xref.sheets.table import Table, mapping_of
from xref.store.file.collecting import few_collections
from xref.store.notes.answers import BARE, answers_for, forget, remember
from xref.store.notes.bare_unit import default_unit
from xref.store.write.bulk import BulkWriter
from xref.store.write.unit import UnitOfWork

CHUNK = 5_000
"""Rows that are merged at once: each chunk asks the store once for the parts it has."""

LINKS_AT_ONCE = 5_000
"""Rows whose links are read, recorded and written at once."""

LINKS_SHOWN = 200
"""Links after which the progress is told again."""

Progress = Callable[[str, int, int], None]
"""Told what is being brought in (rows, links), how many are done, and about how many there are."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """How a file is to be imported. ``told`` maps columns to fields; ``units`` is what a bare size
    is taken in, "" for the store's; ``sheet`` is "" for every sheet that is a list of parts."""

    sheet: str = ""
    told: Mapping[str, str] = field(default_factory=dict)
    units: str = ""
    preview: bool = False
    keep_good: bool = False
    remember: bool = False


def import_file(
    unit: UnitOfWork,
    path: Path,
    wanted: Wanted,
    progress: Progress | None = None,
    sheets: Sequence[Sheet] | None = None,
) -> Imported:
    """Merge the lists in a file into the store, within ``unit``.

    ``sheets`` are those of the file: whoever read them before keeps nobody waiting meanwhile.
    The caller commits ``unit`` if the answer is ``written``. Rejected rows go to a file beside
    ``path`` where the good ones are kept. Raises FileError for a file that cannot be used,
    NotFoundError for a sheet or column that is not there, InputError for a field that is none.
    """
    fields = {column: field_from(name) for column, name in wanted.told.items()}
    findings = Findings(path.name)
    before: dict[str, str] = {}

    def recall(headings: tuple[str, ...]) -> Mapping[str, str]:
        before.update(answers_for(unit.conn, headings))
        return {name: told for name, told in before.items() if name != BARE}

    tables = read_tables(path, wanted.sheet, fields, findings, recall, sheets)
    there = Highest.now(unit.conn)
    writer = BulkWriter(unit)
    merger = Merger(writer, findings, path.name)
    units = wanted.units or before.get(BARE, "")
    bare = units or default_unit(unit.conn)
    rejects: list[list[PartRow]] = []
    told = _rows_told(tables, progress)
    with few_collections():
        for table in tables:
            merger.rejected = []
            rejects.append(merger.rejected)
            said = units or table.unit
            reader = RowReader(table, said or bare, findings, unit_said=bool(said))
            _merge_table(merger, table, reader, told)
        _link(merger, findings, progress)
    writer.finish()
    propose_alike(unit.conn, merger.fresh, findings)
    propose_designations(unit.conn, merger.fresh, findings)
    written = not wanted.preview and (wanted.keep_good or not merger.counts[REJECTED])
    headings = headings_of(tables)
    if written and wanted.remember:
        remember(unit.conn, headings, {**before, **fields, **_bare(wanted.units)})
    return Imported(
        read=merger.counts.total(),
        added=merger.counts["added"],
        changed=merger.counts["changed"],
        unchanged=merger.counts["unchanged"],
        rejected=merger.counts["rejected"],
        mapping=mapping_of(tables),
        columns=tuple(column for table in tables for column in columns_of(table)),
        findings=findings.listed(),
        counts=dict(findings.counts),
        written=written,
        preview=wanted.preview,
        rejects=tuple(_put_aside(path, tables, rejects)) if written else (),
        fresh=there.since(unit.conn),
        unit=bare,
        unit_assumed=not units and any(map(_unit_unsaid, tables)),
        remembered=before,
        headings=headings,
    )


def forget_answers(unit: UnitOfWork, path: Path, sheets: Sequence[Sheet]) -> bool:
    """Forget what was answered of lists with the headings of this file; whether anything was.

    Raises FileError as ``import_file`` does.
    """
    seen: list[tuple[str, ...]] = []

    def note(headings: tuple[str, ...]) -> Mapping[str, str]:
        seen.append(headings)
        return {}

    with suppress(WhichColumnError):
        read_tables(path, "", {}, Findings(path.name), note, sheets)
    return sum(forget(unit.conn, headings) for headings in seen) > 0


def _bare(units: str) -> dict[str, str]:
    return {BARE: units} if units else {}


def _unit_unsaid(table: Table) -> bool:
    """Whether a list has a column of sizes of which nothing says what they are in."""
    return not table.unit and any(
        (is_size(c.field) or c.field == "sizes") and not is_plain_number(c.field) and not c.unit
        for c in table.columns
    )


def _put_aside(
    path: Path, tables: Sequence[Table], rejects: Sequence[Sequence[PartRow]]
) -> Iterator[str]:
    """Write the rejected rows of each table beside the file; the files that were written."""
    for table, rows in zip(tables, rejects, strict=True):
        if rows:
            yield str(write_rejects(path, table, rows, several=len(tables) > 1))


def _merge_table(
    merger: Merger, table: Table, reader: RowReader, told: Callable[[int], None]
) -> None:
    for rows in _chunks(reader.rows()):
        merger.chunk(table.sheet.name, rows)
        told(merger.counts.total())


def _rows_told(tables: Iterable[Table], progress: Progress | None) -> Callable[[int], None]:
    """Tells how many rows are done of all that the tables may have."""
    if progress is None:
        return lambda _: None
    about = sum(max(0, table.sheet.about() - table.heading.line) for table in tables)
    return lambda done: progress("rows", done, max(done, about))


def _chunks(rows: Iterator[PartRow]) -> Iterator[list[PartRow]]:
    while chunk := list(islice(rows, CHUNK)):
        yield chunk


def _link(merger: Merger, findings: Findings, progress: Progress | None) -> None:
    """Record the links; a row that was unchanged without them is changed by a new one."""

    def say(row: LinkRow, column: str, kind: str, message: str) -> None:
        findings.add(row.sheet, row.line, column, kind, message)

    book = LinkBook(merger.writer, merger.fresh)
    linker = Linker(book, say)
    every, at = len(merger.links), 0
    for start in range(0, every, LINKS_AT_ONCE):
        rows = merger.links[start : start + LINKS_AT_ONCE]
        book.read_names(rows)
        for row in rows:
            linker.name(row)
        book.write()
    while merger.links:
        # What is done is let go: each row takes a kilobyte.
        rows, merger.links = merger.links[:LINKS_AT_ONCE], merger.links[LINKS_AT_ONCE:]
        book.read(rows)
        for row in rows:
            if progress is not None and at % LINKS_SHOWN == 0:
                progress("links", at, every)
            at += 1
            if linker.record(row) and row.outcome == UNCHANGED:
                merger.counts[UNCHANGED] -= 1
                merger.counts[CHANGED] += 1
        book.write()
    for gone, now in book.links.earlier.drop():
        message = f"{now.shown()} in place of {gone.shown()}, which {now.source} said before"
        findings.add("", 0, "serials", "replaced", message)
    for was, step in book.links.earlier_steps.drop():
        old, before, after = (
            " + ".join(book.names.part(ident).number for ident in ids)
            for ids in ((was.old,), [n for n, _ in was.news], [n for n, _ in step.news])
        )
        message = f"{old} is replaced by {after} now, in place of {before}, which its source said"
        findings.add("", 0, "replaced by", "replaced", f"{message} before")
