"""One part while rows are merged into it: what it has, and what is new."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from xref.domain.part import PartMark, is_plain_number
from xref.domain.size import mm_text
from xref.sheets.fields import PRICE
from xref.sheets.part_row import PartRow
from xref.store.write.record import Record, nominal
from xref.store.write.sheet_facts import Claim, Extra, Price

MENTIONED = "mentioned"
"""The status of a part of which nothing but its number is known."""

Say = Callable[[str, str, str], None]
"""Notes a finding: column or field, kind, message."""


@dataclass(slots=True)
class Draft:
    """A part with what hangs on it; the last four hold what rows have added (marks with their
    source, "" for none of their own). ``kept`` has labels and values of all extras, once asked for.

    ``dirty``: the part itself has changed and must be written again. ``status_said``: a row has
    said what the status of a fresh part is. ``only_mentioned``: a row of the list says that the
    part is, so that it stays so when another row names it. ``source`` is who said first what the
    part is, None for a part that this import adds, and ``said`` the fields of which the same source
    has spoken in this import.
    """

    part: Record
    fresh: bool
    dirty: bool = False
    status_said: bool = False
    only_mentioned: bool = False
    marks: tuple[PartMark, ...] = ()
    extras: tuple[Extra, ...] = ()
    claims: tuple[Claim, ...] = ()
    prices: tuple[Price, ...] = ()
    new_marks: tuple[tuple[PartMark, str], ...] = ()
    new_extras: list[Extra] = field(default_factory=list)
    new_claims: tuple[Claim, ...] = ()
    new_prices: tuple[Price, ...] = ()
    kept: set[tuple[str, str]] | None = None
    source: str | None = None
    said: frozenset[str] = frozenset()

    def fill(self, name: str, value: str, source: str, say: Say) -> bool:
        """Fill a gap in kind, words, status or note, or keep what contradicts. True if new."""
        held: str = getattr(self.part, name)
        if not held or (name == "status" and held == MENTIONED != value):
            setattr(self.part, name, value)
            self.dirty = True
            return True
        again = self._own_word(name, source)
        if held == value or _flat(held) == _flat(value):
            return False
        if again:
            return self._claim(name, value, held, source, say)
        setattr(self.part, name, value)
        return self._replaced(name, held, value, say)

    def fill_size(self, name: str, value: int, source: str, say: Say) -> bool:
        """Fill in a size that is not known (nanometres, or a plain count), or keep what
        contradicts. True if new."""
        held = self.part.sizes.get(name)
        if held is None:
            self.part.sizes[name] = nominal(value)
            self.dirty = True
            return True
        again = self._own_word(name, source)
        if held.value == value:
            return False
        if not again:
            self.part.sizes[name] = nominal(value)
            was, now = size_text(name, held.value), size_text(name, value)
            return self._replaced(name, was, now, say)
        return self._claim(name, size_text(name, value), size_text(name, held.value), source, say)

    def add_mark(self, found: PartMark, source: str) -> bool:
        """Note a mark that is not there yet. True if new."""
        if found in self.marks or any(found == mark for mark, _ in self.new_marks):
            return False
        self.new_marks = (*self.new_marks, (found, source))
        return True

    def keep(self, extra: Extra) -> bool:
        """Keep a cell of a column that nobody maps. True if new."""
        said = (extra.label, extra.value)
        if self.kept is None:
            self.kept = {(held.label, held.value) for held in self.extras}
        if said in self.kept:
            return False
        self.kept.add(said)
        self.new_extras.append(extra)
        return True

    def add_price(self, price: Price) -> bool:
        """Note a price. True if new."""
        if price in self.prices or price in self.new_prices:
            return False
        self.new_prices = (*self.new_prices, price)
        return True

    def take_claim(self, claim: Claim) -> bool:
        """Keep a fact that contradicts. True if new."""
        if claim in self.claims or claim in self.new_claims:
            return False
        self.new_claims = (*self.new_claims, claim)
        return True

    def _own_word(self, name: str, source: str) -> bool:
        """Note that ``source`` speaks of a field; False where it is the part's own source, which
        says it for the first time in this import, so that it replaces what it said before."""
        if self.source is None or source != self.source:
            return True
        again = name in self.said
        self.said = self.said | {name}
        return again

    def _replaced(self, name: str, was: str, now: str, say: Say) -> bool:
        self.dirty = True
        shown = "description" if name == "words" else name
        said = f'{shown} is "{_cut(now)}" now, in place of "{_cut(was)}", which its source said'
        say(name, "replaced", f"{said} before")
        return True

    def _claim(self, name: str, value: str, held: str, source: str, say: Say) -> bool:
        if not self.take_claim(Claim(name, value, source)):
            return False
        shown = "description" if name == "words" else name
        said = f'{shown} is "{_cut(held)}" on record and "{_cut(value)}" here; both are kept'
        say(name, "contradiction", said)
        return True


def size_text(name: str, value: int) -> str:
    """A size as a claim holds it: millimetres, or a plain count."""
    return str(value) if is_plain_number(name) else mm_text(value)


def _flat(text: str) -> str:
    return " ".join(text.casefold().split())


def _cut(text: str) -> str:
    return text if len(text) <= 60 else f"{text[:59]}…"


PRICE_MOST = (120, 40, 10, 40, 300)
"""Characters of each field of PRICE that have a place."""


def price_of(row: PartRow) -> Price | None:
    """The price a row gives; None where it names neither price nor supplier."""
    told = row.told
    if "price" not in told and "supplier" not in told:
        return None
    texts = (told.get(name, "")[:most] for name, most in zip(PRICE, PRICE_MOST, strict=True))
    return Price(*texts)
