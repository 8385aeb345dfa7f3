"""Call-outs that begin with their standard: ``DIN 471 - 25x1.2``, ``ISO 1234 3.2x32``."""

from __future__ import annotations

import re
from dataclasses import dataclass

from xref.designation.callout import FRACTION, NUMBER, TIMES, dotted, in_length, pieces, reading
from xref.designation.reading import Reading
from xref.domain.number import plain


@dataclass(frozen=True, slots=True)
class _Call:
    """One standard: how it is written, what it is, and how many sizes name a row.

    ``written`` is how the tables begin the number; a further size of the call-out is the length.
    ``old`` is the earlier standard that it took the place of, "" where it is written itself.
    """

    pattern: str
    written: str
    kind: str
    type: str
    sizes: int
    old: str = ""


_CALLS = (
    _Call(r"DIN[ -]?471", "DIN 471-", "retaining ring", "external retaining ring", 2),
    _Call(r"DIN[ -]?472", "DIN 472-", "retaining ring", "internal retaining ring", 2),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?7089", "ISO 7089 ", "washer", "flat washer", 1),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?7091", "ISO 7091 ", "washer", "flat washer", 1),
    _Call(r"DIN[ -]?125(?:[ -]?A)?", "DIN 125 A ", "washer", "flat washer", 1),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?1234", "ISO 1234 ", "pin", "split pin", 1),
    _Call(r"DIN[ -]?94", "ISO 1234 ", "pin", "split pin", 1, "DIN 94"),
    _Call(r"ASME[ -]?B18\.8\.1", "ASME B18.8.1 ", "pin", "split pin", 1),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?2338", "ISO 2338 ", "pin", "parallel pin", 1),
    _Call(r"DIN[ -]?7", "ISO 2338 ", "pin", "parallel pin", 1, "DIN 7"),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?8734", "ISO 8734 ", "pin", "parallel pin", 1),
    _Call(r"DIN[ -]?6325", "ISO 8734 ", "pin", "parallel pin", 1, "DIN 6325"),
    _Call(r"ASME[ -]?B18\.8\.2", "ASME B18.8.2 ", "pin", "parallel pin", 1),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?8752", "ISO 8752 ", "pin", "spring pin", 1),
    _Call(r"DIN[ -]?1481", "DIN 1481 ", "pin", "spring pin", 1),
    _Call(r"DIN[ -]?1481", "ISO 8752 ", "pin", "spring pin", 1, "DIN 1481"),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?13337", "ISO 13337 ", "pin", "spring pin", 1),
    _Call(r"ISO[ -]?2340", "ISO 2340 ", "pin", "clevis pin", 1),
    _Call(r"ISO[ -]?2341", "ISO 2341 ", "pin", "clevis pin", 1),
    _Call(r"(?:DIN[ -]?(?:EN[ -]?)?)?ISO[ -]?2339", "ISO 2339 ", "pin", "taper pin", 1),
    _Call(r"DIN[ -]?1", "ISO 2339 ", "pin", "taper pin", 1, "DIN 1"),
    _Call(r"ISO[ -]?773", "ISO 773 ", "key", "parallel key", 2),
    _Call(r"DIN[ -]?6885(?:-1)?(?:[ -]?[AB])?", "DIN 6885 ", "key", "parallel key", 2),
    _Call(r"ASME[ -]?B17\.1", "ASME B17.1 ", "key", "parallel key", 2),
    _Call(r"ISO[ -]?3912", "ISO 3912 ", "key", "woodruff key", 2),
    _Call(r"DIN[ -]?6888", "DIN 6888 ", "key", "woodruff key", 2),
    _Call(r"DIN[ -]?7603(?:[ -]?A)?", "DIN 7603 A ", "washer", "sealing washer", 3),
    _Call(r"(?:DIN[ -]?2093|EN[ -]?16983)[ -]?A", "DIN 2093 A ", "washer", "disc spring", 1),
    _Call(r"(?:DIN[ -]?2093|EN[ -]?16983)[ -]?B", "DIN 2093 B ", "washer", "disc spring", 1),
    _Call(r"ISO[ -]?2795", "ISO 2795 ", "bush", "sintered bush", 3),
    _Call(r"GOST[ -]?6467(?:-79)?", "GOST 6467 ", "strip", "rubber strip", 2),
)
"""DIN 94, 7, 6325, 1 and 1481 as the earlier numbers of ISO 1234, 2338, 8734, 2339 and 8752: from
memory. DIN 1481 stands twice: some of its sizes are listed under its own name."""

_SIZE = rf"(?:[MD]\s?)?(?:{FRACTION}|{NUMBER})"
_SIZES = re.compile(
    rf"[ -]*(?P<sizes>{_SIZE}(?:{TIMES}(?:{FRACTION}|{NUMBER})){{0,3}})(?P<rest>.*)"
)


def _call_outs(shown: str) -> list[Reading]:
    found = []
    for call in _CALLS:
        begins = re.match(rf"(?:{call.pattern})(?:(?<=[AB])|(?![0-9.,]))", shown)
        sized = _SIZES.fullmatch(shown, begins.end()) if begins else None
        if sized:
            found.append(_one(call, sized["sizes"], sized["rest"]))
    return found


def _one(call: _Call, written: str, rest: str) -> Reading:
    named, extra = pieces(written)[: call.sizes], pieces(written)[call.sizes :]
    number = call.written + "x".join(_tidy(call, text) for text in named)
    note = f"{call.old} is the earlier standard (from memory)" if call.old else ""
    sizes = in_length(extra[0] if extra else None)
    standard = call.written.rstrip(" -").removesuffix(" A").removesuffix(" B")
    what = (call.kind, call.type, standard)
    return reading(number, what, rest, sizes=sizes, note=note, certain=not call.old)


def _tidy(call: _Call, text: str) -> str:
    """One size as the tables have it: a space in "1 1/2" is a dash in a key's."""
    if "/" not in text:
        return dotted(text).replace(" ", "")
    return text.replace(" ", "-") if call.kind == "key" else text


_ASME_WASHER = re.compile(
    r"ASME[ -]?B18\.21\.1\s+TYPE (?P<type>A|B)\s*(?P<series>NARROW|REGULAR|WIDE)?\s*"
    rf"(?:\((?P<trade>SAE|USS)\))?\s+(?P<size>(?:NO\.\s?)?(?:{FRACTION}|\d{{1,2}}))(?P<rest>.*)"
)


def _asme_washer(shown: str) -> list[Reading]:
    found = _ASME_WASHER.fullmatch(shown)
    if found is None:
        return []
    series = " ".join(
        text
        for text in (
            f"Type {found['type']}",
            (found["series"] or "").lower(),
            f"({found['trade']})" if found["trade"] else "",
        )
        if text
    )
    number = f"ASME B18.21.1 {series} {found['size'].replace('NO.', 'No.')}"
    return [reading(number, ("washer", "flat washer", "ASME B18.21.1"), found["rest"])]


_WOODRUFF = re.compile(
    r"(?:ANSI[ -]?B17\.2|WOODRUFF(?: KEY)?)[ -]*"
    r"(?P<number>\d{3,4}(?:\.5)?(?:-[0-9])?)(?P<rest>.*)"
)
_WOODRUFF_MM = re.compile(
    rf"WOODRUFF(?: KEY)?[ -]*(?P<width>{NUMBER}){TIMES}(?P<height>{NUMBER})(?P<rest>.*)"
)


def _woodruff(shown: str) -> list[Reading]:
    if found := _WOODRUFF_MM.fullmatch(shown):
        number = f"WOODRUFF {dotted(found['width'])}x{dotted(found['height'])}"
        return [reading(number, ("key", "woodruff key", "ISO 3912"), found["rest"])]
    if found := _WOODRUFF.fullmatch(shown):
        number = f"ANSI B17.2 {found['number']}"
        return [reading(number, ("key", "woodruff key", "ANSI B17.2"), found["rest"])]
    return []


_NIPPLE = re.compile(
    r"DIN[ -]?71412[ -]*(?P<form>[ABC])[ -]*(?P<thread>M\d{1,2}(?:X\d(?:[.,]\d)?)?)"
    r"(?:[ -]*AF\s?(?P<flats>\d{1,2}))?(?P<rest>.*)"
)


_NIPPLE_WORDS = re.compile(r"\b(?:GREASE\s+)?NIPPLE\b")
_ANGLES = {"45": "B", "90": "C"}
"""The form of a nipple by its angle (DIN 71412); straight ones are form A."""


def _called_by_words(shown: str) -> str:
    """ "M6x1 grease nipple 90" as the standard writes it; ``shown`` where no nipple is named."""
    bare = _NIPPLE_WORDS.sub(" ", shown)
    thread = re.search(r"M\d{1,2}(?:\s?X\s?\d(?:[.,]\d{1,2})?)?(?![0-9.])", bare)
    if bare == shown or thread is None or "71412" in shown:
        return shown
    rest = bare.replace(thread[0], " ", 1)
    angle = re.search(r"\b(45|90)\b(?:\s?(?:°|DEG(?:REES?)?))?", rest)
    rest = rest.replace(angle[0], " ", 1) if angle else rest.replace("STRAIGHT", " ", 1)
    form = _ANGLES[angle[1]] if angle else "A"
    size = "".join(thread[0].split())
    return f"DIN 71412 {form} {size} {' '.join(rest.split())}".strip()


def _nipple(shown: str) -> list[Reading]:
    found = _NIPPLE.fullmatch(_called_by_words(shown))
    if found is None:
        return []
    number = f"DIN 71412 {found['form']} {dotted(found['thread']).replace('X', 'x')}"
    if found["flats"]:
        number += f" AF{found['flats']}"
    return [reading(number, ("other", "grease nipple", "DIN 71412"), found["rest"])]


_SOFT = re.compile(r"\b(?:COPPER|ALUMINIUM|SEALING|CRUSH|FIBRE|PLUG)\b|\b(?:WASHER|RING)\b")
_THICKEST = 3
"""Millimetres: three sizes without a word are a washer's only up to this. Judged: DIN 7603 has none
above 2.5."""
_THREE = re.compile(rf"{NUMBER}{TIMES}{NUMBER}{TIMES}{NUMBER}")


def _sealing(shown: str) -> list[Reading]:
    """A sealing washer by its three sizes alone, with or without what it is."""
    bare = " ".join(_SOFT.sub(" ", shown).split())
    if _THREE.fullmatch(bare) is None:
        return []
    three = [float(text) for text in pieces(bare)]
    if bare == shown and three[-1] > _THICKEST:
        return []
    number = "DIN 7603 A " + "x".join(f"{size:g}" for size in three)
    return [reading(number, ("washer", "sealing washer", "DIN 7603"), certain=False)]


def read(text: str) -> tuple[Reading, ...]:
    """The fixings that ``text`` may name; () where none. Only a length beyond the name is a size.

    Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text)
    readers = (_call_outs, _asme_washer, _woodruff, _nipple, _sealing)
    return tuple(found for reader in readers for found in reader(shown))
