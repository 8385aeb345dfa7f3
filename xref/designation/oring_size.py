"""O-rings by their sizes: ``24.99x3.53``, inside diameter and section."""

from __future__ import annotations

import re

from xref.designation.oring_number import Call
from xref.designation.three_sizes import size_name
from xref.domain.size import NM_PER_MM, parse_length
from xref.errors import InputError

_NUMBER = r"(?:\d{1,2}[ -])?\d{1,2}/\d{1,2}|\d{0,4}[.,]\d{1,4}|\d{1,4}"
_UNIT = r"MM|INCH|IN|\"|″|”"
_SIZES = re.compile(
    rf"(?<![0-9A-Z.,/])(?P<first>{_NUMBER})\s*(?P<unit>{_UNIT})?\s*(?:ID)?\s*[X×*]\s*"
    rf"(?P<second>{_NUMBER})(?![0-9/]|[.,][0-9])\s*(?P<unit2>{_UNIT})?\s*(?:CS|W)?(?![A-Z])"
    r"(?!\s*[X×*])"
)
_MORE_BEFORE = re.compile(r"[X×*/-]\s*$")
"""What stands before the last two of three or more sizes."""

_NOMINAL_SECTION = {
    "1/16": "0.070",
    "3/32": "0.103",
    "1/8": "0.139",
    "3/16": "0.210",
    "1/4": "0.275",
}
"""What an AS568 ring of a nominal fractional section measures, in inches (its series 0 to 4)."""

_SECTIONS = (NM_PER_MM // 2, 20 * NM_PER_MM)
"""Rubber from 0.5 to 20 mm thick; the tables go from 1.02 to 8.4 mm. Judged."""


def _is_section(nm: int) -> bool:
    return _SECTIONS[0] <= nm <= _SECTIONS[1]


def _two_sizes(text: str) -> tuple[int, int, str, str] | None:
    """The two lengths in nanometres as written, the text around them, and a word on the section."""
    found = _SIZES.search(text)
    if found is None or _MORE_BEFORE.search(text[: found.start()]):
        return None
    raw = found["first"], found["second"]
    unit = found["unit2"] or found["unit"] or ("IN" if any("/" in r for r in raw) else "MM")
    try:
        first, second = (parse_length(r, "mm" if unit == "MM" else "inch").nm for r in raw)
    except InputError:
        return None
    real = next((_NOMINAL_SECTION[r] for r in reversed(raw) if r in _NOMINAL_SECTION), "")
    note = f"an AS568 ring of this nominal section measures {real} in there" if real else ""
    return first, second, f"{text[: found.start()]} {text[found.end() :]}", note


def size_calls(text: str, *, named: bool) -> tuple[Call, ...]:
    """The rings of two sizes, both ways round where both may be; () where there are not two."""
    sizes = _two_sizes(text)
    if sizes is None:
        return ()
    first, second, rest, nominal = sizes
    end = f"; {nominal}" if nominal else ""
    calls = []
    if _is_section(second):
        calls.append(
            Call(
                size_name(first, second),
                "sizes",
                "ISO 3601-1",
                rest,
                named or first >= second,
                sizes={"inside": first, "section": second},
                note=f"inside diameter, then section{end}",
            )
        )
    if first < second and _is_section(first):
        calls.append(
            Call(
                size_name(second, first),
                "sizes",
                "ISO 3601-1",
                rest,
                False,
                sizes={"inside": second, "section": first},
                note="section, then inside diameter: some sellers write it so (common practice, "
                f"no published source){end}",
                decided_by="the thickness of the rubber" if calls else "",
            )
        )
    return tuple(calls)
