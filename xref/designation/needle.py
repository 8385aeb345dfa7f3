"""Needle bearings: drawn cups, machined rings, cages and thrust needles."""

from __future__ import annotations

import re

from xref.designation.basic import GAP, Basic, mm
from xref.designation.reading import COMMON
from xref.designation.rolling import bore_of
from xref.domain.size import NM_PER_INCH

_END = r"(?![\d]|[.,/]\d+(?![0-9A-Z]))(?P<rest>.*)"
_DRAWN = re.compile(rf"(?P<letters>HK|BK){GAP}(?P<bore>\d\d)(?P<width>\d\d){_END}", re.S)
_MACHINED = re.compile(
    rf"(?P<letters>NKIS|NKI|NKS|NK){GAP}(?P<bore>\d{{1,3}})(?P<sep>/|-|X|\s)?(?P<width>\d\d){_END}",
    re.S,
)
_SERIES = re.compile(
    rf"(?P<letters>RNA|NA){GAP}(?P<series>48|49|69)(?P<stroke>/?)(?P<code>\d\d){_END}", re.S
)
_CAGE = re.compile(
    rf"K{GAP}(?P<bore>\d{{1,3}})(?:\s*X\s*|[\s/-]+)(?P<outside>\d{{1,3}})(?:\s*X\s*|[\s/-]+)"
    rf"(?P<width>\d{{1,2}}(?:[.,]\d)?){_END}",
    re.S,
)
_THRUST = re.compile(rf"(?P<letters>AXK|AS|LS){GAP}(?P<digits>\d{{4,6}}){_END}", re.S)
_INCH = re.compile(
    rf"(?P<letters>SCE|SCH|BCE|BCH|BAM|BHAM|BHA|BA|BH|B|MJH|MJ|MH|M|JH|J)(?P<gap>{GAP})(?P<digits>\d{{2,5}}){_END}",
    re.S,
)
_BARE = re.compile(rf"(?P<digits>\d{{3}}){_END}", re.S)

_MACHINED_NOTE = {
    "NK": "without inner ring: the bore is that of the rollers (Fw)",
    "NKS": "without inner ring: the bore is that of the rollers (Fw)",
    "NKI": "with inner ring",
    "NKIS": "with inner ring",
}
_SIXTEENTH = NM_PER_INCH // 16
_BORES, _WIDTHS = range(2, 57), range(3, 41)
"""Sixteenths of an inch that an inch drawn cup may have: 1/8 to 3-1/2 in, and 3/16 to 2-1/2 in. The
tables go from 4 to 32 and 5 to 24. Judged."""


def drawn_cup(text: str) -> tuple[Basic, ...]:
    """HK2020, BK1512: inscribed diameter and width in millimetres.

    The sizes are those of ISO 3245, which has no such letters.
    """
    found = _DRAWN.match(text)
    if not found or "00" in found.group("bore", "width"):
        return ()
    closed = found["letters"] == "BK"
    bore, width = found.group("bore", "width")
    return (
        Basic(
            f"{found['letters']}{bore}{width}",
            f"drawn cup needle, {'closed end' if closed else 'open'}",
            found["rest"],
            standard=COMMON,
            sizes={"bore": mm(bore), "width": mm(width)},
            note="the bore is that of the needles once pressed home (Fw), the shaft's size",
        ),
    )


def machined(text: str) -> tuple[Basic, ...]:
    """NK20/16, NKI25/20: bore and width in millimetres (ISO 1206; common usage for NKI)."""
    found = _MACHINED.match(text)
    if not found or int(found["bore"]) == 0:
        return ()
    letters, bore, width = found.group("letters", "bore", "width")
    return (
        Basic(
            f"{letters}{bore}/{width}",
            f"needle roller {letters}",
            found["rest"],
            standard="ISO 1206" if letters == "NK" else COMMON,
            sizes={"bore": mm(bore), "width": mm(width)},
            note=_MACHINED_NOTE[letters],
            needs_table=found["sep"] is None,
        ),
    )


def needle_series(text: str) -> tuple[Basic, ...]:
    """NA4904, NA49/22, RNA4904: machined needle bearings by dimension series (DIN 623-1)."""
    found = _SERIES.match(text)
    if not found:
        return ()
    letters, series, stroke, code = found.group("letters", "series", "stroke", "code")
    bore = int(code) if stroke else bore_of(code)
    if not bore or (stroke and bore not in (22, 28, 32)):
        return ()
    bare = letters == "RNA"
    note = f"NA{series}{stroke}{code} without its inner ring: its bore is that of the rollers (Fw)"
    return (
        Basic(
            f"{letters}{series}{stroke}{code}",
            f"needle roller {letters}",
            found["rest"],
            sizes={} if bare else {"bore": mm(bore)},
            dimension_series=series,
            note=note if bare else "",
        ),
    )


def cage(text: str) -> tuple[Basic, ...]:
    """K20x24x10: needle cage by inside, outside and width in millimetres (ISO 3030)."""
    found = _CAGE.match(text)
    if not found or int(found["bore"]) >= int(found["outside"]) or int(found["bore"]) == 0:
        return ()
    sizes = [found["bore"], found["outside"], found["width"].replace(",", ".")]
    return (
        Basic(
            "K" + "X".join(sizes),
            "needle cage",
            found["rest"],
            standard="ISO 3030",
            sizes=dict(zip(("bore", "outside", "width"), map(mm, sizes), strict=True)),
        ),
    )


def thrust_needle(text: str) -> tuple[Basic, ...]:
    """AXK2035, AS2035, LS75100: inside and outside diameter in millimetres (ISO 3031)."""
    found = _THRUST.match(text)
    if not found:
        return ()
    letters, digits = found["letters"], found["digits"]
    split = 3 if len(digits) == 6 else 2
    bore, outside = digits[:split], digits[split:]
    if not 0 < int(bore) < int(outside):
        return ()
    return (
        Basic(
            letters + digits,
            "thrust needle" if letters == "AXK" else "thrust washer",
            found["rest"],
            standard="ISO 3031",
            sizes={"bore": mm(bore), "outside": mm(outside)},
        ),
    )


def sixteenths(digits: str) -> tuple[int, int] | None:
    """Bore and width of an inch drawn cup in sixteenths of an inch; None where they cannot be.

    Two digits are one and one, four two and two; three are two and one where they begin with 1, 2
    or 3, else one and two (108 = 10 and 8, 812 = 8 and 12). Common usage.
    """
    if not 2 <= len(digits) <= 4:
        return None
    split = {2: 1, 3: 2 if digits[0] in "123" else 1, 4: 2}[len(digits)]
    bore, width = digits[:split], digits[split:]
    if "0" in (bore[0], width[0]) or int(bore) not in _BORES or int(width) not in _WIDTHS:
        return None
    return int(bore), int(width)


def _inch(letters: str, digits: str, rest: str, *, weak: bool) -> tuple[Basic, ...]:
    # M and MJ numbers carry a trailing 1 that is no size.
    sized = digits[:-1] if letters[0] == "M" and digits[-1] == "1" else digits
    found = sixteenths(sized)
    if not found:
        return ()
    heavy = "heavy section (larger outside diameter)" if "H" in letters else ""
    closed = "one closed end" if "M" in letters or letters.startswith("BC") else ""
    return (
        Basic(
            f"{letters}-{digits}",
            "drawn cup needle, inch",
            rest,
            numbering="inch",
            standard=COMMON,
            sizes={"bore": found[0] * _SIXTEENTH, "width": found[1] * _SIXTEENTH},
            note="; ".join(
                text
                for text in (
                    f"bore {found[0]}/16 in, width {found[1]}/16 in",
                    heavy,
                    closed,
                    "other makers put other letters before the same digits",
                )
                if text
            ),
            needs_table=weak,
            whole=weak,
        ),
    )


def inch_drawn_cup(text: str) -> tuple[Basic, ...]:
    """B-1212, BH-1210, J-108, M-12121: sixteenths of an inch (common usage).

    Without a dash it is worth showing only where a table has it: a taper may be written so too.
    """
    found = _INCH.match(text)
    if not found:
        return ()
    letters, digits, rest = found.group("letters", "digits", "rest")
    return _inch(letters, digits, rest, weak=not found["gap"] and len(letters) < 3)


def bare_drawn_cup(text: str) -> tuple[Basic, ...]:
    """108 for B-108: the letters are lost or on the other end; worth showing only from a table."""
    found = _BARE.match(text)
    return _inch("B", found["digits"], found["rest"], weak=True) if found else ()
