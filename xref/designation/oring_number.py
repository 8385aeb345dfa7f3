"""O-rings by number: dash numbers (``2-214``, ``AS568-214``), ISO 3601-1, JIS ``P25``."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from xref.designation.reading import COMMON, PRACTICE, STANDARD, Feature
from xref.designation.rubber import words

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

RUBBER_RING = "a round-section rubber ring"


@dataclass(frozen=True, slots=True)
class Call:
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


def dash_call(text: str, *, named: bool) -> Call | None:
    """An AS568 dash number, or the BS 1806 one; ``named`` as an O-ring it is certain."""
    found = _DASH.match(text)
    if found is None:
        return None
    how, dash = found["how"] or "", found["dash"]
    if how == "3-" and not dash.startswith("9"):
        return None
    british = how.startswith("BS")
    written = _same_ring(dash)
    if british and "BS 1806" not in written:
        return None
    prefix = (Feature(how, "makers' prefix to a dash number of AS568", COMMON),)
    sure = named or british or "568" in how
    note = "straight-thread tube-fitting boss gasket" if dash.startswith("9") else ""
    if note and how == "2-":
        note += ", usually written with 3- (common usage)"
    if british:
        note = "BS 1806 used the AS568 dash numbers; BS ISO 3601-1 took its place in 2008"
    return Call(
        designation=written["SAE AS568"],
        numbering="BS 1806" if british else "AS568",
        standard="BS 1806" if british else "SAE AS568",
        rest=found["rest"],
        certain=sure,
        features=prefix if how in ("2-", "3-") else (),
        also_written=tuple(text for name, text in written.items() if name != "SAE AS568"),
        note=note,
        decided_by="" if sure else RUBBER_RING,
    )


_OWN_SIZE = re.compile(
    r"5-(?P<number>\d{3})(?![0-9A-Z.,/]|\s*[X×]\s*[0-9.])(?P<rest>.*)", re.DOTALL
)


def own_size_call(text: str) -> Call | None:
    """5-052: a maker's own size, that no standard lists; it says no sizes."""
    found = _OWN_SIZE.fullmatch(text)
    if found is None:
        return None
    return Call(
        designation=f"5-{found['number']}",
        numbering=PRACTICE,
        standard=PRACTICE,
        rest=found["rest"],
        certain=True,
        features=(Feature("5-", "makers' prefix to sizes of their own (from memory)", COMMON),),
        note="in no standard: measure the inside and the section; no dash number of AS568",
        decided_by=RUBBER_RING,
    )


def iso_call(text: str) -> Call | None:
    """An ISO 3601-1 code with its tolerance class and surface grade."""
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
    return Call(
        designation=f"ISO 3601-{found['dash']}",
        numbering="ISO 3601-1",
        standard="ISO 3601-1",
        rest=rest,
        certain=True,
        features=tuple(features),
        also_written=tuple(text for name, text in written.items() if name != "ISO 3601-1"),
        canonical=f"ISO 3601-{found['dash']}{found['class'] or ''} {grade}".strip(),
    )


def jis_call(text: str, *, named: bool) -> Call | None:
    """A JIS B 2401 number with its class; ``named`` as an O-ring it is certain."""
    found = _JIS.match(text)
    if found is None:
        return None
    series, size = found["series"], found["size"]
    features = [Feature(series, _JIS_SERIES[series], COMMON if series == "S" else STANDARD)]
    if found["class"]:
        meaning = f"{_JIS_CLASS[found['class']]} (class of JIS B 2401; from memory)"
        features.append(Feature(found["class"], meaning, COMMON))
    sure = named or found["named"] is not None
    return Call(
        designation=f"{series}{size}",
        numbering="JIS B 2401",
        standard="JIS B 2401",
        rest=found["rest"],
        certain=sure,
        features=tuple(features),
        also_written=(f"{series}-{size}",),
        decided_by="" if sure else RUBBER_RING,
        canonical=f"{found['class'] or ''} {series}{size}".strip(),
    )
