"""Sizes as people write them, read exactly: ``12.7mm``, ``1-3/8"``, ``35 x 52 x 7``, ``8 thou``.

Everything is a whole number of nanometres inside. What could mean two things is refused with both
meanings named, because a size taken wrongly is worse than a size asked for again.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

from xref.domain.number import visible
from xref.errors import InputError

NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000
"""Exact: the international inch, 25.4 mm by definition. That it dates from 1959 and stands in ISO
31-1 and later ISO 80000-3 is from memory, no text of them was opened."""

SMALLEST_NM = 1_000
LARGEST_NM = 100 * 1000 * NM_PER_MM
"""One micrometre to a hundred metres: nothing outside is the size of a part. Judged."""

MAX_LENGTH_TEXT = 60
MAX_LENGTHS_TEXT = 200
MAX_COUNT_DIGITS = 6
"""Characters of one length and of several, and digits of a count. Judged."""

UNIT_NM = {
    "mm": NM_PER_MM,
    "cm": 10 * NM_PER_MM,
    "m": 1000 * NM_PER_MM,
    "inch": NM_PER_INCH,
    "thou": NM_PER_INCH // 1000,
}
"""Nanometres in one of each unit; a thou is a thousandth of an inch, 25.4 µm."""

BARE_UNITS = ("mm", "inch")
"""What a size without a unit may be set to be taken in; the first until one is set."""

_UNIT_WORDS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
    **dict.fromkeys(("inch", "in", "inches", '"', "″", "”", "''", "′′", "’’"), "inch"),
    **dict.fromkeys(("thou", "thous"), "thou"),
}
_FOOT = ("'", "′", "’", "ft", "foot", "feet")
_UNITS_HINT = "Units: mm, cm, m, in (or a double mark), thou; for example 12.7 mm or 1-3/8 in."

_DASHES = str.maketrans(dict.fromkeys("‐‑‒–−", "-") | {"⁄": "/"})
_HEAD = re.compile(r"(?P<number>[0-9./,](?:[0-9./, -]*[0-9./,])?)\s*-?\s*(?P<unit>.*)", re.DOTALL)
_DECIMAL = re.compile(r"[0-9]+\.?[0-9]*|\.[0-9]+")
_COMMA = re.compile(r"[0-9]+,[0-9]+")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)(?:\s*-\s*|\s+))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_THREAD = re.compile(
    r"(?:[0-9]+[ -]+)?[0-9]+/[0-9]+\s*(?:\"|in)?\s*-\s*[0-9]+(?![0-9/.])"
    r"|m\s?[0-9]|.*\b(?:unc|unf|unef|bsw|bsf|bsp[pt]?|npt|whit|tpi)\b",
    re.IGNORECASE | re.DOTALL,
)
_TIMES = re.compile(r"\s*[xX×*]\s*")
_EXPONENT = re.compile(r"[eE][+-]?[0-9]")
_REFUSED_CATEGORIES = ("Cc", "Cf", "Cs", "Co", "Cn")


@dataclass(frozen=True, slots=True)
class Length:
    """One length as somebody wrote it.

    ``nm`` is exact wherever the writing allows it; what is not a whole number of nanometres (1/3
    of an inch) is rounded to the nearest, a half to the even one. ``text`` is as written without
    the space around it. ``unit`` is mm, cm, m, inch or thou. ``assumed``: the unit was not
    written, and the default (or, for a bare fraction beside millimetres, the inch) was taken.
    """

    nm: int
    text: str
    unit: str
    assumed: bool


def parse_length(text: str, default_unit: str = "mm") -> Length:
    """The one length in ``text``: 1 µm to 100 m, always more than zero.

    Decimals with a point, or with a comma where that is clear; fractions ``1/2``, ``1-3/8``,
    ``1 3/8``, ``½``. A bare fraction beside the default mm is taken as inches: nobody divides
    millimetres so (common practice, no published source). Raises InputError for everything else.
    """
    default = _default(default_unit)
    flat = _flat(text, MAX_LENGTH_TEXT)
    if not _THREAD.match(flat) and re.search(r"[0-9]\D*[xX×*]\s*[0-9.]", flat):
        raise InputError(f'"{_echo(text)}" is several sizes', "Give one size here.")
    value, fraction, unit = _read(flat, text)
    assumed = not unit
    if assumed:
        unit = "inch" if fraction and default == "mm" else default
    return _bounded(value, unit, assumed, text)


def parse_lengths(text: str, default_unit: str = "mm") -> tuple[Length, ...]:
    """The lengths in ``35 x 52 x 7``; one alone is a tuple of one.

    A unit after the last serves all of them (``1-3/8 x 2 x 1/4 in``). Where no unit stands and one
    of them is a fraction beside the default mm, all are inches. Raises InputError as
    ``parse_length`` does, and where some have a unit and others have none.
    """
    default = _default(default_unit)
    pieces = _TIMES.split(_flat(text, MAX_LENGTHS_TEXT))
    if not all(pieces):
        raise InputError(
            f'a size is missing in "{_echo(text)}"', "Write them as bore x outside x width."
        )
    read = [_read(piece, piece) for piece in pieces]
    units = [unit for _, _, unit in read]
    written = units[-1]
    if any(units[:-1]) and not all(units):
        raise InputError(
            f'some sizes in "{_echo(text)}" have a unit and others have none',
            "Write the unit once at the end, or after each size.",
        )
    if not written:
        bare_fraction = any(fraction for _, fraction, _ in read)
        default = "inch" if bare_fraction and default == "mm" else default
    return tuple(
        _bounded(value, unit or written or default, not (unit or written), piece)
        for (value, _, unit), piece in zip(read, pieces, strict=True)
    )


def parse_count(text: str) -> int:
    """A count of teeth, splines, holes, rows or links: a whole number, 1 to 999999.

    Raises InputError for anything else; a count is exact and has no unit.
    """
    shown = text.strip()
    if not re.fullmatch(rf"[0-9]{{1,{MAX_COUNT_DIGITS}}}", shown) or int(shown) == 0:
        raise InputError(
            f'"{_echo(text)}" is not a count', "A count is a whole number from 1 up, such as 17."
        )
    return int(shown)


def mm_text(nm: int) -> str:
    """``nm`` in millimetres, exact and without trailing zeros: 4_762_500 → "4.7625 mm"."""
    return f"{mm_number(nm)} mm"


def mm_number(nm: int) -> str:
    """The same without the unit: 4_762_500 → "4.7625"."""
    whole, rest = divmod(abs(nm), NM_PER_MM)
    decimals = f"{rest:06d}".rstrip("0")
    return f"{'-' if nm < 0 else ''}{whole}{'.' if decimals else ''}{decimals}"


def short_mm(nm: int) -> str:
    """``nm`` in millimetres to a thousandth, for sentences: 16_668_750 → "16.669 mm"."""
    return mm_text(round(nm, -3))


def inch_text(nm: int) -> str | None:
    """``nm`` as a workshop fraction, "1-3/8 in"; None unless it is an exact multiple of 1/64 in."""
    if nm <= 0 or nm * 64 % NM_PER_INCH:
        return None
    whole, rest = divmod(Fraction(nm, NM_PER_INCH), 1)
    if not rest:
        return f"{whole} in"
    return f"{whole}-{rest} in" if whole else f"{rest} in"


def _echo(text: str) -> str:
    return visible(text[:100].strip())


def _default(unit: str) -> str:
    if unit not in UNIT_NM:
        raise InputError(
            f'"{_echo(unit)}" is no unit to take for a bare number',
            "Choose mm, cm, m, inch or thou.",
        )
    return unit


def _flat(text: str, most: int) -> str:
    """``text`` with one way of writing dashes, fractions and spaces; refuses unreadable signs."""
    if len(text) > most:
        raise InputError(
            f'"{_echo(text)}" has {len(text)} characters; a size has at most {most}',
            "Write the size alone, such as 12.7 mm.",
        )
    shown = text.strip()
    if not shown:
        raise InputError("the size is empty", _UNITS_HINT)
    out = []
    for c in shown:
        if unicodedata.category(c) in _REFUSED_CATEGORIES:
            raise InputError(
                f'the size "{_echo(text)}" has an invisible character in it',
                "Type it again by hand.",
            )
        if not c.isascii() and unicodedata.category(c) == "Nd":
            raise InputError(
                f'the size "{_echo(text)}" has digits of another script',
                "Write it with the digits 0 to 9.",
            )
        out.append(_vulgar(c))
    flat = " ".join("".join(out).translate(_DASHES).split())
    return flat[1:].lstrip() if flat[0] in "Øø⌀" else flat


def _vulgar(c: str) -> str:
    """``½`` as " 1/2" (so that 1½ reads 1 1/2); any other character as it is."""
    if unicodedata.decomposition(c).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", c)
    return c


def _read(flat: str, text: str) -> tuple[Fraction, bool, str]:
    """The number, whether it is a fraction, and the unit written ("" for none)."""
    if _THREAD.match(flat):
        raise InputError(
            f'"{_echo(text)}" is a thread, not a length',
            "Measure the diameter over the crests, and search the thread by --kind thread.",
        )
    if flat.startswith("-"):
        raise InputError(f'"{_echo(text)}" is below zero', "A size is always more than zero.")
    if flat.endswith("-"):
        raise InputError(
            f'"{_echo(text)}" breaks off at a dash', "Write what follows it, or no dash."
        )
    head = _HEAD.fullmatch(flat)
    if head is None:
        raise InputError(f'"{_echo(text)}" does not begin with a number', _UNITS_HINT)
    unit = _unit(head["unit"], text)
    value, fraction = _number(head["number"], text)
    return value, fraction, unit


def _unit(word: str, text: str) -> str:
    plain = word.lower().strip()
    if not plain:
        return ""
    known = _UNIT_WORDS.get(plain) or _UNIT_WORDS.get(plain.removesuffix("."))
    if known:
        return known
    shown = _echo(text)
    if _EXPONENT.match(plain):
        raise InputError(f'"{shown}" is written with an exponent', "Write the number in full.")
    if plain.startswith(_FOOT):
        raise InputError(f'"{shown}" is in feet', "Give it in inches, such as 18 in.")
    if plain in ("mil", "mils"):
        raise InputError(
            f'"{shown}": a mil may be a thousandth of an inch or a millimetre',
            "Write thou for a thousandth of an inch, mm for a millimetre.",
        )
    if re.search(r"[0-9]", plain):
        raise InputError(f'"{shown}" has two numbers in it', "Give one size at a time.")
    raise InputError(f'"{shown}" has a unit that is not known', _UNITS_HINT)


def _number(number: str, text: str) -> tuple[Fraction, bool]:
    """The value of a bare number and whether it was written as a fraction."""
    shown = _echo(text)
    if _DECIMAL.fullmatch(number):
        return Fraction(number.removesuffix(".")), False
    if _THOUSANDS.fullmatch(number):
        point, joined = number.replace(",", "."), number.replace(",", "")
        raise InputError(
            f'"{shown}" may be {point} or {joined}', f"Write {point} or {joined}, as it is meant."
        )
    if _COMMA.fullmatch(number):
        return Fraction(number.replace(",", ".")), False
    found = _FRACTION.fullmatch(number)
    if found is None:
        what = "has two numbers in it" if re.search(r"[0-9][ -]", number) else "is not a number"
        raise InputError(f'"{shown}" {what}', _UNITS_HINT)
    whole, top, bottom = (int(found[name] or 0) for name in ("whole", "top", "bottom"))
    if bottom == 0 or (found["whole"] and top >= bottom):
        raise InputError(
            f'"{shown}" is not a fraction a rule has', "Write it as a whole and a part, 1-3/8 in."
        )
    if bottom & (bottom - 1):
        raise InputError(
            f'"{shown}" is no fraction of an inch: those have 2, 4, 8, 16, 32 or 64 below the line',
            "Two sizes are written one after the other; millimetres as a decimal.",
        )
    return whole + Fraction(top, bottom), True


def _bounded(value: Fraction, unit: str, assumed: bool, text: str) -> Length:
    nm = round(value * UNIT_NM[unit])
    if value == 0:
        raise InputError(f'"{_echo(text)}" is zero', "A size is always more than zero.")
    if not SMALLEST_NM <= nm <= LARGEST_NM:
        raise InputError(
            f'"{_echo(text)}" is taken as {unit} and is not the size of a part',
            "Sizes lie between 0.001 mm and 100 m; write the unit.",
        )
    return Length(nm, text.strip(), unit, assumed)
