"""What lies on the bench, changed and removed."""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from xref.domain.line import needed_line, optional_line
from xref.domain.number import visible
from xref.domain.part import is_plain_number
from xref.errors import InputError
from xref.services.bench.bench import FOUND, MOST, MOST_ASSEMBLY, MOST_NOTE, question, typed
from xref.services.bench.photos import keep
from xref.services.changing.fact import NOTHING, Changed, Fact, joined
from xref.services.identify.habits import learn
from xref.services.question import Asked, named_sizes, understand
from xref.store.notes import bench
from xref.store.notes.bare_unit import default_unit
from xref.store.notes.bench import BenchItem
from xref.store.read.links import find_machine
from xref.store.read.load import load_parts
from xref.store.write import facts
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "label", "bench"
DECISION, OUTCOME = "decision", "outcome"
LISTS = {"mark": "marks", "cast": "casts", "cannot": "cannot"}
TEXTS = ("kind", "words", "cast_date", "built", "machine")
WITHOUT = (DECISION, OUTCOME, "assembly", "note", *FOUND, *LISTS, *TEXTS)
"""What can be taken from an item, besides any of its sizes and photos by name."""
_BARE = re.compile(r"[\d.,/ +-]+")


def fact_of(unit: UnitOfWork, item: BenchItem) -> Fact:
    """An item as a fact."""
    part = load_parts(unit.conn, [item.part_id])[0].number if item.part_id else "undecided"
    asked = item.asked
    marks = " | ".join([*asked.get("marks", ()), *asked.get("casts", ())])
    sizes = ", ".join(f"{name} {text}" for name, text in asked.get("sizes", {}).items())
    answers = asked.get("seen", {})
    seen = [f"{name} {text}" for name, text in (*answers.items(), *item.found.items())]
    photos = [name for _, name in item.photos]
    says = joined(item.place, part, item.outcome, item.why, item.machine, item.assembly)
    says = joined(says, marks, sizes, str(asked.get("words", "")), *seen, item.note, *photos)
    return Fact(item.id, KIND, "", says)


def change(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    label: int,
    *,
    place: str | None = None,
    assembly: str | None = None,
    note: str | None = None,
    found: Mapping[str, str] | None = None,
    asked: Mapping[str, Any] | None = None,
    photos: Sequence[Path] = (),
    without: Collection[str] = (),
) -> Changed:
    """Change what is given of one item and leave the rest.

    ``asked`` maps fields of ``Asked`` to what was seen or measured instead; sizes are put in by
    name. ``without`` names what goes: one of WITHOUT, a size, a photo. What an item that is decided
    had taught of how marks are read is learned anew. Raises NotFoundError for a label that is not
    there, InputError for what ``bench add`` refuses.
    """
    held = bench.item(unit.conn, label)
    if place is assembly is note is None and not (found or asked or photos or without):
        raise NOTHING
    before = fact_of(unit, held)
    query = _asked(unit, held, asked or {}, without)
    understand(query)
    machine = find_machine(unit.conn, query.machine) if query.machine else None
    row: dict[str, Any] = {
        "place": held.place if place is None else needed_line(place, MOST, "place"),
        "assembly": _line(assembly, held.assembly, MOST_ASSEMBLY, "assembly", without),
        "note": _line(note, held.note, MOST_NOTE, "note", without),
        "found": _text(_found(held, found or {}, without)),
        "asked": _text(typed(query)),
        "machine_id": machine.id if machine else None,
    }
    decided = None if DECISION in without else held.part_id
    if decided is None:
        row |= {"part_id": None, "odds": None, "decided_at": ""}
    if decided is None or OUTCOME in without:
        row |= {"outcome": "", "why": "", "outcome_at": ""}
    for photo in photos:
        bench.add_photo(unit, label, *keep(unit.where, photo))
    _drop_photos(unit, held, without)
    bench.change_item(unit, label, row)
    _learn_anew(unit, held, query, decided)
    return Changed(before, fact_of(unit, bench.item(unit.conn, label)), _left(held, row))


def _left(held: BenchItem, row: Mapping[str, Any]) -> tuple[str, ...]:
    """What an outcome that goes had written down, and stays."""
    if not held.outcome or row.get("outcome") is None:
        return ()
    return (
        'What its outcome wrote down as "tried" stays: xref applies list and xref interchange '
        "list show it.",
    )


def _line(given: str | None, held: str, most: int, what: str, without: Collection[str]) -> str:
    if what in without:
        return ""
    return held if given is None else optional_line(given, most, what)


def _found(held: BenchItem, given: Mapping[str, str], without: Collection[str]) -> dict[str, str]:
    now = dict(held.found) | {n: needed_line(text, MOST, n) for n, text in given.items() if text}
    return {name: text for name, text in now.items() if name not in without}


def _asked(
    unit: UnitOfWork, held: BenchItem, given: Mapping[str, Any], without: Collection[str]
) -> Asked:
    """The question with what is given in its place, and without what goes."""
    query = question(held)
    now = {name: value for name, value in given.items() if name != "sizes"}
    typed_now = named_sizes(given.get("sizes", {}))
    now["seen"] = {**query.seen, **given.get("seen", {})}
    sizes = dict(named_sizes(query.sizes)) | _in_unit(typed_now, default_unit(unit.conn))
    photos = {name for _, name in held.photos}
    for name in without:
        if name in LISTS:
            now[LISTS[name]] = ()
        elif name in TEXTS:
            now[name] = ""
        elif name in now["seen"]:
            del now["seen"][name]
        elif name in sizes:
            del sizes[name]
        elif name not in WITHOUT and name not in photos:
            raise InputError(
                f'label {held.id} has no "{visible(name)}" to take away',
                f"Use {', '.join(WITHOUT)}, a size or a photo of it.",
            )
    return replace(query, **now, sizes=sizes)


def _in_unit(sizes: Mapping[str, str], unit: str) -> dict[str, str]:
    """Sizes as typed now, a bare one with the unit that it is in now: the others may have been
    measured when another was set."""
    named = "in" if unit.startswith("in") else "mm"
    lengths = {n: f"{t.strip()}{named}" for n, t in sizes.items() if _bare_length(n, t)}
    return dict(sizes) | lengths


def _bare_length(name: str, text: str) -> bool:
    return not is_plain_number(name) and _BARE.fullmatch(text.strip()) is not None


def _text(value: Mapping[str, Any]) -> str:
    return json.dumps(value, ensure_ascii=False)


def _drop_photos(unit: UnitOfWork, held: BenchItem, without: Collection[str]) -> None:
    """Forget photos by name; their files stay beside the store, so that an undo has them."""
    for name in {name for _, name in held.photos}.intersection(without):
        bench.drop_photo(unit, held.id, name)


def _learn_anew(unit: UnitOfWork, held: BenchItem, query: Asked, part_id: int | None) -> None:
    marks, was = understand(query).marks, understand(question(held)).marks
    if held.part_id is None or (part_id == held.part_id and marks == was):
        return
    (part,) = load_parts(unit.conn, [held.part_id])
    learn(unit, was, part, times=-1)
    if part_id is not None:
        learn(unit, marks, part)


def remove(unit: UnitOfWork, label: int) -> Changed:
    """Take an item off the bench book, with what its decision had taught; its photos' files stay.

    Raises NotFoundError for a label that is not there.
    """
    held = bench.item(unit.conn, label)
    before = fact_of(unit, held)
    if held.part_id is not None:
        (part,) = load_parts(unit.conn, [held.part_id])
        learn(unit, understand(question(held)).marks, part, times=-1)
    unit.delete(facts.ITEM, label)
    return Changed(before, None, _left(held, {"outcome": ""}))


def undecide(unit: UnitOfWork, label: int) -> Changed:
    """Take back what an item was decided to be."""
    return change(unit, label, without=(DECISION,))


def add_seen(unit: UnitOfWork, label: int, asked: Asked) -> Changed:
    """Add what was seen or measured since: marks to those before, sizes by name."""
    held = dict(bench.item(unit.conn, label).asked)
    given = {name: value for name, value in typed(asked).items() if name != "unit"}
    for name in ("marks", "casts"):
        if name in given:
            given[name] = tuple(dict.fromkeys([*held.get(name, ()), *given[name]]))
    return change(unit, label, asked=given)


def answer_check(unit: UnitOfWork, label: int, key: str, answer: str) -> Changed:
    """Answer the check called ``key``; "" for one that cannot be told."""
    held = bench.item(unit.conn, label).asked
    cannot = tuple(dict.fromkeys([*held.get("cannot", ()), key]))
    return change(unit, label, asked={"seen": {key: answer}} if answer else {"cannot": cannot})


def add_photo(unit: UnitOfWork, label: int, picture: bytes) -> None:
    """Keep one more photo of an item, a JPEG. Raises NotFoundError, FileError."""
    count = len(bench.item(unit.conn, label).photos) + 1
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / f"label-{label}-photo-{count}.jpg"
        file.write_bytes(picture)
        bench.add_photo(unit, label, *keep(unit.where, file))
