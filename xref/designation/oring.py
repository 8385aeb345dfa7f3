"""O-rings: dash numbers (``2-214``, ``AS568-214``), ISO 3601-1, JIS ``P25``, ``24.99x3.53``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from xref.designation.reading import COMMON, STANDARD, Feature, Reading
from xref.designation.rubber import take_rubber, words
from xref.designation.three_sizes import size_name
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM, parse_length
from xref.errors import InputError

_NAMED = re.compile(r"\bO[ -]?RINGS?\b[ -]*(?=[^ -]|$)|\bOR[ -]+(?=[0-9])")
_OTHER_THING = re.compile(r"BUSH|SEAL|(?:DIN|ISO)[ -]?(?:3760|6194|3547|4379)")

_DASH = re.compile(
    r"(?P<how>(?:SAE[ -]?)?AS[ -]?568[A-H]?[ -]*|BS[ -]?(?:1806[ -]*)?|[23]-|-)?"
    r"(?P<dash>\d{3})(?![0-9A-Z]|[.,/][0-9]|\s*[X×]\s*[0-9.])(?P<rest>.*)",
    re.DOTALL,
)
_ISO = re.compile(
    r"ISO[ -]?3601(?:-1)?[ -]*(?P<dash>\d{3})(?P<class>[AB])?(?![0-9A-Z])(?P<rest>.*)", re.DOTALL
)
_ISO_SIZES = re.compile(r"\d+[.,]\d+\s*[X×]\s*\d+[.,]\d+")
_JIS = re.compile(
    r"(?P<named>JIS(?:[ -]?B[ -]?2401(?:-1)?)?[ -]*)?(?:(?P<class>1A|1B|4C|4D)[ -]+)?"
    r"(?P<series>[PGSV])[ -]?(?P<size>\d{1,3}(?:\.\d)?A?)(?![0-9A-Z]|[.,/][0-9]|\s*[X×]\s*[0-9.])"
    r"(?P<rest>.*)",
    re.DOTALL,
)
_NUMBER = r"(?:\d{1,2}[ -])?\d{1,2}/\d{1,2}|\d{0,4}[.,]\d{1,4}|\d{1,4}"
_UNIT = r"MM|INCH|IN|\"|″|”"
_SIZES = re.compile(
    rf"(?<![0-9A-Z.,/])(?P<first>{_NUMBER})\s*(?P<unit>{_UNIT})?\s*(?:ID)?\s*[X×*]\s*"
    rf"(?P<second>{_NUMBER})(?![0-9/]|[.,][0-9])\s*(?P<unit2>{_UNIT})?\s*(?:CS|W)?(?![A-Z])"
    r"(?!\s*[X×*])"
)

_MORE_BEFORE = re.compile(r"[X×*/-]\s*$")
"""What stands before the last two of three or more sizes."""

_ISO_CLASS = {
    "A": "tolerance class A of ISO 3601-1, the closer one",
    "B": "tolerance class B of ISO 3601-1, for general purposes",
}
_ISO_GRADE = {
    "N": "surface grade N of ISO 3601-3, general purposes",
    "S": "surface grade S of ISO 3601-3, special",
    "CS": "surface grade CS of ISO 3601-3, critical",
}
_JIS_CLASS = {
    "1A": "nitrile for mineral oil, hardness 70",
    "1B": "nitrile for mineral oil, hardness 90",
    "4C": "silicone, hardness 70",
    "4D": "fluorocarbon, hardness 70",
}
"""Material classes of JIS B 2401: 1A and 1B nitrile, 4C silicone, 4D fluorocarbon. From memory; the
standard's text was not opened."""

_JIS_SERIES = {
    "P": "for moving and still faces (piston and rod)",
    "G": "for still faces",
    "V": "for vacuum flanges",
    "S": "slim section, a makers' series beside JIS B 2401",
}

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

_RUBBER_RING = "a round-section rubber ring"


@dataclass(frozen=True, slots=True)
class _CallOut:
    """One way to take the text apart, before it is given its features."""

    designation: str
    numbering: str
    standard: str
    rest: str
    certain: bool
    features: tuple[Feature, ...] = ()
    sizes: Mapping[str, int] = field(default_factory=dict)
    also_written: tuple[str, ...] = ()
    note: str = ""
    decided_by: str = ""
    canonical: str = ""


def _reading(call: _CallOut) -> Reading:
    rubber, rest = take_rubber(call.rest)
    features = (*call.features, *rubber)
    return Reading(
        designation=call.designation,
        kind="o-ring",
        type="o-ring",
        numbering=call.numbering,
        standard=call.standard,
        sizes=call.sizes,
        dimension_series="",
        features=features,
        canonical=" ".join((call.canonical or call.designation, *(f.code for f in rubber))),
        also_written=call.also_written,
        unknown=words(rest),
        note=call.note,
        decided_by=call.decided_by,
        needs_table=not call.certain,
    )


def _same_ring(dash: str) -> dict[str, str]:
    """The usual writings of one dash number; the boss gaskets 901 to 932 have their own."""
    if dash.startswith("9"):
        return {"SAE AS568": f"AS568-{dash}", "trade": f"3-{dash}", "short": f"-{dash}"}
    return {
        "SAE AS568": f"AS568-{dash}",
        "ISO 3601-1": f"ISO 3601-{dash}",
        "BS 1806": f"BS {dash}",
        "trade": f"2-{dash}",
        "short": f"-{dash}",
    }


def _dash_call(text: str, *, named: bool) -> _CallOut | None:
    found = _DASH.match(text)
    if found is None:
        return None
    how, dash = found["how"] or "", found["dash"]
    if how in ("2-", "3-") and (how == "3-") != dash.startswith("9"):
        return None
    british = how.startswith("BS")
    written = _same_ring(dash)
    if british and "BS 1806" not in written:
        return None
    sure = named or british or "568" in how
    note = "straight-thread tube-fitting boss gasket" if dash.startswith("9") else ""
    if british:
        note = "BS 1806 used the AS568 dash numbers; BS ISO 3601-1 took its place in 2008"
    return _CallOut(
        designation=written["SAE AS568"],
        numbering="BS 1806" if british else "AS568",
        standard="BS 1806" if british else "SAE AS568",
        rest=found["rest"],
        certain=sure,
        also_written=tuple(text for name, text in written.items() if name != "SAE AS568"),
        note=note,
        decided_by="" if sure else _RUBBER_RING,
    )


def _iso_call(text: str) -> _CallOut | None:
    found = _ISO.match(text)
    if found is None:
        return None
    features = []
    if found["class"]:
        features.append(Feature(found["class"], _ISO_CLASS[found["class"]], STANDARD))
    rest = _ISO_SIZES.sub(" ", found["rest"])
    grade = next((word for word in words(rest)[:1] if word in _ISO_GRADE), "")
    if grade:
        features.append(Feature(grade, _ISO_GRADE[grade], STANDARD))
        rest = rest.replace(grade, " ", 1)
    written = _same_ring(found["dash"])
    return _CallOut(
        designation=f"ISO 3601-{found['dash']}",
        numbering="ISO 3601-1",
        standard="ISO 3601-1",
        rest=rest,
        certain=True,
        features=tuple(features),
        also_written=tuple(text for name, text in written.items() if name != "ISO 3601-1"),
        canonical=f"ISO 3601-{found['dash']}{found['class'] or ''} {grade}".strip(),
    )


def _jis_call(text: str, *, named: bool) -> _CallOut | None:
    found = _JIS.match(text)
    if found is None:
        return None
    series, size = found["series"], found["size"]
    features = [Feature(series, _JIS_SERIES[series], COMMON if series == "S" else STANDARD)]
    if found["class"]:
        meaning = f"{_JIS_CLASS[found['class']]} (class of JIS B 2401; from memory)"
        features.append(Feature(found["class"], meaning, STANDARD))
    sure = named or found["named"] is not None
    return _CallOut(
        designation=f"{series}{size}",
        numbering="JIS B 2401",
        standard="JIS B 2401",
        rest=found["rest"],
        certain=sure,
        features=tuple(features),
        also_written=(f"{series}-{size}",),
        decided_by="" if sure else _RUBBER_RING,
        canonical=f"{found['class'] or ''} {series}{size}".strip(),
    )


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


def _size_calls(text: str, *, named: bool) -> tuple[_CallOut, ...]:
    sizes = _two_sizes(text)
    if sizes is None:
        return ()
    first, second, rest, nominal = sizes
    end = f"; {nominal}" if nominal else ""
    calls = []
    if _is_section(second):
        calls.append(
            _CallOut(
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
            _CallOut(
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


def _calls(text: str, *, named: bool) -> tuple[_CallOut, ...]:
    one = _iso_call(text) or _dash_call(text, named=named) or _jis_call(text, named=named)
    return (one,) if one else _size_calls(text, named=named)


def read(text: str) -> tuple[Reading, ...]:
    """The O-rings that ``text`` may name; () where none. Sizes only where they are written.

    A bare three-digit number or a bare JIS size is a weak reading, worth showing only where a table
    has it. Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text)
    if _OTHER_THING.search(shown):
        return ()
    bare = _NAMED.sub("", shown).strip()
    named = len(bare) < len(shown)
    calls = _calls(bare, named=named)
    if not calls:
        rubber, rest = take_rubber(bare)
        again = _calls(" ".join(rest.split()), named=named) if rubber else ()
        return tuple(_with_rubber(_reading(call), rubber) for call in again)
    return tuple(_reading(call) for call in calls)


def _with_rubber(reading: Reading, rubber: tuple[Feature, ...]) -> Reading:
    """``reading`` with the rubber that stood before the number."""
    codes = " ".join(feature.code for feature in rubber)
    return replace(
        reading,
        features=(*reading.features, *rubber),
        canonical=f"{reading.canonical} {codes}",
    )
