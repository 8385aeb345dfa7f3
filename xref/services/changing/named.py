"""Sources, models and machines: things that have a name of their own."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence

from sqlalchemy import Connection

from xref.domain.line import needed_line, one_line, optional_line
from xref.domain.machine import WORKS, Machine
from xref.domain.number import key, visible
from xref.errors import AmbiguousError, InputError, NotFoundError
from xref.services.changing.fact import NOTHING, Changed, Fact, joined
from xref.services.links.machine import MOST_COMPONENT, a_name, read_prefixes, serials_of
from xref.services.upkeep.history_words import table_words
from xref.store.notes import bench
from xref.store.read.links import ModelRow, find_machine, find_model, machines
from xref.store.read.queries import find_sources, sources
from xref.store.tables.links import machine as machine_table
from xref.store.tables.links import model as model_table
from xref.store.tables.tables import source as source_table
from xref.store.write import facts
from xref.store.write.link_unit import (
    drop_serial,
    ensure_model,
    note_component,
    remove_machine,
    set_prefixes,
    set_serial,
)
from xref.store.write.unit import UnitOfWork

SOURCE_WITHOUT = ("edition", "kind", "note")
MODEL_WITHOUT = ("maker", "prefixes")
"""What can be taken from a source, and from a model; from a machine, any serial but the works'."""


def _count(counts: Mapping[str, int]) -> str:
    """Rows by what they are called: 3 serial ranges, 1 mark."""
    return ", ".join(
        f"{count} {table_words(table)}{'s' if count > 1 else ''}" for table, count in counts.items()
    )


def _source(conn: Connection, text: str) -> tuple[int, str, str, str, str]:
    found = find_sources(conn, one_line(text))
    if not found:
        raise NotFoundError(f'no source is called "{visible(text)}"', "See xref source list.")
    if len(found) > 1:
        raise AmbiguousError(
            f'"{visible(text)}" is on record in {len(found)} editions',
            f"Say which: {', '.join(name for _, name in found)}.",
        )
    return next(row for row in sources(conn) if row[0] == found[0][0])


def source_fact(row: tuple[int, str, str, str, str]) -> Fact:
    """A source as a fact."""
    return Fact(row[0], "source", "", joined(f"{row[1]} {row[2]}".strip(), row[3], row[4]))


def change_source(
    unit: UnitOfWork,
    name: str,
    *,
    title: str | None = None,
    edition: str | None = None,
    kind: str | None = None,
    note: str | None = None,
) -> Changed:
    """Change what is given of a source and leave the rest (None); "" takes it away.

    Raises NotFoundError where there is none, InputError where another has that title and edition.
    """
    if title is edition is kind is note is None:
        raise NOTHING
    held = _source(unit.conn, name)
    row = {
        "title": held[1] if title is None else needed_line(title, 200, "title"),
        "edition": held[2] if edition is None else optional_line(edition, 80, "edition"),
        "kind": held[3] if kind is None else optional_line(kind, 40, "kind"),
        "note": held[4] if note is None else optional_line(note, 500, "note"),
    }
    alike = {"title": row["title"], "edition": row["edition"]}
    if facts.same_row(unit.conn, source_table, held[0], alike) is not None:
        there = f"{row['title']} {row['edition']}".strip()
        raise InputError(
            f"the source {there} is already there",
            f'If the two are one: xref source merge "{name}" "{there}".',
        )
    unit.update(source_table, held[0], row)
    now = next(found for found in sources(unit.conn) if found[0] == held[0])
    return Changed(source_fact(held), source_fact(now))


def merge_source(unit: UnitOfWork, name: str, into: str) -> Changed:
    """Let all that names the source ``name`` name ``into``, and remove ``name``."""
    held, other = _source(unit.conn, name), _source(unit.conn, into)
    if held[0] == other[0]:
        raise InputError(f"{held[1]} is that source itself", "Name two.")
    moved = facts.move_references(unit, source_table, held[0], other[0])
    unit.delete(source_table, held[0])
    now = f"{other[1]} {other[2]}".strip()
    return Changed(source_fact(held), None, _went(moved, now))


def _went(moved: Mapping[str, int], now: str) -> tuple[str, ...]:
    return (f"{_count(moved)} went to {now}.",) if moved else (f"Nothing had to go to {now}.",)


def remove_source(unit: UnitOfWork, name: str, keep_facts: bool = False) -> Changed:
    """Remove a source. Where facts are from it that is refused, unless they are to be kept without
    a source. Raises NotFoundError, InputError."""
    held = _source(unit.conn, name)
    cited = facts.references(unit.conn, source_table, held[0])
    if cited and not keep_facts:
        raise InputError(
            f"{held[1]} is the source of {_count(cited)}",
            "Let them go to another with xref source merge, or keep them without a source with "
            "--keep-facts.",
        )
    facts.move_references(unit, source_table, held[0], None)
    unit.delete(source_table, held[0])
    left = (f"Without a source now: {_count(cited)}.",) if cited else ()
    return Changed(source_fact(held), None, left)


def _model(conn: Connection, name: str) -> ModelRow:
    found = find_model(conn, name)
    if found is None:
        raise NotFoundError(f'no model is called "{visible(name)}"', "See xref model list.")
    return found


def model_fact(conn: Connection, row: ModelRow) -> Fact:
    """A model as a fact, with how much names it."""
    prefixes = f"serials {', '.join(row.prefixes)}" if row.prefixes else ""
    counts = facts.references(conn, model_table, row.id)
    values = {
        "name": row.name,
        "maker": row.maker or None,
        "prefixes": list(row.prefixes),
        "named_by": {table_words(table): count for table, count in counts.items()},
    }
    return Fact(row.id, "model", "", joined(row.name, row.maker, prefixes, _count(counts)), values)


def models(conn: Connection) -> list[Fact]:
    """Every model in order of name."""
    return [model_fact(conn, row) for row in facts.every_model(conn)]


def change_model(
    unit: UnitOfWork,
    name: str,
    *,
    new_name: str | None = None,
    maker: str | None = None,
    prefixes: Sequence[str] | None = None,
) -> Changed:
    """Change what is given of a model and leave the rest (None); "" and () take it away.

    Raises NotFoundError where there is none, InputError where another has that name.
    """
    if new_name is maker is prefixes is None:
        raise NOTHING
    held = _model(unit.conn, name)
    before = model_fact(unit.conn, held)
    if new_name is not None:
        shown = a_name(new_name, "model")
        there = find_model(unit.conn, shown)
        if there is not None and there.id != held.id:
            raise InputError(
                f"there is a model {there.name} already",
                f'If the two are one: xref model merge "{held.name}" "{there.name}".',
            )
        unit.update(model_table, held.id, {"name": shown, "key": key(shown)})
    if maker is not None:
        unit.update(model_table, held.id, {"maker_id": unit.ensure_maker(one_line(maker))})
    if prefixes is not None:
        set_prefixes(unit, held.id, read_prefixes(prefixes))
    now = next(row for row in facts.every_model(unit.conn) if row.id == held.id)
    return Changed(before, model_fact(unit.conn, now))


def merge_model(unit: UnitOfWork, name: str, into: str) -> Changed:
    """Let the machines, ranges and supersessions of the model ``name`` be of ``into``, and remove
    ``name``. A maker and prefixes that ``into`` lacks it takes over."""
    held, other = _model(unit.conn, name), _model(unit.conn, into)
    if held.id == other.id:
        raise InputError(f"{held.name} is that model itself", "Name two.")
    before = model_fact(unit.conn, held)
    if held.maker and not other.maker:
        ensure_model(unit, other.name, held.maker)
    if held.prefixes and not other.prefixes:
        set_prefixes(unit, other.id, held.prefixes)
    moved = facts.move_references(unit, model_table, held.id, other.id)
    unit.delete(model_table, held.id)
    return Changed(before, None, _went(moved, other.name))


def remove_model(unit: UnitOfWork, name: str) -> Changed:
    """Remove a model that nothing names. Raises NotFoundError, InputError."""
    held = _model(unit.conn, name)
    before = model_fact(unit.conn, held)
    named = facts.references(unit.conn, model_table, held.id)
    if named:
        raise InputError(
            f"{held.name} is named by {_count(named)}",
            f'Remove those first (xref applies list --model "{held.name}"), or let them go to '
            "another with xref model merge.",
        )
    unit.delete(model_table, held.id)
    return Changed(before)


def machine_fact(machine: Machine) -> Fact:
    """A machine as a fact."""
    serials = [f"{label} {held.serial}" for label, held in machine.serials.items()]
    return Fact(machine.id, "machine", "", joined(machine.name, machine.model, *serials))


def change_machine(
    unit: UnitOfWork,
    name: str,
    *,
    new_name: str | None = None,
    model: str | None = None,
    serials: Mapping[str, str] | None = None,
    without: Collection[str] = (),
) -> Changed:
    """Change what is given of a machine and leave the rest (None).

    ``serials`` maps components to theirs, each perhaps with where it is stamped after ``@``;
    ``without`` names components whose serial goes. Raises NotFoundError where there is no such
    machine, InputError where another has that name and for a serial without a number.
    """
    if new_name is model is None and not serials and not without:
        raise NOTHING
    held = find_machine(unit.conn, name)
    if new_name is not None:
        shown = a_name(new_name, "machine name")
        if any(key(m.name) == key(shown) and m.id != held.id for m in machines(unit.conn)):
            raise InputError(f"there is a machine {shown} already", "Use another name.")
        unit.update(machine_table, held.id, {"name": shown, "key": key(shown)})
        _rename_asked(unit, held.id, shown)
    if model is not None:
        on = ensure_model(unit, a_name(model, "model"))
        unit.update(machine_table, held.id, {"model_id": on.id})
    for label, given in serials_of(serials or {}).items():
        old = held.serials.get(label)
        where = given.stamped or (old.stamped if old and old.serial == given.serial else "")
        note_component(unit, label)
        set_serial(unit, held.id, label, given.serial, where)
    for text in without:
        _without_serial(unit, held, a_name(text, "component", MOST_COMPONENT).lower())
    now = next(m for m in machines(unit.conn) if m.id == held.id)
    return Changed(machine_fact(held), machine_fact(now))


def _without_serial(unit: UnitOfWork, held: Machine, label: str) -> None:
    if label == WORKS or label not in held.serials:
        others = [name for name in held.serials if name != WORKS]
        raise InputError(
            f"{held.name} has no {visible(label)} serial to take away"
            if label != WORKS
            else f"the works serial of {held.name} can be changed, not taken away",
            f"It has: {', '.join(others)}." if others else "Change it with --serial.",
        )
    drop_serial(unit, held.id, label)


def remove_named_machine(unit: UnitOfWork, name: str, keep_items: bool = False) -> Changed:
    """Remove a machine with its serials. Where bench items are from it, or something is wanted for
    it, that is refused, unless they are to be kept without a machine. Raises NotFoundError,
    InputError."""
    held = find_machine(unit.conn, name)
    labels = facts.bench_labels(unit.conn, held.id, None)
    wants = facts.want_numbers(unit.conn, machine_id=held.id)
    them = " and ".join(
        f"{what} {_few(numbers)}"
        for what, numbers in (("label", labels), ("wanted", wants))
        if numbers
    )
    if them and not keep_items:
        raise InputError(
            f"what is on the bench or wanted names {held.name}: {them}",
            "Remove them first, or keep them without a machine with --keep-items.",
        )
    _rename_asked(unit, held.id, "")
    for ident in wants:
        unit.update(facts.WANT, ident, {"machine_id": None})
    remove_machine(unit, held.id)
    left = (f"Without a machine now: {them}.",) if them else ()
    return Changed(machine_fact(held), None, left)


def _few(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers[:10])) + (" …" if len(numbers) > 10 else "")


def _rename_asked(unit: UnitOfWork, machine_id: int, name: str) -> None:
    """Let the questions of the bench items of a machine name it as it is called now."""
    for label in facts.bench_labels(unit.conn, machine_id, None):
        asked = dict(bench.item(unit.conn, label).asked)
        asked.pop("machine", None)
        if name:
            asked["machine"] = name
        row: dict[str, object] = {"asked": json.dumps(asked, ensure_ascii=False)}
        bench.change_item(unit, label, row if name else {**row, "machine_id": None})
