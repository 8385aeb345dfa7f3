"""What the links of many rows are read from and written to: names and links, in bulk."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from xref.domain.part import Part
from xref.services.lists.links import LinkRow
from xref.services.lists.several import perhaps_numbers
from xref.services.parts.source import source_id_of
from xref.sheets.chain_cell import STEPS
from xref.sheets.fields import MODELS, ORDER_INSTEAD
from xref.store.write.bulk import BulkWriter
from xref.store.write.bulk_links import BulkLinks
from xref.store.write.bulk_names import BulkNames

_LISTS = ("replaces", "replaced by", "interchange")


class LinkBook:
    """``read`` the rows, record them in ``names`` and ``links``, then ``write``.

    ``fresh`` holds the ids of the parts that this import added.
    """

    def __init__(self, writer: BulkWriter, fresh: Collection[int]) -> None:
        new = set(fresh)
        self.names = BulkNames(writer, new)
        self.links = BulkLinks(writer, new)
        self._writer = writer
        self.unit = writer.unit
        self._fresh = fresh
        self._asked: set[str] = set()
        self._sources: dict[str, int | None] = {}

    def read(self, rows: Sequence[LinkRow]) -> None:
        """Read what these rows name, and what is on record of it."""
        self.read_names(rows)
        links = self.links
        links.extras.read({row.part_id for row in rows})
        links.ranges.read({r.part_id for r in rows if not r.told.keys().isdisjoint(MODELS)})
        links.orders.read({r.part_id for r in rows if ORDER_INSTEAD in r.told})
        if any("interchange" in r.lists for r in rows):
            links.swaps.read(self.names.ids())
        if any(not r.lists.keys().isdisjoint(("replaces", "replaced by", STEPS)) for r in rows):
            for shelf in (links.steps, links.led):
                shelf.read(self.names.ids())

    def read_names(self, rows: Sequence[LinkRow]) -> None:
        """Read the numbers that these rows name, and no more."""
        self.names.read_ids({row.part_id for row in rows})
        self.names.read({number for row in rows for number in _numbers(row)})

    def write(self) -> None:
        """Write what was recorded since the last time, and hold nothing any longer."""
        self.names.flush()
        self.links.flush()
        self.names.forget()
        self.links.forget()

    def is_fresh(self, part: Part) -> bool:
        """Whether this import added the part."""
        return part.id in self._fresh

    def source_name(self, title: str) -> str:
        """Title and edition of the source that ``title`` names, made if it is not there."""
        if not title:
            return ""
        if title not in self._asked:
            self._asked.add(title)
            self._writer.source_of(title)
            # A new one may be named like another.
            self._sources.clear()
        return self._writer.source_name(title)

    def source(self, name: str) -> int | None:
        """As ``source.source_id_of``."""
        if name not in self._sources:
            self._sources[name] = source_id_of(self._writer.unit, name)
        return self._sources[name]

    def cycle(self, old: Part, news: Sequence[int]) -> tuple[str, ...]:
        """The numbers along the cycle that a step from ``old`` would close; () for none."""
        path = self.links.path(news, old.id)
        return (old.number, *(self.names.part(node).number for node in path)) if path else ()


def _numbers(row: LinkRow) -> Iterator[str]:
    for name in _LISTS:
        for cell in row.lists.get(name, ()):
            yield from perhaps_numbers(cell)
    if "change with" in row.told:
        yield from perhaps_numbers(row.told["change with"])
