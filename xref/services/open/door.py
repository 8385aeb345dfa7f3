"""The door for other programs: one store, and on it the same words as the commands."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from xref.domain.query import MOST_CANDIDATES
from xref.errors import InputError
from xref.services.identify.answer import Identified
from xref.services.identify.other_unit import answer_in
from xref.services.open.group import Group, writes
from xref.services.question import Asked
from xref.settings import store_target
from xref.store.notes.bare_unit import default_unit
from xref.store.open.engine import Store, open_engine

if TYPE_CHECKING:
    from xref.domain.new_name import NewName
    from xref.services.fit.equivalents import Equivalents
    from xref.services.links.belongs import Belonging
    from xref.services.links.donor import Donor
    from xref.services.links.ranged import Ranged
    from xref.services.links.trace import Traced
    from xref.services.lists import Imported
    from xref.services.lists.export import Exported
    from xref.services.open.bench import Bench, Wanted
    from xref.services.open.links import Interchanges, Marks, Ranges, Supersessions
    from xref.services.open.named import Machines, Models, Sources
    from xref.services.open.parts import Noted, Parts
    from xref.services.open.upkeep import Upkeep

Texts = str | Sequence[str]
"""One text, or several."""
Size = str | float
Sizes = Mapping[str, Size]
"""Sizes by name, as text with a unit or bare."""


class OpenStore:
    """An open store, and all that the commands can do with it.

    Each method takes what its command takes and returns what it prints; a command of several words
    is a method of a group: ``bench add`` is ``bench.add``. What is written is kept whole or not at
    all, and stands in the history. Unless ``patient``, writing does not wait for another writer.
    Every method may raise StoreError.
    """

    def __init__(self, store: Store, patient: bool = True) -> None:
        self.store = store
        self._patient = patient

    @property
    def where(self) -> str:
        """The path of the store, or the address of a shared one without its password."""
        return self.store.where

    @property
    def notices(self) -> tuple[str, ...]:
        """What opening the store did (made it, refreshed its tables), for the person to read."""
        return tuple(self.store.notices)

    @property
    def news(self) -> tuple[NewName, ...]:
        """The names of models, components, sources and makers that were made since it was opened,
        for whoever mistyped."""
        return tuple(self.store.news)

    @cached_property
    def bench(self) -> Bench:
        """The bench book."""
        from xref.services.open.bench import Bench

        return Bench(self.store, self._patient)

    @cached_property
    def wanted(self) -> Wanted:
        """What is to be got."""
        from xref.services.open.bench import Wanted

        return Wanted(self.store, self._patient)

    @cached_property
    def part(self) -> Parts:
        """The user's own parts."""
        from xref.services.open.parts import Parts

        return Parts(self.store, self._patient)

    @cached_property
    def noted(self) -> Noted:
        """Prices, claims and kept cells of parts."""
        from xref.services.open.parts import Noted

        return Noted(self.store, self._patient)

    @cached_property
    def mark(self) -> Marks:
        """What stands on the metal of parts."""
        from xref.services.open.links import Marks

        return Marks(self.store, self._patient)

    @cached_property
    def applies(self) -> Ranges:
        """The serials that parts belong on."""
        from xref.services.open.links import Ranges

        return Ranges(self.store, self._patient)

    @cached_property
    def supersede(self) -> Supersessions:
        """What takes the place of what."""
        from xref.services.open.links import Supersessions

        return Supersessions(self.store, self._patient)

    @cached_property
    def interchange(self) -> Interchanges:
        """What will do for what."""
        from xref.services.open.links import Interchanges

        return Interchanges(self.store, self._patient)

    @cached_property
    def machine(self) -> Machines:
        """Machines with their serials."""
        from xref.services.open.named import Machines

        return Machines(self.store, self._patient)

    @cached_property
    def model(self) -> Models:
        """The names of models."""
        from xref.services.open.named import Models

        return Models(self.store, self._patient)

    @cached_property
    def source(self) -> Sources:
        """Parts books and other places that knowledge comes from."""
        from xref.services.open.named import Sources

        return Sources(self.store, self._patient)

    @cached_property
    def upkeep(self) -> Upkeep:
        """The history, the store's soundness, and what it has learned or was set to."""
        from xref.services.open.upkeep import Upkeep

        return Upkeep(self.store, self._patient)

    def identify(  # noqa: PLR0913 (one word of the command each)
        self,
        *,
        mark: Texts = (),
        cast: Texts = (),
        bore: Size | None = None,
        outside: Size | None = None,
        width: Size | None = None,
        size: Sizes | None = None,
        kind: str = "",
        words: str = "",
        tool: str = "",
        condition: str = "",
        cast_date: str = "",
        built: str | int = "",
        machine: str = "",
        cannot: Texts = (),
        seen: Mapping[str, str] | None = None,
        limit: int = 10,
    ) -> Identified:
        """Ranked answers for what was found, at most ``limit`` (1 to 1,000).

        ``size`` maps other names to sizes ("section": "3.53mm"); a size without a unit, text or
        number, is in the store's. ``seen`` maps the keys of checks to what they showed, ``cannot``
        names those that cannot be told. Raises InputError for what is not understood.
        """
        asked = Asked(
            marks=_texts(mark),
            casts=_texts(cast),
            sizes=_sizes(size, bore, outside, width),
            kind=kind,
            words=words,
            tool=tool,
            condition=condition,
            cannot=_texts(cannot),
            seen={key: str(answer) for key, answer in (seen or {}).items()},
            cast_date=cast_date,
            built=str(built),
            machine=machine,
        )
        return self.answer(asked, limit)

    def answer(self, asked: Asked, limit: int = 10) -> Identified:
        """The answer to a question already gathered, with at most ``limit`` candidates."""
        if not 1 <= limit <= MOST_CANDIDATES:
            raise InputError(
                f"{limit} is no number of candidates", f"Use 1 to {MOST_CANDIDATES:,}."
            )
        with self.store.reading() as conn:
            return answer_in(conn, replace(asked, unit=default_unit(conn)), limit)

    def equivalents(  # noqa: PLR0913 (one word of the command each)
        self,
        number: str | None = None,
        *,
        bore: Size | None = None,
        outside: Size | None = None,
        width: Size | None = None,
        size: Sizes | None = None,
        kind: str = "",
        words: str = "",
        maker: str | None = None,
        machine: str | None = None,
    ) -> Equivalents:
        """What else will do for a number, or for sizes, written as ``identify`` takes them."""
        from xref.services.fit.equivalents import equivalents

        sizes = _sizes(size, bore, outside, width)
        with self.store.reading() as conn:
            return equivalents(conn, number, sizes, kind, maker, words, machine)

    def trace(self, number: str, *, maker: str | None = None, machine: str | None = None) -> Traced:
        """What a number is sold as now, and what it replaced."""
        from xref.services.links.trace import trace

        with self.store.reading() as conn:
            return trace(conn, number, maker, machine)

    def belongs(self, number: str, machine: str, *, maker: str | None = None) -> Belonging:
        """Whether a part belongs on a machine, and because of what."""
        from xref.services.links.belongs import answered

        with self.store.reading() as conn:
            return answered(conn, number, machine, maker)

    def donor(
        self, numbers: Texts = (), *, assembly: str = "", machine: str | None = None
    ) -> Donor:
        """The serials that the parts of an odd assembly share: of these numbers, or of what lies
        on the bench of an assembly. Raises InputError where both or neither are given."""
        from xref.services.links import donor as donors

        if assembly and numbers:
            raise InputError("numbers and an assembly are both given", "Give one or the other.")
        if assembly:
            return self.bench.donor(assembly, machine)
        with self.store.reading() as conn:
            return donors.donor(conn, _texts(numbers), machine)

    def ranged(
        self, numbers: Texts, *, maker: str | None = None, machine: str | None = None
    ) -> Ranged:
        """The serial ranges of some numbers beside a machine's own serial."""
        from xref.services.links.ranged import ranged

        with self.store.reading() as conn:
            return ranged(conn, _texts(numbers), maker, machine)

    def fill_with_demo(self) -> int:
        """Write the invented scenario down; how many parts it has."""
        from xref.services.demo import fill

        return writes("demo", fill)(Group(self.store, self._patient))

    def export_file(self, path: str | Path, *, kind: str = "") -> Exported:
        """Write the user's own parts to a csv or xlsx file, which imports again unchanged."""
        from xref.services.lists.export import export_file

        with self.store.reading() as conn:
            return export_file(conn, Path(path), kind)

    def import_file(  # noqa: PLR0913 (one word of the command each)
        self,
        path: str | Path,
        *,
        sheet: str = "",
        map: Mapping[str, str] | None = None,
        units: str = "",
        preview: bool = False,
        keep_good: bool = False,
        remember: bool = False,
        progress: Callable[[str, int, int], None] | None = None,
    ) -> Imported:
        """Merge a spreadsheet's parts into the store: all of them, or none where a row is
        rejected, unless ``keep_good``. ``map`` maps columns to fields; ``remember`` keeps that for
        files with the same headings. ``progress`` is told what is being brought in (rows, links),
        how many are done, and about how many there are. Raises WhichColumnError where no column
        is the part numbers for certain."""
        from xref.services.lists import Wanted, import_file
        from xref.sheets.reading import read_sheets
        from xref.store.upkeep.rehearsal import rehearsing

        wanted = Wanted(sheet, map or {}, units, preview, keep_good, remember)
        door = rehearsing if preview else Store.writing
        sheets = read_sheets(Path(path), sheet)
        with door(self.store, "import") as unit:
            done = import_file(unit, Path(path), wanted, progress, sheets)
            if done.written:
                unit.commit()
        return done

    def forget_answers(self, path: str | Path) -> bool:
        """Forget what was answered of files with the headings of this one; whether anything was."""
        from xref.services.lists.run import forget_answers
        from xref.sheets.reading import read_sheets

        sheets = read_sheets(Path(path), "")
        with self.store.writing("import --forget", watched=False) as unit:
            done = forget_answers(unit, Path(path), sheets)
            unit.commit()
        return done


def _texts(given: Texts) -> tuple[str, ...]:
    """``given`` as several texts: one alone is not taken for its characters."""
    return (given,) if isinstance(given, str) else tuple(given)


def _sizes(
    size: Sizes | None, bore: Size | None, outside: Size | None, width: Size | None
) -> dict[str, str]:
    """Every size by its name, as text. Raises InputError for one that is given twice."""
    short = {"bore": bore, "outside": outside, "width": width}
    sizes = {name: str(value) for name, value in short.items() if value is not None}
    for name, value in (size or {}).items():
        if name in sizes:
            raise InputError(f"{name} is given twice", "Leave one of them out.")
        sizes[name] = str(value)
    return sizes


@contextmanager
def open_store(
    path_or_url: str | Path | None = None, *, patient: bool = True
) -> Iterator[OpenStore]:
    """Open the store at a path or URL (None: the variable or the user's data folder).

    Unless ``patient``, writing to it does not wait for another writer. It is made and seeded where
    there is none. Raises StoreError where it cannot be used.
    """
    store = open_engine(store_target(str(path_or_url) if path_or_url else None))
    try:
        yield OpenStore(store, patient)
    finally:
        store.close()
