"""A decoded number in plain text, for somebody who is tired and stands at the bench."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap

from xref.domain.part import COUNTS, Part
from xref.domain.size import inch_text, mm_text
from xref.domain.weights import ORIGIN_STANDARD
from xref.services.cautions import cautions
from xref.services.decode import Decoded, DecodedReading

WIDTH = 78
"""Columns of a line; a terminal has 80."""

_ORDER = ("bore", "inside", "section", "outside", "width", "cone-width", "cup-width")

_DEFER = (
    "For brakes, steering, lifting, pressure or fuel go by the maker's data and ask a qualified "
    "person."
)


def _lines(text: str, first: str = "", then: str | None = None) -> list[str]:
    return wrap(
        text,
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * len(first) if then is None else then,
        break_on_hyphens=False,
    )


def _size(name: str, value: int) -> str:
    if name in COUNTS:
        return f"{name} {value}"
    inch = inch_text(value)
    return f"{name} {mm_text(value)}" + (f" ({inch})" if inch else "")


def _sizes(sizes: Mapping[str, int]) -> str:
    names = sorted(sizes, key=lambda name: _ORDER.index(name) if name in _ORDER else len(_ORDER))
    return ", ".join(_size(name, sizes[name]) for name in names) or "none known"


def _field(name: str, text: str) -> list[str]:
    return _lines(text, f"  {name + ':':<15}", " " * 17) if text else []


def _features(reading: DecodedReading) -> Iterator[str]:
    for feature in reading.features:
        usual = "" if feature.basis == "standard" else f" ({feature.basis})"
        yield from _lines(f"{feature.code}: {feature.meaning}{usual}", "  - ", "    ")


def _reading(reading: DecodedReading) -> list[str]:
    plain = reading.kind in reading.type or reading.kind == "other"
    what = reading.type if plain else f"{reading.kind}, {reading.type}"
    standard = f" ({reading.standard})" if reading.standard else ""
    return [
        *_lines(f"{reading.canonical}: {what}{standard}", "", "  "),
        *_field("sizes", _sizes(reading.sizes)),
        *_features(reading),
        *_field("also written", ", ".join(reading.also_written)),
        *_field("note", reading.note),
    ]


def _part(reading: DecodedReading) -> Part:
    """The reading as a part, to ask for its cautions."""
    return Part(
        number=reading.designation,
        maker=reading.standard,
        kind=reading.kind,
        group="",
        origin=ORIGIN_STANDARD,
        weight=0,
        words=reading.type,
    )


def _cautions(readings: Iterable[DecodedReading]) -> list[str]:
    said = [text for reading in readings for text in cautions(_part(reading))]
    return _lines(" ".join((*dict.fromkeys(said), _DEFER)), "Caution: ", "  ")


def _printable(text: str) -> str:
    """``text`` without signs that a terminal would obey instead of showing."""
    return "".join(c if c.isprintable() or c == "\n" else f"\\x{ord(c):02x}" for c in text)


def _given(decoded: Decoded) -> str:
    """The text as it was given, short enough for a heading."""
    return decoded.text.strip()[:40]


def decode_text(decoded: Decoded) -> str:
    """``decoded`` as plain text of at most 80 columns: the answer first, what decides, cautions."""
    if not decoded.readings:
        lines = _lines(f'"{_given(decoded)}" is no number this tool can read.')
        lines += _lines(
            "It may be a maker's own part number: try it as a mark, and measure the part."
        )
        return _printable("\n".join(lines))
    return _printable("\n".join(_answer(decoded)))


def _answer(decoded: Decoded) -> list[str]:
    lines = []
    if len(decoded.readings) > 1:
        lines += _lines(f"{len(decoded.readings)} readings of {_given(decoded)}:")
        lines += [*_lines(decoded.decided_by, "What decides: ", "  "), ""]
    for reading in decoded.readings:
        lines += [*_reading(reading), ""]
    if decoded.unknown:
        lines += _lines("Not understood: " + ", ".join(decoded.unknown), "", "  ")
    return [*lines, *_cautions(decoded.readings)]
