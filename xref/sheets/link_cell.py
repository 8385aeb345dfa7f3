"""Cells that name other numbers: lists, alternatives, "use LB 2", "123 (was 98)", and remarks.

What a cell says of another kind of link goes there: "was 98765" beside a new number is an old one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from xref.designation import bearing
from xref.sheets.chain_cell import steps_in, undated
from xref.sheets.remarks import LIKE, NEW, NOT, OLD, REMARK, after_word, is_number_like, is_remark
from xref.standards.lookup import find

_EXPORTED = re.compile(r"[|\n]|\[[a-z, -]+\]\s*$")
_QUOTED = re.compile(r'\s*"[^"|\n]+"\s*')
_BRACKET = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]\s*")
_ARROW = re.compile(r"\s*(?:-+>|=+>|→|⇒|➔|»|>+)\s*")
_PIECES = re.compile(r"\s*[;,]\s+|\s*;\s*|,(?!\d{3}\b)\s*")
_SLASH = re.compile(r"\s+/\s*|\s*/\s+")
_TIGHT_SLASH = re.compile(r"(?<=[\w])/(?=[\w])")
_COUNT = re.compile(
    r"(?:\d{1,2}\s*(?:x|×|off)\s+)(?=\S*[A-Za-z\d])|\s+\(?(?:\d{1,2}\s*off)\)?$", re.I
)

_ALL_OF = re.compile(r"\s(?:\+|&|and|und|et|en|e|y|och|og|i|plus)\s", re.I)
_ANY_OF = re.compile(r"\s(?:or|oder|ou|of|o|eller|lub|albo)\s", re.I)
_KNOWN_SIGN = re.compile(r"\s(?:\+|&|and|und|or|oder)\s", re.I)

FIELDS = {NEW: "replaced by", OLD: "replaces", LIKE: "interchange"}


@dataclass(frozen=True, slots=True)
class LinkCell:
    """``links``: field and text, each text one number or a list parted by + & or "or".

    ``rest``: something in the cell was not a link, so that the cell is to be kept as it stands.
    ``chain`` are the numbers of several steps in their order, and ``older`` says that the part of
    the row comes after them.
    """

    links: tuple[tuple[str, str], ...]
    rest: bool = False
    chain: tuple[str, ...] = ()
    older: bool = False


@lru_cache(maxsize=65_536)
def read_link_cell(text: str, field: str) -> LinkCell:
    """What a cell of a column of ``field`` (replaces, replaced by, interchange) says."""
    if text.isalnum() and not text.isalpha():
        return LinkCell(((field, text),))
    if _EXPORTED.search(text) or _QUOTED.fullmatch(text):
        return LinkCell(((field, text),))
    return _Reader(field).read(text)


@lru_cache(maxsize=65_536)
def read_number_cell(text: str) -> tuple[str, LinkCell]:
    """The number that a row is about, and what else its cell says: "LB 1 (new LB 2)" is LB 1 with a
    later number, "123 / 124" is 123 which 124 serves for too."""
    flat = " ".join(text.split())
    quoted = _QUOTED.fullmatch(text)
    if quoted:
        return " ".join(flat.strip('" ').split()), LinkCell(())
    said = [i for i in _BRACKET.findall(flat) if _linked(i)]
    plain = flat
    for inner in said:
        plain = " ".join(re.sub(rf"\s*[(\[]{re.escape(inner)}[)\]]\s*", " ", plain).split())
    links = [link for inner in said if (link := _linked(inner))]
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    sides = lines if len(lines) > 1 and not said else _SLASH.split(plain)
    numbers = [side for side in sides if side]
    if len(numbers) > 1 and all(is_number_like(n) for n in numbers):
        plain, *others = numbers
        links += [("interchange", other) for other in others]
    return plain or flat, LinkCell(tuple(links))


def _linked(inner: str) -> tuple[str, str] | None:
    """The link that a note in brackets is, for example "new LB 2"; None where it is none."""
    for sort, field in FIELDS.items():
        after = after_word(sort, inner)
        if after and is_number_like(after):
            return field, after
    return None


class _Reader:
    """Reads one cell."""

    def __init__(self, field: str) -> None:
        self.field = field
        self.links: list[tuple[str, str]] = []
        self.rest = False

    def read(self, text: str) -> LinkCell:
        flat = " ".join(text.split())
        chain, older = steps_in(flat) if self.field != "interchange" else ((), False)
        if chain:
            return LinkCell((), False, chain, older)
        first, *later = _ARROW.split(flat)
        if later and first and is_number_like(first):
            # A chain of steps: the first is this part's, the others are kept to be seen.
            self.rest = True
            flat = first
        elif later:
            flat = " ".join(p for p in (first, *later) if p)
        for inner in _BRACKET.findall(flat):
            said = _linked(inner)
            if said:
                self.links.append(said)
            else:
                self.rest = True
        plain = _BRACKET.sub(" ", flat).strip()
        if plain:
            self._pieces(plain)
        return LinkCell(tuple(self.links), self.rest)

    def _pieces(self, text: str) -> None:
        pieces = _parted(text)
        names = [found for piece in pieces if (found := self._piece(piece))]
        if names == pieces == [p for p in _PIECES.split(text) if p]:
            # A plain list goes on whole: the store may know the cell as one number.
            self.links.insert(0, (self.field, text))
        elif names:
            self.links.insert(0, (self.field, " or ".join(names)))

    def _piece(self, piece: str) -> str:
        """The number that a piece is in the column's own sense; "" where it is something else."""
        bare = _COUNT.sub("", piece).strip()
        if bare != piece:
            self.rest = True
        if after_word(NOT, bare) is not None:
            self.rest = True
            return ""
        noted = after_word(REMARK, bare)
        if noted and any(after_word(sort, noted) for sort in FIELDS):
            # "NLA, use CH 18": the remark is kept, what follows it is the link.
            self.rest = True
            bare = noted
        for sort, field in FIELDS.items():
            after = after_word(sort, bare)
            if after is None or not after:
                continue
            after, dated = undated(after), after
            self.rest |= after != dated
            if not is_number_like(after):
                break
            if field == self.field:
                return after
            self.links.append((field, after))
            return ""
        joined = _joined(bare)
        if joined:
            return joined
        if bare.endswith("?") or is_remark(bare):
            self.rest = True
            return ""
        return bare


def _joined(text: str) -> str:
    """Numbers with "and" or "or" between, in any language; "" where it is no such list."""
    for pattern, sign in ((_ALL_OF, "+"), (_ANY_OF, "or")):
        sides = [side.strip() for side in pattern.split(text)]
        if len(sides) > 1 and all(is_number_like(side) or _joined(side) for side in sides):
            known = _KNOWN_SIGN.search(text)
            return text if known else f" {sign} ".join(sides)
    return ""


def _parted(text: str) -> list[str]:
    """The pieces of a list; a list of numbers joined by + & or "or" alone is one piece."""
    pieces = [p for p in _PIECES.split(text) if p]
    found: list[str] = []
    for piece in pieces:
        sides = [p for p in _SLASH.split(piece) if p]
        if len(sides) > 1 and all(is_number_like(p) for p in sides):
            found += sides
        else:
            found += _tight(piece)
    return found


def _tight(piece: str) -> list[str]:
    """K14A/K14B is two numbers of one shape; 6204/2RS and a taper's LM11949/LM11910 are one."""
    halves = _TIGHT_SLASH.split(piece)
    shapes = {_shape(half) for half in halves}
    if len(halves) < 2 or len(shapes) > 1 or len(halves[0]) < 3 or not is_number_like(halves[0]):
        return [piece]
    one = find(piece) or any(not r.unknown and find(r.designation) for r in bearing.read(piece))
    return [piece] if one else halves


def _shape(text: str) -> str:
    return re.sub(r"\d+", "9", re.sub(r"[^\W\d_]+", lambda m: "A" * len(m[0]), text))
