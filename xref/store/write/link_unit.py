"""Writing machines, ranges, supersessions and interchanges, within a unit of work."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sqlalchemy import Connection, select

from xref.domain.machine import TRIED, WORKS, Applicability
from xref.domain.number import key
from xref.domain.serial_text import UNREAD, stored
from xref.domain.serial_words import COMPONENTS
from xref.domain.supersession import Step
from xref.store.read.links import ModelRow, find_model, order_instead, steps_forward
from xref.store.read.load import load_parts
from xref.store.read.near_names import new_name
from xref.store.tables.links import (
    NEW,
    WITH,
    applicability,
    interchange,
    machine,
    machine_serial,
    model,
    ordering,
    supersession,
    supersession_part,
)
from xref.store.write.unit import UnitOfWork


def ensure_model(unit: UnitOfWork, name: str, maker_name: str = "") -> ModelRow:
    """The model called ``name``, made where it is not there.

    A model without a maker takes ``maker_name``; a model that has one keeps it.
    """
    found = find_model(unit.conn, name)
    shown = " ".join(name.split())
    if found is None:
        maker_id = unit.ensure_maker(maker_name)
        row = {"maker_id": maker_id, "name": shown, "key": key(shown), "prefixes": ""}
        unit.news.append(new_name("model", shown, unit.conn.scalars(select(model.c.name)).all()))
        return ModelRow(unit.insert(model, row), shown, maker_name.strip(), ())
    if maker_name and not found.maker:
        unit.update(model, found.id, {"maker_id": unit.ensure_maker(maker_name)})
        return replace(found, maker=maker_name.strip())
    return found


def note_component(unit: UnitOfWork, component: str) -> None:
    """Say in ``unit.news`` that no range and no machine counts by this component yet."""
    known = {WORKS, *COMPONENTS}
    if component in known:
        return
    for table in (applicability, machine_serial):
        known.update(unit.conn.scalars(select(table.c.component).distinct()))
    if component not in known:
        unit.news.append(new_name("component", component, known))


def set_prefixes(unit: UnitOfWork, model_id: int, prefixes: Sequence[str]) -> None:
    """Write down the model's serial prefixes in order of build."""
    unit.update(model, model_id, {"prefixes": " ".join(prefixes)})


def add_machine(unit: UnitOfWork, name: str, model_id: int) -> int:
    """Add a machine and return its id."""
    shown = " ".join(name.split())
    return unit.insert(machine, {"name": shown, "key": key(shown), "model_id": model_id})


def set_serial(
    unit: UnitOfWork, machine_id: int, component: str, serial: str, stamped: str
) -> None:
    """Write down, or put right, the serial of one component of a machine."""
    same = (machine_serial.c.machine_id == machine_id, machine_serial.c.component == component)
    there = unit.conn.scalar(select(machine_serial.c.id).where(*same))
    row = {"machine_id": machine_id, "component": component, "serial": serial, "stamped": stamped}
    if there is None:
        unit.insert(machine_serial, row)
    else:
        unit.update(machine_serial, int(there), row)


def drop_serial(unit: UnitOfWork, machine_id: int, component: str) -> None:
    """Remove the serial of one component of a machine."""
    same = (machine_serial.c.machine_id == machine_id, machine_serial.c.component == component)
    for ident in list(unit.conn.scalars(select(machine_serial.c.id).where(*same))):
        unit.delete(machine_serial, ident)


def remove_machine(unit: UnitOfWork, machine_id: int) -> None:
    """Remove a machine with its serials."""
    of_it = select(machine_serial.c.id).where(machine_serial.c.machine_id == machine_id)
    for ident in list(unit.conn.scalars(of_it)):
        unit.delete(machine_serial, ident)
    unit.delete(machine, machine_id)


def add_applicability(
    unit: UnitOfWork, entry: Applicability, model_id: int, as_found: str, source_id: int | None
) -> int:
    """Write down one entry and return its id; the same entry twice is one."""
    row = applicability_row(entry, model_id, as_found, source_id)
    same = [
        applicability.c[name].is_(None) if value is None else applicability.c[name] == value
        for name, value in row.items()
        if name != "as_found" or entry.serials.unread
    ]
    there = unit.conn.scalar(select(applicability.c.id).where(*same))
    return int(there) if there is not None else unit.insert(applicability, row)


def applicability_row(
    entry: Applicability, model_id: int, as_found: str, source_id: int | None
) -> dict[str, object]:
    """The row of one entry."""
    return {
        "part_id": entry.part_id,
        "model_id": model_id,
        "component": entry.component,
        "serials": stored(entry.serials),
        "as_found": as_found,
        "fits": entry.fits,
        "assembly": entry.assembly,
        "quantity": entry.quantity,
        "note": entry.note,
        "source_id": source_id,
    }


def earlier_word(
    unit: UnitOfWork, entry: Applicability, model_id: int, source_id: int | None
) -> list[int]:
    """Ids of what the same source said before of what ``entry`` says anew.

    Where the source is not named, or is a trial, only what was not understood is meant: two
    ranges of no source may both hold, and each trial is of one machine.
    """
    a = applicability.c
    same_source = a.source_id.is_(None) if source_id is None else a.source_id == source_id
    query = select(a.id).where(
        a.part_id == entry.part_id,
        a.model_id == model_id,
        a.component == entry.component,
        a.fits == entry.fits,
        a.assembly == entry.assembly,
        same_source,
    )
    if source_id is None or entry.source == TRIED:
        query = query.where(a.serials == UNREAD)
    return [int(ident) for ident in unit.conn.scalars(query)]


def in_its_place(
    unit: UnitOfWork, entry: Applicability, model_id: int, as_found: str, source_id: int | None
) -> int:
    """As ``add_applicability``, in place of what the same source said before. What was read is
    not given up for what was not understood."""
    before = [] if entry.serials.unread else earlier_word(unit, entry, model_id, source_id)
    ident = add_applicability(unit, entry, model_id, as_found, source_id)
    for other in before:
        if other != ident:
            unit.delete(applicability, other)
    return ident


def add_step(unit: UnitOfWork, step: Step, source_id: int | None) -> int:
    """Write down one supersession step and return its id."""
    ident = unit.insert(
        supersession,
        {
            "old_id": step.old,
            "kind": step.kind,
            "serves_back": step.serves_back,
            "model_id": step.model,
            "serials": stored(step.condition),
            "as_found": step.as_found,
            "dated": step.dated,
            "reason": step.reason,
            "source_id": source_id,
        },
    )
    rows = [(new, NEW, quantity) for new, quantity in step.news]
    rows += [(other, WITH, 1.0) for other in step.companions]
    for part_id, role, quantity in rows:
        row = {"supersession_id": ident, "part_id": part_id, "role": role, "quantity": quantity}
        unit.insert(supersession_part, row)
    return ident


def step_on_record(conn: Connection, step: Step, source_id: int | None) -> bool:
    """Whether a step with nothing different, from the same source, is on record."""
    wanted = _any_order(step)
    same = [
        held.id
        for held in steps_forward(conn, [step.old]).get(step.old, ())
        if _any_order(held) == wanted
    ]
    query = select(supersession.c.source_id).where(supersession.c.id.in_(same))
    return source_id in conn.scalars(query).all()


def _any_order(step: Step) -> Step:
    """The step by what it says alone: in a set or a choice none comes first."""
    news, companions = tuple(sorted(step.news)), tuple(sorted(step.companions))
    return replace(step, id=0, source="", news=news, companions=companions)


def add_interchange(
    unit: UnitOfWork,
    pair: tuple[int, int],
    grade: str,
    both_ways: bool,
    note: str,
    source_id: int | None,
) -> int:
    """Write down that the first of ``pair`` serves for the second, and return the id.

    Of a pair that is there in this grade, the note and the source stay where none is given now.
    """
    same = (
        interchange.c.part_id == pair[0],
        interchange.c.other_id == pair[1],
        interchange.c.grade == grade,
    )
    row = {
        "part_id": pair[0],
        "other_id": pair[1],
        "grade": grade,
        "both_ways": both_ways,
        "note": note,
        "source_id": source_id,
    }
    held = select(interchange.c.id, interchange.c.note, interchange.c.source_id).where(*same)
    there = unit.conn.execute(held).first()
    if there is None:
        return unit.insert(interchange, row)
    row["note"] = note or there.note
    row["source_id"] = there.source_id if source_id is None else source_id
    unit.update(interchange, there.id, row)
    return int(there.id)


def join_groups(unit: UnitOfWork, part_id: int, group: str) -> None:
    """Make a part of the user's own the same physical thing as ``group``."""
    (record,) = load_parts(unit.conn, [part_id])
    unit.change_part(part_id, replace(record, group=group))


def set_order_instead(unit: UnitOfWork, part_id: int, text: str) -> None:
    """Write down what to order in place of a part that is not sold separately; "" for nothing."""
    held = order_instead(unit.conn, part_id)
    if held == text:
        return
    here = ordering.c.part_id == part_id
    if not held:
        unit.conn.execute(ordering.insert(), {"part_id": part_id, "order_instead": text})
    elif text:
        unit.conn.execute(ordering.update().where(here).values(order_instead=text))
    else:
        unit.conn.execute(ordering.delete().where(here))
