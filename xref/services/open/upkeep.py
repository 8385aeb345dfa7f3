"""The history, the store's soundness, and what it has learned or was set to."""

from __future__ import annotations

from xref.domain.steps import Steps, silent
from xref.services.identify import habits
from xref.services.open.group import Group, reads, writes
from xref.services.upkeep.check import check, mend
from xref.services.upkeep.history import history, take_back
from xref.store.notes.bare_unit import default_unit, set_default_unit
from xref.store.upkeep.checking import Fault
from xref.store.write.unit import UnitOfWork


def _mend(unit: UnitOfWork, steps: Steps) -> None:
    mend(unit, steps)
    steps("writing it down")


class Upkeep(Group):
    """What keeps a store sound, and takes back what went wrong."""

    history = reads(history)
    undo = writes("undo", take_back, watched=False)
    learned = reads(habits.told)
    forget_learned = writes("reading reset", habits.reset)
    unit = reads(default_unit)
    set_unit = writes("unit", set_default_unit)

    def check(self, steps: Steps = silent) -> list[Fault]:
        """Everything that is not as it must be; ``steps`` is told what is looked at."""
        with self._store.reading() as conn:
            return check(conn, self._store.where, steps)

    def mend(self, steps: Steps = silent) -> None:
        """Make anew what follows from the parts, also where the seal does not fit.

        Raises StoreError where SQLite's own check finds damage.
        """
        self._store.keep_as_it_is()
        writes("check --mend", _mend, watched=False)(self, steps)
