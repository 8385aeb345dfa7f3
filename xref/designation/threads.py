"""Threads and their hexagons: ``M10x1.25``, ``3/8-16 UNC``, ``3/8 BSW``, ``G 1/4``, ``2 BA``."""

from __future__ import annotations

import re

from xref.designation.callout import FRACTION, NUMBER, dotted, length, reading
from xref.designation.reading import Reading
from xref.domain.number import plain
from xref.domain.size import NM_PER_INCH

_METRIC = re.compile(
    rf"M\s?(?P<size>{NUMBER})(?:\s*[X×*]\s*(?P<pitch>\d(?:[.,]\d{{1,3}})?))?"
    rf"(?:\s*[X×*]\s*(?P<long>{NUMBER}))?(?![0-9A-Z.,/]|\s*[X×*])(?P<rest>.*)"
)
_GAUGE = r"#\s?\d{1,2}|NO\.?\s?\d{1,2}"
_INCH = re.compile(
    rf"(?P<size>{_GAUGE}|{FRACTION}|\d{{1,2}}(?:\.\d{{2,3}})?)\s?\"?(?:\s*-\s*(?P<tpi>\d{{1,3}}(?:\.\d)?))?\s*-?\s*"
    r"(?P<system>UNC|UNF|UNEF|BSW|WHIT(?:WORTH)?|BSF|BSP[PT]?|NPT|BSC|CEI|BSB|ME|BA)\b"
    r"(?:\s*\(CEI\))?(?:\s*[-(]?\s*(?P<after>\d{1,2}(?:\.\d)?)\s*(?:TPI|T\.P\.I\.)?)?"
    r"(?:\s*BRASS\))?(?P<rest>.*)"
)
_PIPE = re.compile(
    rf"(?P<system>G|R|RP|RC)\s?(?P<size>{FRACTION}|\d{{1,2}})(?![0-9X.,]|-[0-9])(?P<rest>.*)"
)

_OLD_SYSTEM = {"WHIT": "BSW", "WHITWORTH": "BSW", "BSPP": "BSP", "CEI": "BSC"}
_STANDARD = {
    "UNC": "ASME B1.1",
    "UNF": "ASME B1.1",
    "UNEF": "ASME B1.1",
    "BSW": "BS 84",
    "BSF": "BS 84",
    "BSP": "ISO 228-1",
    "BSPT": "ISO 7-1",
    "NPT": "ASME B1.20.1",
    "BSC": "BS 811",
    "BA": "BS 93",
    "BSB": "26 TPI brass thread",
    "ME": "ME series",
}


def _metric(shown: str) -> list[Reading]:
    found = _METRIC.fullmatch(shown)
    if found is None:
        return []
    size, pitch = dotted(found["size"]), dotted(found["pitch"] or "")
    long = length(dotted(found["long"])) if found["long"] else None
    sizes = {"diameter": length(size) or 0, "pitch": (length(pitch) or 0) if pitch else 0}
    known = {name: nm for name, nm in sizes.items() if nm}
    if long:
        known["length"] = long
    number = f"M{size}x{pitch}" if pitch else f"M{size}"
    return [reading(number, ("thread", "metric thread", "ISO 261"), found["rest"], sizes=known)]


def _inch(shown: str) -> list[Reading]:
    found = _INCH.fullmatch(shown)
    if found is None:
        return []
    system = _OLD_SYSTEM.get(found["system"], found["system"])
    size = re.sub(r"^NO\.?\s?", "#", found["size"]).replace("# ", "#")
    tpi = found["tpi"] or found["after"] or ""
    number = _inch_number(size, tpi, system)
    if number is None:
        return []
    diameter = length(size, "inch") if system not in ("BA", "BSP", "BSPT", "NPT") else None
    sizes = {"diameter": diameter} if diameter else {}
    if tpi and system != "BA":
        sizes["pitch"] = round(NM_PER_INCH / float(tpi))
    what = ("thread", _type(system), _STANDARD[system])
    return [reading(number, what, found["rest"], sizes=sizes)]


def _inch_number(size: str, tpi: str, system: str) -> str | None:
    """The thread's number as the table has it, or one of its other names."""
    spaced = re.sub(r"^(\d+)-", r"\1 ", size)
    turns = f"-{tpi}" if tpi else ""
    match system:
        case "BSP":
            return f"G {spaced}"
        case "BSPT":
            return f"R {spaced}"
        case "BA":
            return f"{size} BA" if not turns and size.isdigit() else None
        case "BSC":
            return f"{spaced} BSC {tpi}".strip()
        case "BSB":
            return f"{spaced} BSB (26 TPI brass)"
        case "NPT":
            return f"{size.replace(' ', '-')}{turns} NPT"
    return f"{spaced}{turns} {system}"


def _type(system: str) -> str:
    if system.startswith("UN"):
        return "unified thread"
    if system in ("BSP", "BSPT", "NPT"):
        return "pipe thread"
    return {"BA": "ba thread", "BSC": "cycle thread"}.get(system, "whitworth thread")


def _pipe(shown: str) -> list[Reading]:
    found = _PIPE.fullmatch(shown)
    if found is None:
        return []
    letter = "G" if found["system"] == "G" else "R"
    size = re.sub(r"^(\d+)-", r"\1 ", found["size"])
    standard = "ISO 228-1" if letter == "G" else "ISO 7-1"
    what = ("thread", "pipe thread", standard)
    return [reading(f"{letter} {size}", what, found["rest"], certain="/" in size)]


_HEXAGON = re.compile(r"(?P<part>BOLT HEAD AND NUT|BOLT HEAD|SQUARE NUT|NUT)\s+(?P<thread>.+)")


def _hexagon(shown: str) -> list[Reading]:
    found = _HEXAGON.fullmatch(shown)
    if found is None:
        return []
    thread = re.sub(r"\b(LARGE|SMALL) HEXAGON", lambda m: m[0].lower(), found["thread"])
    number = f"{found['part'].lower()} {thread}"
    return [reading(number, ("other", "hexagon", "spanner sizes"), certain=False)]


def read(text: str) -> tuple[Reading, ...]:
    """The threads that ``text`` may name; () where none. Raises InputError as ``plain`` does."""
    shown = plain(text)
    return tuple(r for reader in (_metric, _inch, _pipe, _hexagon) for r in reader(shown))
