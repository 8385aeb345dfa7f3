"""The machines that the cells of a list name, by the models on record and those of the list."""

from __future__ import annotations

from collections.abc import Mapping

from xref.domain.serial import read_serials
from xref.errors import InputError
from xref.sheets.fields import MODELS
from xref.sheets.machine_cell import MachineCell, read_machines
from xref.store.write.bulk_links import BulkLinks


class MachinesNamed:
    """``note`` the cells of every row, then ``read`` them."""

    def __init__(self, links: BulkLinks) -> None:
        self._links = links
        self._own: dict[str, str] = {}
        self._known: dict[str, str] = {}
        self._seen: set[str] = set()
        self._read: dict[str, MachineCell] = {}

    def note(self, told: Mapping[str, str]) -> None:
        """Take up the names that stand alone, or in a plain list, in a row's cells."""
        for what in MODELS:
            text = told.get(what, "")
            if not text or text in self._seen:
                continue
            self._seen.add(text)
            found = read_machines(text, lambda _: "", lambda _: True)
            for fit in found.fits:
                plain = not fit.serials and not any(c.isdigit() for c in fit.model)
                if plain or (len(found.fits) == 1 and not found.rest and not fit.serials):
                    self._own.setdefault(fit.model.casefold(), fit.model)

    def read(self, text: str) -> MachineCell:
        """What a cell says of machines."""
        if text not in self._read:
            if len(self._read) > 10_000:
                self._read.clear()
            self._read[text] = read_machines(text, self.known, _reads)
        return self._read[text]

    def known(self, text: str) -> str:
        """The name of a model that is on record or that the list names; "" for none."""
        flat = text.casefold()
        if flat not in self._known:
            self._known[flat] = self._on_record(text)
        return self._known[flat] or self._own.get(flat, "")

    def _on_record(self, text: str) -> str:
        try:
            found = self._links.model(text)
        except InputError:
            return ""
        return found.name if found is not None else ""


def _reads(text: str) -> bool:
    try:
        read_serials(text)
    except InputError:
        return False
    return True
