"""What follows a basic bearing number: closures, clearance, tolerance, cage, ring and inside."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from xref.designation.reading import Feature
from xref.tables import read_table

_TOGETHER = "together"
_SEPARATOR = re.compile(r"[^0-9A-Z]+")
_ORDER = ("internal", "ring", "closure", "cage", "tolerance", "clearance")
"""The usual order of suffixes: inside first, clearance last (DIN 623-1, in outline)."""


@dataclass(frozen=True, slots=True)
class SuffixCode:
    """One suffix with its meaning.

    ``context`` is the beginning of the bearing types it has this meaning on, "" for all.
    ``share`` (0..1) is the judged share of bearings on the bench whose whole tail it is; 0 where
    that is not judged. ``same_as`` names the codes it is equal to in use, "" for none.
    """

    code: str
    meaning: str
    group: str
    basis: str
    share: float
    context: str = ""
    same_as: str = ""

    @property
    def feature(self) -> Feature:
        """The suffix as a piece of a reading."""
        return Feature(self.code, self.meaning, self.basis)


def _codes() -> Iterator[SuffixCode]:
    for row in read_table("bearing_suffix"):
        yield SuffixCode(
            code=row["code"],
            meaning=row["meaning"],
            group=row["group"],
            basis=row["basis"],
            share=float(row["share"]),
            context=row["context"],
            same_as=row["same_as"],
        )


SUFFIXES: tuple[SuffixCode, ...] = tuple(_codes())
"""Every suffix of the table. A code with several meanings stands once for each type; its share is
on one of these rows. Shares are judged: no published count was found."""


@dataclass(frozen=True, slots=True)
class Tail:
    """What stood after the basic number: the suffixes in the usual order, and what is left over."""

    codes: tuple[SuffixCode, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def features(self) -> tuple[Feature, ...]:
        """The suffixes as pieces of a reading."""
        return tuple(code.feature for code in self.codes)

    @property
    def written(self) -> str:
        """The suffixes in one way of writing: "-2RS/C3", "K/C3", "" for none.

        A closure follows a dash, a clearance or tolerance a stroke, the rest nothing.
        """
        lead = {"closure": "-", "clearance": "/", "tolerance": "/"}
        return "".join(f"{lead.get(c.group, '')}{c.code}" for c in self.codes)


def synonyms(code: str) -> tuple[str, ...]:
    """The other codes equal to ``code`` in use (common usage): "2RS" → "2RSR", "LLU", …; or ()."""
    same = next((s.same_as for s in SUFFIXES if s.code == code and s.same_as), "")
    return tuple(s.code for s in SUFFIXES if same and s.same_as == same and s.code != code)


@cache
def _meanings(type_: str) -> dict[str, SuffixCode]:
    """Every code with the meaning it has on a bearing of this type."""
    found: dict[str, SuffixCode] = {}
    for suffix in SUFFIXES:
        if suffix.group != _TOGETHER and type_.startswith(suffix.context):
            held = found.get(suffix.code)
            if held is None or len(suffix.context) > len(held.context):
                found[suffix.code] = suffix
    return found


def _split(piece: str, known: dict[str, SuffixCode]) -> tuple[SuffixCode, ...] | None:
    """``piece`` parted into known codes, the longest first; None where something is left over."""
    if not piece:
        return ()
    for end in range(min(len(piece), 5), 0, -1):
        code = known.get(piece[:end])
        if code is not None:
            rest = _split(piece[end:], known)
            if rest is not None and all(code.group != other.group for other in rest):
                return (code, *rest)
    return None


def read_tail(tail: str, type_: str) -> Tail:
    """The suffixes in ``tail`` (upper case) on a bearing of ``type_``; the rest is kept unknown.

    The meaning of a letter depends on the type: C on a single row angular contact bearing is a
    contact angle, on a roller bearing an internal design.
    """
    known = _meanings(type_)
    codes: list[SuffixCode] = []
    unknown: list[str] = []
    for piece in _pieces(tail, known):
        found = _split(piece, known) if len(piece) <= 16 else None
        if found is None:
            unknown.append(piece)
        else:
            codes.extend(code for code in found if code not in codes)
    return Tail(tuple(sorted(codes, key=lambda c: _ORDER.index(c.group))), tuple(unknown))


def _pieces(tail: str, known: dict[str, SuffixCode]) -> Sequence[str]:
    """The pieces between separators; "2 RS" and "C 3", parted by one, are put together."""
    pieces: list[str] = []
    for piece in _SEPARATOR.split(tail):
        if pieces and piece and pieces[-1] + piece in known and pieces[-1] in ("2", "C", "P"):
            pieces[-1] += piece
        elif piece:
            pieces.append(piece)
    return pieces
