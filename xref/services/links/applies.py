"""Write down the ranges of serials that books give for a part."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from xref.domain.line import one_line, optional_line
from xref.domain.machine import WORKS, Applicability
from xref.domain.number import visible
from xref.domain.part import Part
from xref.domain.serial import read_serials
from xref.domain.serial_ends import read_from_to
from xref.domain.serial_range import SerialSet
from xref.domain.serial_text import MOST_STORED, stored
from xref.errors import InputError
from xref.services.links.machine import MOST_COMPONENT, MOST_NAME, a_name
from xref.services.parts.naming import mention_beside
from xref.services.parts.source import source_id_of
from xref.store.read.links import ModelRow, applicabilities, find_model
from xref.store.write.link_unit import ensure_model, in_its_place, note_component
from xref.store.write.unit import UnitOfWork

MOST_NOTE = 300
"""Characters of a note."""


@dataclass(frozen=True, slots=True)
class Applied:
    """An entry that was written down; ``made`` where its part is mentioned only from now on.

    ``replaced`` are what the same source said before, and that is in the history now.
    """

    part: Part
    entry: Applicability
    made: bool
    replaced: tuple[Applicability, ...] = ()


def serials_from(low: str, high: str) -> str:
    """``--from`` and ``--to`` as one range in plain writing; "" where neither is given."""
    return str(read_from_to(low, high)) if low or high else ""


def applies(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    number: str,
    *,
    model: str,
    serials: str = "",
    fits: bool = True,
    component: str = WORKS,
    assembly: str = "",
    quantity: float | None = None,
    source: str = "",
    note: str = "",
    maker: str | None = None,
) -> Applied:
    """Write down that a part belongs on a model over a range, or (``fits`` False) does not fit.

    A range of works serials without a prefix takes the model's, where it has just one. A number
    that is not there is made as mentioned only, under the maker of the model. What a named source
    says anew of the same part, model, component and assembly takes the place of what it said.
    Raises InputError for a range that is not understood.
    """
    there = find_model(unit.conn, a_name(model, "model"))
    named = mention_beside(unit, number, maker, there.maker if there else "")
    entry, held = entry_of(
        named.part,
        partial(ensure_model, unit),
        model=model,
        serials=serials,
        fits=fits,
        component=component,
        assembly=assembly,
        quantity=quantity,
        source=source,
        note=note,
    )
    note_component(unit, entry.component)
    source_id = source_id_of(unit, source)
    before = {e.id: e for e in applicabilities(unit.conn, [named.part.id])}
    in_its_place(unit, entry, held.id, serials.strip(), source_id)
    now = {e.id for e in applicabilities(unit.conn, [named.part.id])}
    gone = tuple(e for ident, e in before.items() if ident not in now)
    return Applied(named.part, entry, named.made, gone)


def entry_of(  # noqa: PLR0913 (one word of the command each)
    part: Part,
    model_named: Callable[[str, str], ModelRow],
    *,
    model: str,
    serials: str | SerialSet,
    fits: bool,
    component: str,
    assembly: str,
    quantity: float | None,
    source: str,
    note: str,
) -> tuple[Applicability, ModelRow]:
    """The entry that these words make of ``part``, and its model.

    ``model_named`` finds the model of a name, made for a maker where it is not there. ``serials``
    is a set where it is read already, or was not understood. Raises InputError.
    """
    if quantity is not None and not 0 < quantity <= 10_000:
        raise InputError(f"{quantity:g} is no quantity", "Give how many, such as 2.")
    counted = a_name(component, "component", MOST_COMPONENT).lower()
    held = model_named(a_name(model, "model"), part.own_maker)
    known = held.known(counted)
    wanted = read_serials(serials, known, counted) if isinstance(serials, str) else serials
    if len(held.prefixes) == 1 and counted == WORKS:
        wanted = wanted.with_prefix(held.prefixes[0])
    entry = Applicability(
        part_id=part.id,
        model=held.name,
        component=counted,
        serials=_not_too_long(wanted),
        fits=fits,
        assembly=optional_line(assembly, MOST_NAME, "assembly"),
        quantity=quantity,
        source=one_line(source),
        note=optional_line(note, MOST_NOTE, "note"),
    )
    return entry, held


def _not_too_long(wanted: SerialSet) -> SerialSet:
    if len(stored(wanted)) > MOST_STORED:
        shown = visible(str(wanted)[:60])
        raise InputError(f'"{shown}…" has too many pieces', "Write them as two entries.")
    return wanted
