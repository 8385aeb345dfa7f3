"""The grammar of a line of serials: what its words mean beside the serials, in their order."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace

from xref.domain import serial_words as w
from xref.domain.number import visible
from xref.domain.serial_range import Serial, SerialRange, SerialSet
from xref.domain.serial_tokens import EXAMPLES, Token, line
from xref.errors import InputError

_BETWEEN = frozenset({w.TO, w.BETWEEN, w.DASH})


@dataclass
class SerialReader:
    """Reads the tokens of one line from left to right; ``prefix`` is the last that was written."""

    tokens: Sequence[Token]
    text: str
    at: int = 0
    prefix: str = ""
    parts: list[list[SerialRange]] = field(default_factory=lambda: [[]])

    def whole(self) -> SerialSet:
        """The set. Raises InputError where a token has no place in it."""
        if not self.tokens:
            raise self._missing()
        while not self._ended():
            if self._takes(w.EXCEPT):
                if not self.parts[0]:
                    self.parts[0].append(SerialRange(None, None))
                self.parts.append([])
            elif self.parts[-1] and not self._takes(w.AND):
                raise self._refused(self.at)
            self.parts[-1].append(self._piece())
        rest = tuple(r for ranges in self.parts[1:] for r in ranges)
        return SerialSet(tuple(self.parts[0]), rest)

    def _piece(self) -> SerialRange:
        start = self.at
        if self._takes(w.ALL):
            # "All up to 499" is no more than "up to 499".
            return SerialRange(None, None) if self._closed() else self._piece()
        if self._takes(w.BARE):
            kept, self.prefix = self.prefix, ""
            found = self._piece()
            self.prefix = kept
            return found
        if self._takes(w.FROM) or self._takes(w.PAIR):
            return self._from(start)
        # A word that stands before a serial may be one that stands after it too: "before".
        if self._takes(w.TO, w.DASH):
            self._and()
            self._takes(w.INCLUDING)
            found = SerialRange(None, self._serial())
            self._takes(w.INCLUDING)
            return found
        if self._takes(w.BEFORE):
            return SerialRange(None, self._before(self._serial(), start))
        if self._takes(w.AFTER):
            return SerialRange(_after(self._serial()), None)
        return self._tail(start)

    def _from(self, start: int) -> SerialRange:
        """What follows "from": 101, 101 on, 101 to 499, "between 101 and 499"."""
        pair = w.PAIR in self.tokens[start].means
        low = self._serial()
        if pair and self._and():
            return self._two(low, start)
        if self._between():
            return self._two(low, start)
        if pair and w.FROM not in self.tokens[start].means:
            raise self._refused(start)
        self._onward()
        return SerialRange(low, None)

    def _tail(self, start: int) -> SerialRange:
        """A serial and what stands behind it."""
        doubt = self.tokens[start].doubt if not self._ended() else ""
        low = self._serial()
        if self._onward():
            return SerialRange(low, None)
        if self._earlier():
            return SerialRange(None, low)
        if self._between():
            return self._two(low, start)
        if self._takes(w.DASH):
            self._onward()
            return SerialRange(low, None)
        if not self._takes(w.ONLY) and doubt:
            shown = self.tokens[start].text
            raise InputError(
                f'"{visible(shown)}" may be one serial or a range',
                f'Write "{doubt}" for the range, "{low} only" for one serial.',
            )
        return SerialRange(low, low)

    def _two(self, low: Serial, start: int) -> SerialRange:
        self._takes(w.INCLUDING)
        high = self._serial(low.prefix)
        self._takes(w.INCLUDING)
        piece = self._piece_of(start, self.at)
        if high.prefix != low.prefix:
            raise InputError(
                f'"{visible(piece)}" runs from one prefix to another',
                f"Write {low}-up and to {high} as two ranges.",
            )
        if high.place < low.place:
            raise InputError(
                f'"{visible(piece)}" runs backwards', "Write the lower serial first, in full."
            )
        return SerialRange(low, high)

    def _between(self) -> bool:
        """Takes what stands between two serials: "to", "-", "and up to", "to & incl."."""
        at = self.at
        self._and()
        if self._takes(*_BETWEEN) and self._within():
            self._and()
            self._takes(w.INCLUDING)
            return True
        self.at = at
        return False

    def _within(self) -> bool:
        """Whether a serial follows, perhaps behind "including"."""
        for token in self.tokens[self.at : self.at + 3]:
            if token.serial:
                return True
            if not token.means & {w.AND, w.INCLUDING}:
                return False
        return False

    def _onward(self) -> bool:
        return self._behind(w.ONWARD)

    def _earlier(self) -> bool:
        return self._behind(w.EARLIER)

    def _behind(self, means: str) -> bool:
        """Takes a word that ends a piece: "up", "& up", "- on"; not one that begins the next."""
        at = self.at
        for first in (self._and, lambda: self._takes(w.DASH)):
            self.at = at
            first()
            if self._takes(means) and self._closed():
                return True
        self.at = at
        return False

    def _closed(self) -> bool:
        return self._ended() or bool(self.tokens[self.at].means & {w.AND, w.EXCEPT})

    def _before(self, end: Serial, start: int) -> Serial:
        if len(end.suffix) == 1 and end.suffix > "A":
            return replace(end, suffix=chr(ord(end.suffix) - 1))
        if end.suffix or end.number == 0:
            raise self._refused(start)
        return replace(end, number=end.number - 1)

    def _serial(self, prefix: str | None = None) -> Serial:
        carried = self.prefix if prefix is None else prefix
        if self._ended():
            raise self._missing()
        found = self.tokens[self.at].serial
        if found is None:
            raise self._refused(self.at)
        self.at += 1
        self.prefix = found.prefix or carried
        return replace(found, prefix=self.prefix)

    def _and(self) -> bool:
        """Takes a word for "and", not a comma: what follows belongs to what was before."""
        return not self._ended() and self.tokens[self.at].text.isalpha() and self._takes(w.AND)

    def _takes(self, *means: str) -> bool:
        if self._ended() or self.tokens[self.at].means.isdisjoint(means):
            return False
        self.at += 1
        return True

    def _ended(self) -> bool:
        return self.at >= len(self.tokens)

    def _piece_of(self, start: int, end: int) -> str:
        some = self.tokens[start:end]
        return line(self.text)[some[0].place[0] : some[-1].place[1]] if some else ""

    def _missing(self) -> InputError:
        hint = 'Write for example "QW101-QW499 exc. QW230".'
        return InputError(f'a serial is missing in "{visible(self.text)}"', hint)

    def _refused(self, at: int) -> InputError:
        piece = self._piece_of(at, len(self.tokens))
        why = _why(self.tokens[at].means) if at < len(self.tokens) else ""
        within = f' in "{visible(self.text)}"' if piece != line(self.text) else ""
        if why:
            return InputError(
                f'"{visible(piece)}"{within} is {why}, not a serial', "Write the serials alone."
            )
        return InputError(f'"{visible(piece)}"{within} is not understood as serials', EXAMPLES)


def _why(means: Collection[str]) -> str:
    """What a word is that can stand beside no serial; "" for one that can."""
    said = {w.ABOUT: "only about where", w.MARK: "a mark of the model", w.DATE: "a date"}
    return next((words for mean, words in said.items() if mean in means), "")


def _after(end: Serial) -> Serial:
    """The first serial after one: all its suffixes come before the next number."""
    if not end.suffix:
        return replace(end, number=end.number + 1)
    last = end.suffix[-1]
    if last < "Z":
        return replace(end, suffix=end.suffix[:-1] + chr(ord(last) + 1))
    if len(end.suffix) == 1:
        return replace(end, suffix="AA")
    if end.suffix == "ZZ":
        return replace(end, number=end.number + 1, suffix="")
    return replace(end, suffix=chr(ord(end.suffix[0]) + 1) + "A")
