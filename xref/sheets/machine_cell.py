"""Cells that name machines: "Dotterel, Garganey & Whimbrel", "A (not B)", "A up to 4511".

A cell is parted at commas and at "and" in any case, at a stroke where both sides are words or known
machines. What stands behind a machine's name and reads as serials goes with it; years and words
that say nothing certain make no machine of their own: they are kept.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from xref.sheets.remarks import NOT, after_word, is_ditto, says_every, says_none

Known = Callable[[str], str]
"""The name under which a machine is known; "" for one that is not."""

ReadsAsSerials = Callable[[str], bool]

_EXPORTED = re.compile(r"[|\n]")
_QUOTED = re.compile(r'\s*"([^"|\n]+)"\s*([^"|\n]*)')
_SIGNS = re.compile(
    r"\s*[;,]\s*|\s+(?:&|\+|and|und|et|en|ed?|y|och|og|i|oraz|or|oder|ou|of|eller|lub)\s+", re.I
)
_TIGHT = re.compile(r"\s*[/+&]\s*")
_BRACKET = re.compile(r"\s*[(\[]([^()\[\]]*)[)\]]\s*")
_NAME = re.compile(r"[^\W\d_]{3,}[^,;]*")
_YEARS = re.compile(
    r"(?:[Bb]j\.?|[Bb]uilt|[Yy]ears?|[Mm]odel)?\s*(?:18|19|20)\d\d(?:\s*(?:-|–|/|to|bis|on|up)\s*(?:\d{2,4})?)?\+?"
)
_RANGE_WORD = re.compile(
    r"(?:s/n|sn|ser\b|serials?|nos?\b\.?|nr\b\.?|from|to|up|upto|until|before|after|since|ab|bis|von|"
    r"vor|nach|vanaf|tot|t/m|dal|fino|desde|hasta|från|till|fra|til|od|do|à|jusqu|de|pre|post|"
    r"early|late|<|>|≤|≥|c\.|ca\.?|about|exc|except|not|all)\b.*|[<>≤≥].*|\d+\s*(?:-|–|to|bis|on|up|\+).*",
    re.I,
)


@dataclass(frozen=True, slots=True)
class Fit:
    """One machine that a cell names. ``serials`` is "" where none are written with it."""

    model: str
    serials: str = ""
    fits: bool = True


@dataclass(slots=True)
class MachineCell:
    """What a cell says; ``rest``: something of it was not understood and is to be kept.

    ``every``: it says "all" without naming one.
    """

    fits: list[Fit] = field(default_factory=list)
    rest: bool = False
    every: bool = False


def read_machines(text: str, known: Known, serials: ReadsAsSerials) -> MachineCell:
    """The machines that a cell names, each once, in order."""
    found = MachineCell()
    if _EXPORTED.search(text) or _QUOTED.fullmatch(text):
        for line in re.split(_EXPORTED, text):
            quoted = _QUOTED.fullmatch(line)
            name = " ".join((quoted[1] if quoted else line).split())
            if name and quoted:
                found.fits.append(Fit(name, quoted[2].strip()))
            elif name:
                _read_line(name, known, serials, found)
    else:
        _read_line(" ".join(text.split()), known, serials, found)
    return found


def _read_line(line: str, known: Known, serials: ReadsAsSerials, found: MachineCell) -> None:
    if known(line):
        found.fits.append(Fit(known(line)))
        return
    for piece in _parted(line, known):
        _read_piece(piece, known, serials, found)


def _parted(line: str, known: Known) -> Iterator[str]:
    """The pieces of a line; what is within brackets stays with the name before it, and figures
    after a comma with the machine before them."""
    hidden = _BRACKET.sub(
        lambda m: m[0].replace(",", "\0").replace(";", "\1").replace("&", "\2"), line
    )
    pieces: list[str] = []
    for piece in _SIGNS.split(hidden):
        shown = piece.replace("\0", ",").replace("\1", ";").replace("\2", "&").strip()
        if not shown:
            continue
        if pieces and not known(shown) and shown[0].isdigit():
            pieces[-1] += f", {shown}"
        else:
            pieces.append(shown)
    for piece in pieces:
        yield from _tight(piece, known)


def _tight(piece: str, known: Known) -> list[str]:
    """Dotterel/Garganey is two; Mk1/2 and 12/14 HP are one name."""
    if known(piece):
        return [piece]
    sides = [s for s in _TIGHT.split(piece) if s]
    two = len(sides) > 1 and all(known(s) or _NAME.fullmatch(s) for s in sides)
    return sides if two else [piece]


def _read_piece(piece: str, known: Known, serials: ReadsAsSerials, found: MachineCell) -> None:
    if known(piece):
        found.fits.append(Fit(known(piece)))
        return
    excepted = after_word(NOT, piece)
    if excepted:
        _named(excepted, known, found, fits=False)
        return
    if says_every(piece) or says_none(piece) or is_ditto(piece) or piece.endswith("?"):
        found.every |= says_every(piece)
        found.rest = True
        return
    inner = " ".join(_BRACKET.findall(piece))
    name = _BRACKET.sub(" ", piece).strip()
    if inner and name:
        _with_bracket(name, inner, known, serials, found)
        return
    _with_tail(piece, known, serials, found)


def _with_bracket(
    name: str, inner: str, known: Known, serials: ReadsAsSerials, found: MachineCell
) -> None:
    excepted = after_word(NOT, inner)
    if excepted and not any(c.isdigit() for c in excepted):
        _read_piece(name, known, serials, found)
        for other in _SIGNS.split(excepted):
            if other:
                _named(other, known, found, fits=False)
        return
    if any(c.isdigit() for c in inner) or _YEARS.fullmatch(inner):
        if serials(inner) and not _YEARS.fullmatch(inner) and _RANGE_WORD.fullmatch(inner):
            found.fits.append(Fit(known(name) or name, inner))
        else:
            found.rest = True
        return
    if known(name) or _RANGE_WORD.fullmatch(inner):
        # Some of them only, and which is not understood: never all.
        found.rest = True
    else:
        found.fits.append(Fit(f"{name} ({inner})"))


def _with_tail(piece: str, known: Known, serials: ReadsAsSerials, found: MachineCell) -> None:
    """A name with serials or years behind it, or a name alone."""
    words = piece.split()
    for count in range(len(words) - 1, 0, -1):
        name, tail = " ".join(words[:count]).rstrip(",:"), " ".join(words[count:])
        if _YEARS.fullmatch(tail):
            found.rest = True
            return
        if (known(name) or _NAME.fullmatch(name)) and _RANGE_WORD.fullmatch(tail):
            shorter = any(_RANGE_WORD.fullmatch(" ".join(words[c:])) for c in range(1, count))
            if shorter and not known(name):
                continue
            if serials(tail):
                found.fits.append(Fit(known(name) or name, tail))
            else:
                found.rest = True
            return
    if _YEARS.fullmatch(piece) or not any(c.isalnum() for c in piece):
        found.rest = True
        return
    _named(piece, known, found, fits=True)


def _named(name: str, known: Known, found: MachineCell, *, fits: bool) -> None:
    name = name.strip(" !.,;:")
    if not name or name.endswith("?"):
        found.rest = True
        return
    found.fits.append(Fit(known(name) or name, "", fits))
