"""A decoded number in plain text, for somebody who is tired and stands at the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from xref.designation.reading import COMMON
from xref.domain.part import BOUNDARY, COUNTS
from xref.domain.size import inch_text, mm_number, mm_text
from xref.render.lines import wrapped
from xref.services.decode.decode import Decoded, DecodedReading
from xref.services.decode.written import basis_of
from xref.services.parts.read_cautions import read_cautions

_ORDER = ("bore", "inside", "section", "outside", "width", "cone-width", "cup-width")

_NO_NUMBER = "It may be a maker's own part number: try it as a mark, and measure the part."


def _size(name: str, value: int) -> str:
    if name in COUNTS:
        return f"{name} {value}"
    inch = inch_text(value)
    return f"{name} {mm_text(value)}" + (f" ({inch})" if inch else "")


def _sizes(sizes: Mapping[str, int]) -> str:
    names = sorted(sizes, key=lambda name: _ORDER.index(name) if name in _ORDER else len(_ORDER))
    return ", ".join(_size(name, sizes[name]) for name in names) or "none known"


def _field(name: str, text: str, width: int) -> list[str]:
    return wrapped(text, width, " " * 17, f"  {name + ':':<15}") if text else []


def _features(reading: DecodedReading, width: int) -> Iterator[str]:
    for feature in reading.features:
        usual = "" if feature.basis == "standard" else f" ({feature.basis})"
        yield from wrapped(f"{feature.code}: {feature.meaning}{usual}", width, "    ", "  - ")


def _also_written(reading: DecodedReading) -> str:
    """Other writings: what a standard writes with its name, then those of common usage."""
    based = [(text, basis_of(text)) for text in reading.also_written]
    named = [f"{text} ({basis})" for text, basis in based if basis != COMMON]
    usual = [text for text, basis in based if basis == COMMON]
    pieces = [", ".join(named), f"in common usage {', '.join(usual)}" if usual else ""]
    return "; ".join(piece for piece in pieces if piece)


def _reading(reading: DecodedReading, width: int) -> list[str]:
    plain = reading.kind in reading.type or reading.kind == "other"
    what = reading.type if plain else f"{reading.kind}, {reading.type}"
    standard = f" ({reading.standard})" if reading.standard else ""
    return [
        *wrapped(f"{reading.canonical}: {what}{standard}", width),
        *_field("sizes", _sizes(reading.sizes), width),
        *_features(reading, width),
        *_field("also written", _also_written(reading), width),
        *_field("note", reading.note, width),
    ]


def _cautions(readings: Iterable[DecodedReading], width: int) -> list[str]:
    return wrapped(f"Caution: {' '.join(read_cautions(readings))}", width)


def _printable(text: str) -> str:
    """``text`` without signs that a terminal would obey instead of showing."""
    return "".join(c if c.isprintable() or c == "\n" else f"\\x{ord(c):02x}" for c in text)


def _given(decoded: Decoded) -> str:
    """The text as it was given, short enough for a heading."""
    return decoded.text.strip()[:40]


def decode_text(decoded: Decoded, width: int = 80) -> str:
    """``decoded`` as plain text: the answer first, what decides, the cautions."""
    if not decoded.readings:
        lines = wrapped(f'"{_given(decoded)}" is no number this tool can read.', width, "")
        lines += wrapped(_NO_NUMBER, width, "") + _same_sizes(decoded, width)
        return _printable("\n".join(lines))
    return _printable("\n".join(_answer(decoded, width)))


def _answer(decoded: Decoded, width: int) -> list[str]:
    lines = []
    if len(decoded.readings) > 1:
        lines += wrapped(f"{len(decoded.readings)} readings of {_given(decoded)}:", width)
        lines += [*wrapped(f"What decides: {decoded.decided_by}", width), ""]
    for reading in decoded.readings:
        lines += [*_reading(reading, width), ""]
    if decoded.unknown:
        lines += wrapped("Not understood: " + ", ".join(decoded.unknown), width)
    lines += _same_sizes(decoded, width)
    return [*lines, *_cautions(decoded.readings, width)]


def _same_sizes(decoded: Decoded, width: int) -> list[str]:
    """What else has the three sizes that were given: a bearing is not marked by its sizes, and
    whoever measured it may ask by them."""
    if not decoded.same_sizes:
        return []
    sizes = decoded.same_sizes[0].sizes
    asked = " ".join(f"--{name} {mm_number(sizes[name].value)}mm" for name in BOUNDARY)
    numbers: dict[str, list[str]] = {}
    for part in decoded.same_sizes:
        numbers.setdefault(part.kind, []).append(part.number)
    lines = wrapped("Of the same sizes, and marked with numbers of their own:", width)
    for kind, some in numbers.items():
        lines += wrapped(f"{kind}: {', '.join(some)}", width, "    ", "  - ")
    return [*lines, "If these were measured:", f"  xref identify {asked}", ""]
