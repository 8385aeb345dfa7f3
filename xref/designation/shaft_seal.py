"""Rotary shaft lip seals: ``35x52x7 TC``, ``35-52-7``, ``355207``, ``020035``.

The sizes are what the maker marked: nominal shaft, housing bore and width. The seal itself does
not measure so: its lip is smaller than the shaft and its rim larger than the bore.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from xref.designation.oring_gost import is_gost_ring
from xref.designation.reading import COMMON, STANDARD, Feature, Reading
from xref.designation.rubber import take_rubber, words
from xref.designation.three_sizes import (
    LIP_OR_METAL,
    ThreeSizes,
    bush_wall,
    like_a_seal,
    size_name,
    three_sizes,
)
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM
from xref.tables import Row, read_table

_NAMED = re.compile(
    r"(?:(?:ROTARY[ -]*)?(?:SHAFT|OIL|LIP)[ -]*)*SEALS?\b|\b(?:DIN|ISO|JIS[ -]?B)[ -]?"
    r"(?:3760|6194|2402)(?:-1)?(?![0-9])"
)
_OTHER_THING = re.compile(
    r"BUSH|O[ -]?RING|ISO[ -]?(?:3547|4379|3601)|^\s*(?:HK|BK|NK|AXK|K)[ -]?[0-9]"
)
_SIX = re.compile(r"(?<![0-9A-Z.,/-])(?:(?P<before>[A-Z]{1,3})[ -]?)?(?P<digits>\d{6})(?![0-9])")
_ISO_TYPE = re.compile(r"\bTYPE[ -]?([1-6])\b")

_SIX_DIGITS_WEAK = "six digits alone are a weak sign: many other numbers have six"
_MARKED = "nominal shaft, housing bore and width: measure those, not the seal's own lip and rim"


@cache
def _type_rows() -> dict[str, tuple[Row, ...]]:
    """The rows of the type table by each letter code they name ("TCV / TCN" names two)."""
    found: dict[str, tuple[Row, ...]] = {}
    for row in read_table("shaft_seal_type"):
        for code in row["code"].upper().split(" / "):
            found[code] = (*found.get(code, ()), row)
    return found


def _type_feature(code: str, row: Row) -> Feature:
    trade = row["system"] == "trade"
    spring = {"yes": "with spring", "no": "no spring"}.get(
        row["spring"], f"spring: {row['spring']}"
    )
    lips = row["lips"].replace("1", "one lip").replace("2", "two lips")
    pieces = [row["case_or_od"], lips, spring]
    if not trade:
        pieces.append(f"after {row['system']}")
    if row["note"]:
        pieces.append(row["note"])
    if row["checked"].startswith("not checked"):
        pieces.append("not checked against a printed source")
    basis = COMMON if trade else STANDARD
    return Feature(code=code, meaning="; ".join(pieces), basis=basis)


def _features(text: str) -> tuple[tuple[Feature, ...], tuple[str, ...]]:
    """The type and rubber named in the text around the sizes, and what was not understood."""
    rest = _NAMED.sub(" ", text)
    features: list[Feature] = []
    for number in _ISO_TYPE.findall(rest):
        code = f"TYPE {number}"
        features += [_type_feature(code.lower(), row) for row in _type_rows()[code]]
    rubber, rest = take_rubber(_ISO_TYPE.sub(" ", rest))
    unknown: list[str] = []
    for word in words(rest):
        rows = _type_rows().get(word, ())
        features += [_type_feature(word, row) for row in rows]
        unknown += [] if rows else [word]
    return (*features, *rubber), tuple(unknown)


@dataclass(frozen=True, slots=True)
class _CallOut:
    """One way to take the text apart, before it is given its features."""

    name: str
    sizes: dict[str, int]
    rest: str
    numbering: str
    note: str
    decided_by: str = ""
    also_written: tuple[str, ...] = ()


def _short_code(bore: int, outside: int, width: int) -> tuple[str, ...]:
    """The six digits ddDDww where all three sizes are whole millimetres below 100."""
    whole = [divmod(nm, NM_PER_MM) for nm in (bore, outside, width)]
    if any(part or mm > 99 for mm, part in whole):
        return ()
    return ("".join(f"{mm:02d}" for mm, _ in whole),)


def _reading(call: _CallOut, *, certain: bool) -> Reading:
    features, unknown = _features(call.rest)
    codes = tuple(dict.fromkeys(feature.code for feature in features))
    return Reading(
        designation=call.name,
        kind="shaft seal",
        type="rotary shaft seal",
        numbering=call.numbering,
        standard="ISO 6194-1",
        sizes=call.sizes,
        dimension_series="",
        features=features,
        canonical=" ".join((call.name, *codes)),
        also_written=call.also_written,
        unknown=unknown,
        note=call.note,
        decided_by=call.decided_by,
        needs_table=not certain,
    )


def _from_three(found: ThreeSizes, *, named: bool) -> tuple[Reading, ...]:
    sizes = (found.bore, found.outside, found.width)
    if not (named or like_a_seal(*sizes)):
        return ()
    also = () if found.inch else (found.name.replace("x", "-"), *_short_code(*sizes))
    call = _CallOut(
        name=found.name,
        sizes=found.sizes,
        rest=f"{found.before} {found.after}",
        numbering="inch" if found.inch else "sizes",
        note=_MARKED,
        decided_by="" if named or bush_wall(*sizes) == "none" else LIP_OR_METAL,
        also_written=also,
    )
    return (_reading(call, certain=True),)


def _three_by_three(digits: str) -> dict[str, int] | None:
    shaft, bore = int(digits[:3]) * NM_PER_MM, int(digits[3:]) * NM_PER_MM
    likely = like_a_seal(shaft, bore, 4 * NM_PER_MM) and shaft >= 5 * NM_PER_MM
    return {"bore": shaft, "outside": bore} if likely else None


def _from_six(found: re.Match[str], text: str, *, named: bool) -> tuple[Reading, ...]:
    """Six digits: ddDDww, and dddDDD, which gives no width."""
    digits = found["digits"]
    rest = f"{found['before'] or ''} {text[: found.start()]} {text[found.end() :]}"
    readings = []
    bore, outside, width = (int(digits[i : i + 2]) * NM_PER_MM for i in (0, 2, 4))
    if bore >= 3 * NM_PER_MM and width >= 2 * NM_PER_MM and like_a_seal(bore, outside, width):
        name = size_name(bore, outside, width)
        call = _CallOut(
            name,
            {"bore": bore, "outside": outside, "width": width},
            rest,
            "six digits, two a size",
            f"{_MARKED}; {_SIX_DIGITS_WEAK}",
            "" if named or bush_wall(bore, outside, width) == "none" else LIP_OR_METAL,
            (name.replace("x", "-"), digits),
        )
        readings.append(_reading(call, certain=True))
    pair = _three_by_three(digits)
    if pair is not None:
        name = size_name(*pair.values())
        call = _CallOut(
            name,
            pair,
            rest,
            "six digits, three a size",
            "size code of JIS B 2402-1 (one source): shaft and housing bore; it gives no width; "
            + _SIX_DIGITS_WEAK,
            also_written=(digits,),
        )
        readings.append(_reading(call, certain=True))
    return tuple(readings)


def read(text: str) -> tuple[Reading, ...]:
    """The seals that ``text`` may name; () where none. Sizes in nanometres, as marked.

    Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text)
    if _OTHER_THING.search(shown) or is_gost_ring(shown):
        return ()
    bare = _NAMED.sub(" ", shown)
    named = bare != shown
    found = three_sizes(bare) if bare.strip() else None
    if found is not None:
        return _from_three(found, named=named)
    six = _SIX.search(bare)
    return _from_six(six, bare, named=named) if six else ()
