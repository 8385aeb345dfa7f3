"""What follows a basic bearing number: closures, clearance, tolerance, cage, ring and inside."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from xref.designation.reading import Feature
from xref.tables import read_table

_TOGETHER = "together"
_LONGEST_RUN = 16
"""Characters of suffixes run together without a separator that are still parted. Judged."""
_PIECE = re.compile(r"[0-9A-Z]+|[^\W_0-9A-Z]+")
"""Letters and digits between separators; those that no suffix has (½, Ω) stand by themselves."""
_LEAD = {
    "internal": "",
    "ring": "",
    "closure": "-",
    "cage": "-",
    "pair": "-",
    "tolerance": "/",
    "clearance": "/",
    "heat": "/",
    "lubrication": "/",
}
"""The groups in the usual order, inside first (DIN 623-1, in outline), and what stands before."""

_ORDER = tuple(_LEAD)


_MAY_FOLLOW = ("E", "J", "J2", "Q", "HC", "HC5")
"""Codes of the inside that stand behind another one of the inside. From memory."""

FROM_MEMORY = " (from memory)"
"""Stands behind a meaning that no page was read for."""


@dataclass(frozen=True, slots=True)
class SuffixCode:
    """One suffix with its meaning.

    ``context`` is the beginning of the bearing types it has this meaning on, "" for all.
    ``share`` (0..1) is the judged share of bearings on the bench whose whole tail it is; 0 where
    that is not judged. ``remembered``: its meaning is from memory. ``same_as`` names
    the codes it is equal to in use, "" for none.
    """

    code: str
    meaning: str
    group: str
    basis: str
    share: float
    context: str = ""
    same_as: str = ""
    remembered: bool = False

    @property
    def feature(self) -> Feature:
        """The suffix as a piece of a reading."""
        said = f"{self.meaning}{FROM_MEMORY}" if self.remembered else self.meaning
        return Feature(self.code, said, self.basis)


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
            remembered="from memory" in row["note"],
        )


SUFFIXES: tuple[SuffixCode, ...] = tuple(_codes())
"""Every suffix of the table. A code with several meanings stands once for each type; its share is
on one of these rows. Shares are judged: no published count was found."""


@dataclass(frozen=True, slots=True)
class Tail:
    """What stood after the basic number: the suffixes in the usual order, and what is left over.

    ``run`` is the whole of it as written, where it is letters of the inside, pairing and cage run
    together (BECBP) and so is one code in the trade; else "".
    """

    codes: tuple[SuffixCode, ...] = ()
    unknown: tuple[str, ...] = ()
    run: str = ""

    @property
    def features(self) -> tuple[Feature, ...]:
        """The suffixes as pieces of a reading."""
        return tuple(code.feature for code in self.codes)


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
    for end in range(min(len(piece), 6), 0, -1):
        code = known.get(piece[:end])
        if code is not None:
            rest = _split(piece[end:], known)
            if rest is not None and not _clash(code, rest):
                return (code, *rest)
    return None


def _clash(code: SuffixCode, rest: Sequence[SuffixCode]) -> bool:
    """Whether two codes of a run say the same kind of thing; some inside codes may follow another
    (7206BEP, 32206BJ2)."""
    return any(
        code.group == other.group and (code == other or other.code not in _MAY_FOLLOW)
        for other in rest
    )


def _start(piece: str, known: dict[str, SuffixCode]) -> tuple[tuple[SuffixCode, ...], str]:
    """The codes ``piece`` begins with, and what is left: C3 of "C3LHT23".

    Only codes of two characters or more: one letter before something not understood says nothing.
    """
    for end in range(len(piece) - 1, 1, -1):
        found = _split(piece[:end], known)
        if found and all(len(code.code) > 1 for code in found):
            return found, piece[end:]
    return (), piece


def read_tail(tail: str, type_: str) -> Tail:
    """The suffixes in ``tail`` (upper case) on a bearing of ``type_``; the rest is kept unknown.

    The meaning of a letter depends on the type: C on a single row angular contact bearing is a
    contact angle, on a roller bearing an internal design.
    """
    known = _meanings(type_)
    codes: list[SuffixCode] = []
    unknown: list[str] = []
    for piece in _pieces(tail, known):
        found, left = _split(piece[:_LONGEST_RUN], known), piece[_LONGEST_RUN:]
        if found is None or left:
            found, left = _start(piece[:_LONGEST_RUN], known)
            left += piece[_LONGEST_RUN:]
        if left:
            unknown.append(left)
        codes.extend(code for code in found if code not in codes)
    ordered = tuple(sorted(codes, key=lambda c: _ORDER.index(c.group)))
    return Tail(ordered, tuple(unknown), _one_run(tail, codes, unknown))


def _one_run(tail: str, codes: Sequence[SuffixCode], unknown: Sequence[str]) -> str:
    """The tail itself where its codes stand as one run in another order than the usual one."""
    run = tail.strip(" -")
    inside = all(code.group in ("internal", "pair", "cage") for code in codes)
    if unknown or not inside or len(codes) < 2 or run != "".join(code.code for code in codes):
        return ""
    return run


def _belong(before: str, after: str) -> bool:
    """Whether two pieces may be one code; C and N are two, and not CN."""
    return before == "2" or (before in ("C", "P") and after[0].isdigit())


def _pieces(tail: str, known: dict[str, SuffixCode]) -> Sequence[str]:
    """The pieces between separators; "2 RS" and "C 3", parted by one, are put together."""
    pieces: list[str] = []
    for piece in _PIECE.findall(tail):
        if pieces and pieces[-1] + piece in known and _belong(pieces[-1], piece):
            pieces[-1] += piece
        else:
            pieces.append(piece)
    return pieces


def _written(codes: Sequence[SuffixCode]) -> str:
    return "".join(f"{_LEAD[code.group]}{code.code}" for code in codes)


def canonical_tail(tail: Tail, type_: str) -> str:
    """The suffixes in the usual order and spelling: "-2RS/C3" for "C3 LLU"; "" for none.

    Inside and ring letters follow the number at once, closure, cage and pairing a dash, tolerance,
    clearance and the rest a stroke. What is not understood is left out.
    """
    if tail.run:
        return tail.run
    known = _meanings(type_)
    codes = tuple(dict.fromkeys(known.get(code.same_as, code) for code in tail.codes))
    joined = _written(codes)
    if read_tail(joined, type_).codes == codes:
        return joined
    # Some letters run together mean another thing (C and N against CN): part them all.
    return "".join(f"-{code.code}" for code in codes)


def other_tails(tail: Tail, type_: str) -> tuple[str, ...]:
    """The suffixes with each code written in the other ways equal in use (common usage)."""
    usual = canonical_tail(tail, type_)
    found: list[str] = []
    for code in tail.codes:
        usual_code = code.same_as or code.code
        if usual_code in usual:
            alike = (s for s in synonyms(usual_code) if s != usual_code)
            found += [usual.replace(usual_code, other, 1) for other in alike]
    return tuple(dict.fromkeys(found))
