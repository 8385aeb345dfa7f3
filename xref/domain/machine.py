"""A machine with its serials, and the ranges that books give for a part."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from xref.domain.serial import WORKS as WORKS
from xref.domain.serial import read_serial
from xref.domain.serial_range import IN, OUT, UNKNOWN, Serial, SerialSet
from xref.errors import InputError

TRIED = "tried"
"""The source of a fact that was found by fitting a part."""


@dataclass(frozen=True, slots=True)
class MachineSerial:
    """One serial as it is stamped; ``stamped`` says where, "" where that is not on record."""

    serial: str
    stamped: str = ""


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine of the user's: its model and its serials by component.

    ``prefixes`` is the model's order of build; () where the model does not list one.
    """

    name: str
    model: str
    maker: str
    prefixes: tuple[str, ...]
    serials: Mapping[str, MachineSerial]
    id: int = 0
    model_id: int = 0

    def order_of(self, component: str) -> tuple[str, ...]:
        """The order of build of this component's prefixes: the model's counts works serials."""
        return self.prefixes if component == WORKS else ()

    def serial_of(self, component: str) -> Serial | None:
        """The serial of a component, None where there is none on record that can be read.

        A works serial without a prefix has the model's, where the model has just one.
        """
        held = self.serials.get(component)
        if held is None:
            return None
        order = self.order_of(component)
        try:
            serial = read_serial(held.serial, order, component)
        except InputError:
            return None
        return replace(serial, prefix=order[0]) if not serial.prefix and len(order) == 1 else serial

    def to_json(self) -> dict[str, Any]:
        """The machine as one JSON document."""
        return {
            "name": self.name,
            "model": self.model,
            "maker": self.maker or None,
            "prefixes": list(self.prefixes),
            "serials": {
                component: {"serial": held.serial, "stamped": held.stamped or None}
                for component, held in self.serials.items()
            },
        }


@dataclass(frozen=True, slots=True)
class Applicability:
    """One entry of a book: a part on a model over ranges of one component's serials.

    ``serials`` may be a set that was not understood: whether it holds is unknown then. ``fits``
    False is the recorded fact that it does not fit there. ``quantity`` None is not known.
    ``as_found`` is how its serials were written, "" where nobody wrote any.
    """

    part_id: int
    model: str
    component: str
    serials: SerialSet
    fits: bool = True
    assembly: str = ""
    quantity: float | None = None
    source: str = ""
    note: str = ""
    id: int = 0
    as_found: str = field(default="", compare=False)

    def holds_for(self, machine: Machine) -> str:
        """``in``, ``out`` or ``unknown`` for the machine; only the same component is compared."""
        if self.model != machine.model:
            return UNKNOWN
        wanted = self._wanted(machine)
        serial = machine.serial_of(self.component)
        if serial is None:
            return IN if wanted.every else UNKNOWN
        return wanted.holds(serial, machine.order_of(self.component))

    def beside(self, machine: Machine) -> str:
        """``later`` where it all begins after the machine, ``earlier`` where it all ends before it.

        "" where it does neither, or cannot be compared.
        """
        serial = machine.serial_of(self.component)
        if self.holds_for(machine) != OUT or serial is None:
            return ""
        return self._wanted(machine).beside(serial, machine.order_of(self.component))

    def near_break(self, machine: Machine) -> str:
        """The end of a range near which the machine's serial lies, "" for none."""
        serial = machine.serial_of(self.component)
        if self.model != machine.model or serial is None:
            return ""
        return self._wanted(machine).near_break(serial)

    def _wanted(self, machine: Machine) -> SerialSet:
        """The range; one without a prefix has the model's, where the model has just one."""
        order = machine.order_of(self.component)
        return self.serials.with_prefix(order[0]) if len(order) == 1 else self.serials

    def shown(self) -> str:
        """The range with what it counts, as a person reads it."""
        counted = "" if self.component == WORKS else f" ({self.component} serials)"
        said = "" if self.fits else "does not fit "
        return f"{said}{self.model} {self.serials}{counted}"

    def to_json(self, machine: Machine | None = None) -> dict[str, Any]:
        """The entry as JSON, with what it says of ``machine`` where one is given."""
        told: dict[str, Any] = {
            "model": self.model,
            "component": self.component,
            "serials": None if self.serials.unread else str(self.serials),
            "as_found": self.serials.unread or None,
            "fits": self.fits,
            "assembly": self.assembly or None,
            "quantity": self.quantity,
            "source": self.source or None,
            "note": self.note or None,
        }
        if machine is not None:
            told["holds"] = self.holds_for(machine)
        return told
