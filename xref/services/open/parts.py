"""The user's own parts, and what is noted with them."""

from __future__ import annotations

from collections.abc import Mapping

from xref.services.card import card
from xref.services.changing import noted, parts
from xref.services.changing.fact import Changed
from xref.services.changing.parts_corrected import correct
from xref.services.identify.slips import slips_of
from xref.services.open.group import Group, reads, writes
from xref.services.parts import part
from xref.services.parts.designated import look_up
from xref.store.read.queries import list_parts


class Parts(Group):
    """The user's own parts; the standards' can be looked at."""

    add = writes("part add", part.add)
    card = reads(card)
    listed = reads(list_parts)
    look_up = reads(look_up)
    namesake = reads(part.namesake)
    slips = reads(slips_of)
    change = writes("part change", correct)
    remove = writes("part remove", parts.remove)


class Noted(Group):
    """Prices, claims of sources, and kept cells: ``kind`` is price, claim or kept."""

    listed = reads(noted.listed)

    def change(
        self, kind: str, ident: int, values: Mapping[str, str], source: str | None = None
    ) -> Changed:
        """Change what is given of one and leave the rest. Raises NotFoundError, InputError."""
        return writes(f"part {kind} change", noted.change)(self, kind, ident, values, source)

    def remove(self, kind: str, ident: int) -> Changed:
        """Remove one. Raises NotFoundError."""
        return writes(f"part {kind} remove", noted.remove)(self, kind, ident)
