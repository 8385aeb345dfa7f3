"""What an import makes that was not there before."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection

from xref.services.lists.imported import Fresh
from xref.store.read.made import highest_ids, names_since

MOST = 200
"""Names of a sort that are told. Judged."""


@dataclass(frozen=True, slots=True)
class Highest:
    """The highest ids of makers, models, sources and parts at one moment."""

    ids: tuple[int, int, int, int]

    @classmethod
    def now(cls, conn: Connection) -> Highest:
        """As they are now."""
        return cls(highest_ids(conn))

    def since(self, conn: Connection) -> Fresh:
        """What was made since; of parts only those that nothing but a link names."""
        return Fresh(*(tuple(some) for some in names_since(conn, self.ids, MOST)))
