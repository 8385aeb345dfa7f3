"""Write down the ranges of serials that books give for a part."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from xref.domain.line import one_line, optional_line
from xref.domain.machine import WORKS, Applicability
from xref.domain.number import visible
from xref.domain.part import Part
from xref.domain.serial import read_serial, read_serials
from xref.domain.serial_range import SerialRange, SerialSet
from xref.errors import InputError
from xref.services.machines import MOST_COMPONENT, MOST_NAME, a_name
from xref.services.naming import mention_beside, source_named
from xref.store.link_unit import add_applicability, ensure_model
from xref.store.links import ModelRow, find_model
from xref.store.unit import UnitOfWork

MOST_NOTE = 300
"""Characters of a note."""


@dataclass(frozen=True, slots=True)
class Applied:
    """An entry that was written down; ``made`` where its part is mentioned only from now on."""

    part: Part
    entry: Applicability
    made: bool


def serials_from(low: str, high: str) -> str:
    """``--from`` and ``--to`` as one range in plain writing; "" where neither is given."""
    if low and high:
        first = read_serial(low)
        last = read_serial(high)
        if not last.prefix:
            last = type(last)(first.prefix, last.number, last.suffix)
        return str(read_serials(f"{first}-{last}"))
    if low:
        return str(SerialSet((SerialRange(read_serial(low), None),)))
    return str(SerialSet((SerialRange(None, read_serial(high)),))) if high else ""


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
    that is not there is made as mentioned only, under the maker of the model. Raises InputError for
    a range that is not understood.
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
    add_applicability(unit, entry, held.id, serials.strip(), source_named(unit.conn, source))
    return Applied(named.part, entry, named.made)


def entry_of(  # noqa: PLR0913 (one word of the command each)
    part: Part,
    model_named: Callable[[str, str], ModelRow],
    *,
    model: str,
    serials: str,
    fits: bool,
    component: str,
    assembly: str,
    quantity: float | None,
    source: str,
    note: str,
) -> tuple[Applicability, ModelRow]:
    """The entry that these words make of ``part``, and its model.

    ``model_named`` finds the model of a name, made for a maker where it is not there. Raises
    InputError.
    """
    if quantity is not None and not 0 < quantity <= 10_000:
        raise InputError(f"{quantity:g} is no quantity", "Give how many, such as 2.")
    held = model_named(a_name(model, "model"), part.own_maker)
    wanted = read_serials(serials)
    counted = a_name(component, "component", MOST_COMPONENT).lower()
    if len(held.prefixes) == 1 and counted == WORKS:
        wanted = wanted.with_prefix(held.prefixes[0])
    entry = Applicability(
        part_id=part.id,
        model=held.name,
        component=counted,
        serials=_canonical(wanted, serials),
        fits=fits,
        assembly=optional_line(assembly, MOST_NAME, "assembly"),
        quantity=quantity,
        source=one_line(source),
        note=optional_line(note, MOST_NOTE, "note"),
    )
    return entry, held


def _canonical(wanted: SerialSet, serials: str) -> str:
    text = str(wanted)
    if len(text) > 300:
        raise InputError(f'"{visible(serials)}" has too many pieces', "Write them as two entries.")
    return text
