"""Serials as rows hold them."""

from __future__ import annotations

from contextlib import suppress

from sqlalchemy import Connection, select

from xref.domain.serial import read_serial
from xref.domain.serial_range import SerialSet
from xref.domain.serial_text import from_stored
from xref.errors import InputError, StoreError
from xref.store.tables.links import machine, machine_serial


def serials_from(text: str, as_found: str) -> SerialSet:
    """The set that a row holds. Raises StoreError for what the store never wrote."""
    try:
        return from_stored(text, as_found)
    except ValueError as error:
        raise StoreError(
            f"the store holds serials that it never wrote: {error}", "Run xref check."
        ) from None


def prefixes_seen(conn: Connection, model_id: int) -> frozenset[tuple[str, str]]:
    """Components with each prefix that a serial of theirs has on a machine of the model."""
    query = select(machine_serial.c.component, machine_serial.c.serial).join(
        machine, machine.c.id == machine_serial.c.machine_id
    )
    found = set()
    for component, serial in conn.execute(query.where(machine.c.model_id == model_id)):
        with suppress(InputError):
            prefix = read_serial(serial, (), component).prefix
            found |= {(component, prefix)} if prefix else set()
    return frozenset(found)
