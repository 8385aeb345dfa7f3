"""Machines of the user's, with their serials."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from sqlalchemy import Connection

from xref.domain.line import needed_line, optional_line
from xref.domain.machine import WORKS, Machine, MachineSerial
from xref.domain.number import key, plain, visible
from xref.domain.serial import read_serial
from xref.errors import InputError
from xref.store.read.links import find_machine, machines
from xref.store.write.link_unit import (
    add_machine,
    ensure_model,
    note_component,
    set_prefixes,
    set_serial,
)
from xref.store.write.unit import UnitOfWork

MOST_NAME = 80
MOST_COMPONENT = 40
MOST_SERIAL = 60
MOST_STAMPED = 120
MOST_PREFIX = 8
"""Characters of a name, a component, a serial, the place where it is stamped, and a prefix."""
MOST_PREFIXES = 20
"""Prefixes of one model. Judged."""


@dataclass(frozen=True, slots=True)
class Added:
    """A machine as it is now; ``known`` where it was there before.

    ``changed`` names each component whose serial is another now, with the old one and the new.
    """

    machine: Machine
    known: bool
    changed: tuple[tuple[str, str, str], ...]


def add(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    name: str,
    *,
    model: str,
    serial: str,
    maker: str = "",
    components: Mapping[str, str] | None = None,
    stamped: str = "",
    prefixes: Sequence[str] = (),
) -> Added:
    """Add a machine, or add serials to one that is there.

    ``serial`` is the works serial; ``components`` maps others (engine, gearbox …) to theirs,
    each perhaps with where it is stamped after ``@``. ``prefixes`` are the model's serial
    prefixes in order of build. Where a serial is there already and is given again, the place it is
    stamped at stays unless another is given. Raises InputError for a serial without a number, and
    for another maker than the model has.
    """
    shown = a_name(name, "machine name")
    held = ensure_model(unit, a_name(model, "model"), maker)
    if maker and key(maker) != key(held.maker):
        raise InputError(
            f"{held.name} is on record as {held.maker}'s",
            "Leave --maker out, or give the other model a name of its own.",
        )
    if prefixes:
        set_prefixes(unit, held.id, read_prefixes(prefixes))
    there = [m for m in machines(unit.conn) if key(m.name) == key(shown)]
    if there and there[0].model_id != held.id:
        raise InputError(
            f"{there[0].name} is on record as a {there[0].model}",
            "Remove it first with xref machine remove, or use another name.",
        )
    before = there[0].serials if there else {}
    ident = there[0].id if there else add_machine(unit, shown, held.id)
    for label, given in _serials(serial, stamped, components or {}).items():
        note_component(unit, label)
        old = before.get(label)
        where = given.stamped or (old.stamped if old and old.serial == given.serial else "")
        set_serial(unit, ident, label, given.serial, where)
    now = find_machine(unit.conn, shown)
    changed = [
        (label, old.serial, now.serials[label].serial)
        for label, old in before.items()
        if old.serial != now.serials[label].serial
    ]
    return Added(now, bool(there), tuple(changed))


def _serials(serial: str, stamped: str, components: Mapping[str, str]) -> dict[str, MachineSerial]:
    """Every serial by its component. Raises InputError for what is none, or is given twice."""
    texts = {WORKS: f"{serial}@{stamped}" if stamped else serial}
    for component, text in components.items():
        label = a_name(component, "component", MOST_COMPONENT).lower()
        if label in texts:
            hint = "Give it with --serial alone." if label == WORKS else "Leave one of them out."
            raise InputError(f"the {label} serial is given twice", hint)
        texts[label] = text
    return serials_of(texts)


def serials_of(texts: Mapping[str, str]) -> dict[str, MachineSerial]:
    """Serials by their components, each perhaps with where it is stamped after ``@``."""
    return {
        a_name(component, "component", MOST_COMPONENT).lower(): _stamped_serial(text)
        for component, text in texts.items()
    }


def _stamped_serial(text: str) -> MachineSerial:
    number, _, where = text.partition("@")
    read_serial(number)
    return MachineSerial(
        needed_line(number, MOST_SERIAL, "serial"),
        optional_line(where, MOST_STAMPED, "place where it is stamped"),
    )


def read_prefixes(texts: Sequence[str]) -> list[str]:
    """Serial prefixes in upper case, each once. Raises InputError for what is no prefix."""
    found: dict[str, None] = {}
    for text in texts:
        prefix = plain(text, MOST_PREFIX, "prefix")
        if not _is_prefix(prefix):
            raise InputError(f'"{visible(text)}" is no serial prefix', "Write letters, such as QW.")
        found[prefix] = None
    if len(found) > MOST_PREFIXES:
        raise InputError(f"{len(found)} prefixes are given; the most is {MOST_PREFIXES}")
    return list(found)


def _is_prefix(text: str) -> bool:
    try:
        return read_serial(f"{text}1").prefix == text
    except InputError:
        return False


@lru_cache(maxsize=1024)
def a_name(text: str, what: str, most: int = MOST_NAME) -> str:
    """A name on one line; InputError where it is too long, or has no letter or digit in it."""
    line = needed_line(text, most, what)
    key(line)
    return line


def every(conn: Connection) -> list[Machine]:
    """Every machine in order of name."""
    return machines(conn)
