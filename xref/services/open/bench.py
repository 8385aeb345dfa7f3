"""The bench book, and what is wanted."""

from __future__ import annotations

from pathlib import Path

from xref.services.bench import bench, outcome, wanted
from xref.services.bench.photos import digest_of, kept_in
from xref.services.changing import items, wants
from xref.services.open.group import Group, reads, writes
from xref.store.notes import bench as book


class Bench(Group):
    """What lies on the bench, and what became of it."""

    add = writes("bench add", bench.add)
    keep = writes("identify --keep", bench.add)
    every = reads(book.items)
    item = reads(book.item)
    overview = reads(bench.overview)
    one = reads(bench.one)
    answer = reads(bench.answer_for)
    donor = reads(bench.donor)
    decide = writes("bench decide", bench.decide)
    outcome = writes("bench outcome", outcome.outcome)
    change = writes("bench change", items.change)
    undecide = writes("bench change", items.undecide)
    add_seen = writes("bench change", items.add_seen)
    answer_check = writes("bench change", items.answer_check)
    add_photo = writes("bench photo", items.add_photo)
    remove = writes("bench remove", items.remove)

    def photo(self, digest: str) -> Path | None:
        """The file of a kept photo; None where there is none of this hash."""
        kept = kept_in(self._store.where)
        return next((file for file in kept if digest_of(file) == digest), None)


class Wanted(Group):
    """What is to be got."""

    add = writes("wanted add", wanted.add)
    lines = reads(wanted.lines)
    done = writes("wanted done", wanted.done)
    change = writes("wanted change", wants.change)
    remove = writes("wanted remove", wants.remove)
