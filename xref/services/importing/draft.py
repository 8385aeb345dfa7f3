"""One part while rows are merged into it: what it has, and what is new."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from xref.domain.part import Part, PartMark, StoredSize, is_plain_number
from xref.domain.size import mm_text
from xref.sheets.rows import PartRow
from xref.store.sheet_facts import Claim, Extra, Price

Say = Callable[[str, str, str], None]
"""Notes a finding: column or field, kind, message."""


@dataclass(slots=True)
class Draft:
    """``part.id`` is 0 until it is written. ``source`` names the sheet or book of these rows."""

    part: Part
    source: str
    fresh: bool
    dirty: bool = False
    extras: list[Extra] = field(default_factory=list)
    claims: list[Claim] = field(default_factory=list)
    prices: list[Price] = field(default_factory=list)
    new_extras: list[Extra] = field(default_factory=list)
    new_claims: list[Claim] = field(default_factory=list)
    new_prices: list[Price] = field(default_factory=list)
    new_marks: list[PartMark] = field(default_factory=list)

    def fill(self, name: str, value: str, source: str, say: Say) -> bool:
        """Fill a gap in kind, words, status or note, or keep what contradicts. True if new."""
        held = str(getattr(self.part, name))
        if held == value or _flat(held) == _flat(value):
            return False
        if not held or (name == "status" and held == "mentioned"):
            self._replace(**{name: value})
            return True
        return self._claim(name, value, held, source, say)

    def fill_size(self, name: str, value: int, source: str, say: Say) -> bool:
        """Fill in a size that is not known, or keep what contradicts. True if new."""
        held = self.part.sizes.get(name)
        if held is None:
            self._replace(sizes={**self.part.sizes, name: StoredSize(value)})
            return True
        if held.value == value:
            return False
        return self._claim(name, size_text(name, value), size_text(name, held.value), source, say)

    def add_mark(self, found: PartMark) -> bool:
        """Note a mark that is not there yet. True if new."""
        if found in self.part.marks or found in self.new_marks:
            return False
        self.new_marks.append(found)
        return True

    def keep(self, extra: Extra) -> bool:
        """Keep a cell of a column that nobody maps. True if new."""
        if any(e.label == extra.label and e.value == extra.value for e in self.extras):
            return False
        self.extras.append(extra)
        self.new_extras.append(extra)
        return True

    def add_price(self, price: Price) -> bool:
        """Note a price. True if new."""
        if price in self.prices:
            return False
        self.prices.append(price)
        self.new_prices.append(price)
        return True

    def take_claim(self, claim: Claim) -> bool:
        """Take over a claim as an export wrote it. True if new."""
        if claim in self.claims:
            return False
        self.claims.append(claim)
        self.new_claims.append(claim)
        return True

    def _claim(self, name: str, value: str, held: str, source: str, say: Say) -> bool:
        claim = Claim(name, value, source)
        if not self.take_claim(claim):
            return False
        said = f'{name} is "{_cut(held)}" on record and "{_cut(value)}" here; both are kept'
        say(name, "contradiction", said)
        return True

    def _replace(self, **changes: object) -> None:
        self.part = replace(self.part, **changes)  # type: ignore[arg-type]
        self.dirty = True


def size_text(name: str, value: int) -> str:
    """A size as a claim holds it: millimetres, or a plain count."""
    return str(value) if is_plain_number(name) else mm_text(value)


def _flat(text: str) -> str:
    return " ".join(text.casefold().split())


def _cut(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:59]}…"


PRICE_FIELDS = ("supplier", "price", "currency", "price date", "price note")
_PRICE_MOST = (120, 40, 10, 40, 300)


def price_of(row: PartRow) -> Price | None:
    """The price a row gives; None where it names neither price nor supplier."""
    told = row.told
    if "price" not in told and "supplier" not in told:
        return None
    texts = (
        told.get(name, "")[:most] for name, most in zip(PRICE_FIELDS, _PRICE_MOST, strict=True)
    )
    return Price(*texts)
