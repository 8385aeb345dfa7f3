"""The door for other programs: one store, and on it the same words as the commands."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from xref.services.identified import Identified
from xref.services.identify import identify
from xref.services.query import Asked, understand
from xref.settings import store_target
from xref.store.engine import Store, open_engine
from xref.store.queries import default_unit

if TYPE_CHECKING:
    from xref.services.donors import Donor
    from xref.services.equivalents import Equivalents
    from xref.services.importing import Imported
    from xref.services.tracing import Traced


class OpenStore:
    """An open store. Each method takes what its command takes and returns what it prints."""

    def __init__(self, store: Store) -> None:
        self.store = store

    @property
    def notices(self) -> tuple[str, ...]:
        """What opening the store did (made it, refreshed its tables), for the person to read."""
        return tuple(self.store.notices)

    def identify(
        self,
        *,
        mark: Sequence[str] = (),
        cast: Sequence[str] = (),
        size: Mapping[str, str] | None = None,
        limit: int = 10,
        **words: str,
    ) -> Identified:
        """Ranked answers for what was found. ``size`` maps names to text ("bore": "20 mm");
        ``words`` may hold kind, words, tool, condition, cast_date, built, machine."""
        asked = Asked(marks=mark, casts=cast, sizes=size or {}, **words)
        return self.answer(asked, limit)

    def answer(self, asked: Asked, limit: int = 10) -> Identified:
        """The answer to a question already gathered."""
        with self.store.reading() as conn:
            query = understand(replace(asked, unit=default_unit(conn)))
            return identify(conn, query, limit)

    def equivalents(
        self,
        number: str | None = None,
        *,
        size: Mapping[str, str] | None = None,
        kind: str = "",
        maker: str | None = None,
    ) -> Equivalents:
        """What else will do for a number, or for sizes."""
        from xref.services.equivalents import equivalents

        with self.store.reading() as conn:
            return equivalents(conn, number, size or {}, kind, maker)

    def trace(self, number: str, *, maker: str | None = None, machine: str | None = None) -> Traced:
        """What a number is sold as now, and what it replaced."""
        from xref.services.tracing import trace

        with self.store.reading() as conn:
            return trace(conn, number, maker, machine)

    def donor(self, numbers: Sequence[str], *, machine: str | None = None) -> Donor:
        """The serials that the parts of an odd assembly share."""
        from xref.services.donors import donor

        with self.store.reading() as conn:
            return donor(conn, numbers, machine)

    def import_file(
        self,
        path: str | Path,
        *,
        sheet: str = "",
        map: Mapping[str, str] | None = None,
        units: str = "",
        preview: bool = False,
        keep_good: bool = False,
        progress: Callable[[str, int, int], None] | None = None,
    ) -> Imported:
        """Merge a spreadsheet's parts into the store: all of them, or none where a row is
        rejected, unless ``keep_good``. ``map`` maps columns to fields. ``progress`` is told what is
        being brought in (rows, links), how many are done, and about how many there are."""
        from xref.services.importing import Wanted, import_file
        from xref.store.rehearsal import rehearsing

        wanted = Wanted(sheet, map or {}, units, preview, keep_good)
        door = rehearsing if preview else Store.writing
        with door(self.store, "import") as unit:
            done = import_file(unit, Path(path), wanted, progress)
            if done.written:
                unit.commit()
        return done


@contextmanager
def open_store(path_or_url: str | None = None) -> Iterator[OpenStore]:
    """Open the store at a path or URL (None: the variable or the user's data folder).

    It is made and seeded where there is none. Raises StoreError where it cannot be used.
    """
    store = open_engine(store_target(path_or_url))
    try:
        yield OpenStore(store)
    finally:
        store.close()
