"""What sources said of ranges before an import in which they say it anew."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import func, select

from xref.domain.machine import Applicability
from xref.domain.supersession import Step
from xref.store.read.links import applicabilities
from xref.store.read.load import pieces
from xref.store.tables.links import applicability, supersession
from xref.store.write.link_unit import earlier_word
from xref.store.write.unit import UnitOfWork


class EarlierWords:
    """Entries that this import's own take the place of, but for what it says again: that is known
    when every row is in. To be made before the import writes its first."""

    def __init__(self, unit: UnitOfWork) -> None:
        self._unit = unit
        last = unit.conn.scalar(select(func.max(applicability.c.id)))
        self._last_before = int(last or 0)
        self._again: set[int] = set()
        self._gone: dict[int, Applicability] = {}

    def say_again(self, entry: Applicability) -> None:
        """Keep an entry on record that this import says again."""
        self._again.add(entry.id)

    def are_replaced(
        self, held: list[Applicability], entry: Applicability, model_id: int, source_id: int | None
    ) -> None:
        """Note which of ``held`` the new ``entry`` takes the place of. What was read is not given
        up for what was not understood."""
        there = any(o.id and self._was_there(o.id) and _alike(o, entry) for o in held)
        if there and not entry.serials.unread:
            before = earlier_word(self._unit, entry, model_id, source_id)
            self._gone.update((ident, entry) for ident in before if self._was_there(ident))

    def _was_there(self, ident: int) -> bool:
        """Whether an entry was there before this import wrote its first."""
        return ident <= self._last_before

    def drop(self) -> list[tuple[Applicability, Applicability]]:
        """Remove them, once every row is written: each with one that is in its place."""
        gone = {ident: now for ident, now in self._gone.items() if ident not in self._again}
        owners = list({now.part_id for now in gone.values()})
        conn = self._unit.conn
        every = {e.id: e for some in pieces(owners) for e in applicabilities(conn, some)}
        for ident in gone:
            self._unit.delete(applicability, ident)
        self._gone.clear()
        return [(every[ident], now) for ident, now in gone.items()]


def _alike(one: Applicability, other: Applicability) -> bool:
    """Whether two entries say the same but for the serials."""
    names = ("part_id", "model", "component", "fits", "assembly", "source")
    return all(getattr(one, name) == getattr(other, name) for name in names)


class EarlierSteps:
    """The same for supersessions: a source that names another number now does not say the number
    of before any more."""

    def __init__(self, unit: UnitOfWork) -> None:
        self._unit = unit
        self._last_before = int(unit.conn.scalar(select(func.max(supersession.c.id))) or 0)
        self._again: set[int] = set()
        self._gone: dict[int, tuple[Step, Step]] = {}

    def say_again(self, step: Step) -> None:
        """Keep a step on record that this import says again."""
        self._again.add(step.id)

    def are_replaced(self, held: Sequence[Step], step: Step, source: str) -> None:
        """Note which of ``held`` the new ``step`` of ``source`` takes the place of: those of the
        same source that hold for the same machines."""
        for other in held:
            there = 0 < other.id <= self._last_before and other.source == source
            if there and (other.model, other.condition) == (step.model, step.condition):
                self._gone.setdefault(other.id, (other, step))

    def drop(self) -> list[tuple[Step, Step]]:
        """Remove them, once every row is written: each with the one that is in its place."""
        gone = {ident: pair for ident, pair in self._gone.items() if ident not in self._again}
        for ident in gone:
            self._unit.delete(supersession, ident)
        self._gone.clear()
        return list(gone.values())
