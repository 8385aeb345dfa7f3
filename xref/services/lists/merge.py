"""Merge rows into the parts of the store, a chunk at a time, by maker and key."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import partial

from xref.domain.mark import read_mark
from xref.domain.number import MAX_MARK, plain, searchable, visible
from xref.domain.part import PartMark
from xref.errors import InputError
from xref.services.fit.by_size import SITS_BETWEEN
from xref.services.lists.draft import MENTIONED, Draft, Say, price_of
from xref.services.lists.fresh import fresh_record, maker_fault, note_or_fault, words_or_fault
from xref.services.lists.links import LinkRow, links_of, loose_cells
from xref.services.parts.part import STATUSES, takes_suffix
from xref.sheets.fields import NO_SOURCE
from xref.sheets.finding import Findings
from xref.sheets.part_row import PartRow
from xref.store.read.load import load_parts
from xref.store.write.bulk import BulkWriter
from xref.store.write.record import Record
from xref.store.write.sheet_facts import (
    Claim,
    Extra,
    claims_of,
    extras_of,
    prices_of,
    sources_of_parts,
    write_claims,
    write_extras,
    write_prices,
)

Name = tuple[int, str]
ADDED, CHANGED, UNCHANGED, REJECTED = "added", "changed", "unchanged", "rejected"


class Merger:
    """Merges the rows of one sheet after the other. ``counts`` holds what became of the rows."""

    def __init__(self, writer: BulkWriter, findings: Findings, source: str) -> None:
        self.writer = writer
        self.findings = findings
        self.source = source
        self.counts: Counter[str] = Counter()
        self.rejected: list[PartRow] = []
        self.links: list[LinkRow] = []
        self.fresh: dict[int, str] = {}
        self._mentioned: set[Name] = set()
        self._said: dict[int, frozenset[str]] = {}
        self._alike: dict[frozenset[str], frozenset[str]] = {}
        self._sheet = ""

    def chunk(self, sheet: str, rows: Sequence[PartRow]) -> None:
        """Merge these rows and write what they bring."""
        self._sheet = sheet
        named: list[tuple[PartRow, Name, str]] = []
        for row in rows:
            maker = self._maker(row)
            if row.reason:
                self.counts[REJECTED] += 1
                self.rejected.append(row)
            else:
                named.append((row, (self.writer.maker_of(maker)[0], row.key), maker))
        self._mentioned |= {n for row, n, _ in named if _status_in(row) == MENTIONED}
        drafts = self._held({name for _, name, _ in named})
        links: list[tuple[LinkRow, Draft]] = []
        for row, name, maker in named:
            draft = drafts.get(name)
            if draft is None:
                draft = drafts[name] = Draft(fresh_record(row, maker, name[0]), True)
                draft.part.source_id = self._source_id(self._source_of(row))
                draft.part.kind = draft.part.kind or row.guessed_kind
                self._merge(draft, row)
                outcome = ADDED
            else:
                outcome = CHANGED if self._merge(draft, row) else UNCHANGED
                if draft.said:
                    self._said[draft.part.id] = self._alike.setdefault(draft.said, draft.said)
            self.counts[outcome] += 1
            link = links_of(row, sheet, outcome, self._source_of(row))
            if link is not None:
                links.append((link, draft))
        self._write(drafts)
        for link, draft in links:
            link.part_id = draft.part.id
            self.links.append(link)

    def _maker(self, row: PartRow) -> str:
        maker = row.told.get("maker", "")
        if row.reason or not maker:
            return maker
        fault = maker_fault(maker)
        if fault:
            self._say(row, "maker", "maker", fault)
            row.extras.append(("maker", row.told.pop("maker"), 0))
            return ""
        if self.writer.maker_of(maker)[1]:
            row.reason = f"{maker} is a standard, and its rows come with the tables"
            self._say(row, "maker", "rejected", row.reason)
        return maker

    def _source_of(self, row: PartRow) -> str:
        """Who says what the row does: its own source, else the file; "" where it names none."""
        said = row.told.get("source", "")
        return "" if said == NO_SOURCE else said or self.source

    def _say(self, row: PartRow, column: str, kind: str, message: str) -> None:
        self.findings.add(self._sheet, row.line, column, kind, message)

    def _held(self, names: set[Name]) -> dict[Name, Draft]:
        ids = self.writer.ids_of(names)
        if not ids:
            return {}
        conn, every = self.writer.conn, list(ids.values())
        parts = {p.id: p for p in load_parts(conn, every)}
        extras, claims = extras_of(conn, every), claims_of(conn, every)
        prices = prices_of(conn, every)
        sources = sources_of_parts(conn, every)
        return {
            name: Draft(
                Record.of(parts[ident], name[0]),
                False,
                marks=parts[ident].marks,
                extras=tuple(extras.get(ident, ())),
                claims=tuple(claims.get(ident, ())),
                prices=tuple(prices.get(ident, ())),
                only_mentioned=name in self._mentioned,
                source=None if ident in self.fresh else sources.get(ident, ""),
                said=self._said.get(ident, frozenset()),
            )
            for name, ident in ids.items()
        }

    def _merge(self, draft: Draft, row: PartRow) -> bool:
        source = self.writer.source_name(self._source_of(row))
        say: Say = partial(self._say, row)
        told = row.told
        new = False
        completed = not draft.fresh and not draft.only_mentioned
        if draft.part.status == MENTIONED and "status" not in told and completed:
            new |= draft.fill("status", "current", source, say)
        if told:
            new |= self._plain_facts(draft, row, source, say)
        for size, nm in row.sizes.items():
            own = SITS_BETWEEN.get(size, size)
            new |= draft.fill_size(size if own in row.sizes else own, nm, source, say)
        for text, role in row.marks:
            mark = self._mark(row, text, role)
            new |= mark is not None and draft.add_mark(mark, source if "source" in told else "")
        if "claim" in told:
            field, sign, value = told["claim"].partition("=")
            if sign:
                new |= draft.take_claim(Claim(field.strip()[:40], value.strip(), source))
        return self._kept_facts(draft, row, say) or new

    def _kept_facts(self, draft: Draft, row: PartRow, say: Say) -> bool:
        new = False
        price = price_of(row)
        if price is not None:
            new |= draft.add_price(price)
        for label, value, why in loose_cells(row):
            if why:
                say(label, label, f"{why}; kept beside the part")
            row.extras.append((label, value, 0))
        for label, value, at in row.extras:
            new |= draft.keep(Extra(label, value, at))
        return new

    def _plain_facts(self, draft: Draft, row: PartRow, source: str, say: Say) -> bool:
        told = row.told
        new = False
        if "kind" in told:
            new |= draft.fill("kind", told["kind"], source, say)
        for name, read in (("words", words_or_fault), ("note", note_or_fault)):
            if name in told:
                text, fault = read(told[name])
                if fault:
                    say(name, name, f"{fault}; kept beside the part")
                    row.extras.append((name, told[name], 0))
                elif text:
                    new |= draft.fill(name, text, source, say)
        if "status" in told:
            new |= self._status(draft, row, source, say)
        return new

    def _status(self, draft: Draft, row: PartRow, source: str, say: Say) -> bool:
        status = _status_in(row)
        if status not in STATUSES:
            say("status", "status", f'"{visible(row.told["status"])}" is no status')
            row.extras.append(("status", row.told["status"], 0))
            return False
        if status == "current" and draft.part.status == "superseded":
            # A step that is on record says it better.
            return False
        if draft.fresh and not draft.status_said:
            # It is "current" only because no row has said anything of its status yet.
            draft.part.status = status
            draft.status_said = True
            return True
        if status == MENTIONED:
            # That says nothing against what is known.
            return False
        return draft.fill("status", status, source, say)

    def _mark(self, row: PartRow, text: str, role: str) -> PartMark | None:
        try:
            plain(text, MAX_MARK, "mark")
            if role == "number":
                searchable(text, "mark")
                if not read_mark(text).certain:
                    raise InputError(f'the mark "{visible(text)}" is not certain')
        except InputError as error:
            self._say(row, "mark", "mark", f"{error.message}; kept beside the part")
            row.extras.append((f"mark ({role})", text, 0))
            return None
        return PartMark(text, role)

    def _write(self, drafts: dict[Name, Draft]) -> None:
        writer, unit = self.writer, self.writer.unit
        every = list(drafts.values())
        added = [d.part for d in every if d.fresh]
        writer.add(added)
        self.fresh.update((p.id, p.words) for p in added)
        writer.change([d.part for d in every if d.dirty and not d.fresh])
        writer.add_marks(
            [
                (d.part.id, m, self._source_id(source), m.role == "number" and takes_suffix(m.text))
                for d in every
                for m, source in d.new_marks
            ]
        )
        write_extras(unit, [(d.part.id, e) for d in every for e in d.new_extras])
        write_prices(unit, [(d.part.id, p) for d in every for p in d.new_prices])
        claims = [(d.part.id, c) for d in every for c in d.new_claims]
        write_claims(unit, [(i, c.field, c.value, self._source_id(c.source)) for i, c in claims])

    def _source_id(self, title: str) -> int | None:
        if not title:
            return None
        if title == self.source:
            return self.writer.source_of(self.source[:200], "spreadsheet")
        return self.writer.source_of(title[:200])


def _status_in(row: PartRow) -> str:
    return row.told.get("status", "").casefold().replace(" ", "-")
