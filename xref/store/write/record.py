"""A part on its way into the store in bulk: its columns, with the keys that are already known."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache

from xref.domain.number import folded, key
from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.weights import ORIGIN_STORE, part_weight

_WEIGHT = part_weight(ORIGIN_STORE, 0)


@dataclass(slots=True)
class Record:
    """One part of the user's own. ``id`` is 0 until it is written.

    ``spellings`` is () where the number itself is the only one and takes no suffix.
    """

    number: str
    key: str
    folded: str
    maker: str
    maker_id: int
    group: str
    id: int = 0
    source_id: int | None = None
    kind: str = ""
    type: str = ""
    words: str = ""
    status: str = "current"
    note: str = ""
    weight: float = _WEIGHT
    sizes: dict[str, StoredSize] = field(default_factory=dict)
    spellings: tuple[Spelling, ...] = ()

    @classmethod
    def of(cls, part: Part, maker_id: int) -> Record:
        """The record of a part as it was loaded, or made to be added."""
        return cls(
            number=part.number,
            key=key(part.number),
            folded=folded(part.number),
            maker=part.maker,
            maker_id=maker_id,
            group=part.group,
            id=part.id,
            kind=part.kind,
            type=part.type,
            words=part.words,
            status=part.status,
            note=part.note,
            weight=part.weight,
            sizes=dict(part.sizes),
            spellings=part.spellings,
        )


@lru_cache(maxsize=65_536)
def nominal(value: int) -> StoredSize:
    """A size without a tolerance, in nanometres or as a plain count; the same values come again
    and again."""
    return StoredSize(value)
