"""Small parts as they are asked for: ``1/4 ball``, ``No 4 taper pin``, ``1/4 circlip``."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.callout import FRACTION, NUMBER, TIMES, dotted, in_length, length, reading
from xref.designation.lazy import says, whole
from xref.designation.reading import COMMON, Feature, Reading
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM, inch_text

_SIZE = rf"(?P<size>{FRACTION}|{NUMBER})\s*(?P<unit>MM|INCH|IN|\"|″)?"
_FIRST = rf"{_SIZE}\s*(?:DIA(?:METER)?\.?\s*)?"
_OFF = r"(?:(?P<count>\d{1,3})\s*(?:[X×*]|OFF)\s*)?"
_TIMES_MANY = r"(?:\s*(?:[X×*]|\()\s*(?P<after>\d{1,3})(?:\s*OFF)?\)?)?"


def _unit(size: str, unit: str | None) -> str:
    if unit:
        return "mm" if unit == "MM" else "inch"
    return "inch" if "/" in size or size.startswith(("0.", ".")) else "mm"


def _named(size: str, unit: str | None) -> tuple[str, int]:
    """How the tables name the size, and its nanometres: a fraction, else millimetres."""
    which = _unit(size, unit)
    nm = length(dotted(size), which) or 0
    if which == "mm":
        return f"{float(dotted(size)):g}", nm
    fraction = (inch_text(nm) or "").removesuffix(" in")
    return fraction or f"{nm / NM_PER_MM:g}", nm


# Balls

_GRADE = r"(?:\s*(?:GRADE|G)\s?(?P<grade>\d{1,4}))?"
_BALL = rf"{_OFF}{_FIRST}(?:STEEL |CHROME |LOOSE )*(?:BALLS?)(?: BEARINGS?)?{_GRADE}{_TIMES_MANY}"
_BALL_FIRST = rf"{_OFF}(?:STEEL |LOOSE )*(?:BALLS?)(?: BEARINGS?)?\s+{_SIZE}{_GRADE}{_TIMES_MANY}"


def _balls(shown: str) -> list[Reading]:
    found = whole(_BALL, shown) or whole(_BALL_FIRST, shown)
    if found is None:
        return []
    said = []
    if many := found["count"] or found["after"]:
        said.append(Feature(f"x{many}", f"{many} of them", COMMON))
    if found["grade"]:
        text = "how round and alike they are: a lower figure is better (ISO 3290-1)"
        said.append(Feature(f"G{found['grade']}", text, "standard"))
    units = [found["unit"]]
    if _bare_decimal(found["size"], found["unit"]):
        units.append("MM")  # the smallest balls are named so: 0.5 mm
    return [replace(_ball(found["size"], unit), features=tuple(said)) for unit in units]


def _bare_decimal(size: str, unit: str | None) -> bool:
    return not unit and "/" not in size and _unit(size, unit) == "inch"


def _ball(size: str, unit: str | None) -> Reading:
    name, nm = _named(size, unit)
    metric = _unit(size, unit) == "mm"
    number = f"ball {name}" if metric else f"{name} ball"
    what = ("ball", "steel ball", "ISO 3290-1")
    certain = not (metric and size.startswith(("0.", ".")))
    return reading(number, what, sizes={"diameter": nm}, certain=certain)


# Loose rollers

_ROLLER = (
    rf"(?P<word>(?:LOOSE\s+)?(?:NEEDLE\s+)?ROLLERS?\s+|NEEDLES?\s+)?(?P<dia>{NUMBER}){TIMES}"
    rf"(?P<long>{NUMBER})(?:\s*MM)?(?P<last>\s+(?:LOOSE\s+)?(?:NEEDLE\s*)?(?:ROLLERS?|NEEDLES?))?"
)


def _rollers(shown: str) -> list[Reading]:
    found = whole(_ROLLER, shown)
    if found is None:
        return []
    across, long = dotted(found["dia"]), dotted(found["long"])
    named = bool(found["word"] or found["last"])
    sizes = {"diameter": length(across) or 0, "length": length(long) or 0}
    number = f"needle roller {float(across):g}x{float(long):g}"
    what = ("roller", "loose needle roller", "GOST 6870-81")
    return [reading(number, what, sizes=sizes, certain=named)]


# Taper pins and keys

_NO = r"(?:NO\.?|#|NUMBER)?\s*(?P<number>\d/0|\d{1,2})"
_LONG = rf"(?:{TIMES}(?P<long>{FRACTION}|\d(?:\.\d{{1,3}})?)\s*(?:IN|\")?(?:\s+LONG)?)?"


def _taper_pins(shown: str) -> list[Reading]:
    found = whole(rf"{_NO}\s+TAPER PINS?{_LONG}", shown) or whole(
        rf"(?:STANDARD )?TAPER PINS?\s+{_NO}{_LONG}", shown
    )
    if found is None:
        return []
    number = f"taper pin No. {found['number']}"
    what = ("pin", "taper pin, inch", "ASME B18.8.2")
    return [reading(number, what, sizes=in_length(found["long"], "inch"))]


_PIN_WORDS = {
    "SPLIT": ("split pin", ("ISO 1234",), ("ASME B18.8.1",)),
    "COTTER": ("split pin", ("ISO 1234",), ("ASME B18.8.1",)),
    "SPRING": ("spring pin", ("ISO 8752", "ISO 13337"), ()),
    "ROLL": ("spring pin", ("ISO 8752", "ISO 13337"), ()),
    "TENSION": ("spring pin", ("ISO 8752", "ISO 13337"), ()),
    "PARALLEL": ("parallel pin", ("ISO 2338", "ISO 8734"), ("ASME B18.8.2",)),
    "DOWEL": ("parallel pin", ("ISO 8734", "ISO 2338"), ("ASME B18.8.2",)),
    "CLEVIS": ("clevis pin", ("ISO 2341", "ISO 2340"), ()),
    "TAPER": ("taper pin", ("ISO 2339",), ()),
}
"""What the word before "pin" means: its type, whose sizes it has in millimetres, and in inches."""
_PIN_WORD = rf"(?P<word>{'|'.join(_PIN_WORDS)})(?:[ -]?PINS?)?"
_PIN_LONG = rf"(?:{TIMES}(?P<long>{FRACTION}|{NUMBER})\s*(?:MM|INCH|IN|\"|″)?(?:\s+LONG)?)?"


def _pins(shown: str) -> list[Reading]:
    """A pin by its nominal size, "split pin 1/8 x 1-1/2", "5x30 roll pin": a split pin's is that of
    its hole in ISO 1234 and nearly its own in ASME B18.8.1."""
    found = whole(rf"{_PIN_WORD}\s+{_SIZE}{_PIN_LONG}", shown) or whole(
        rf"{_SIZE}{_PIN_LONG}\s+{_PIN_WORD}", shown
    )
    if found is None or (found["word"] == "TAPER" and not ("." in found["size"] or found["long"])):
        return []
    type_, metric, inch = _PIN_WORDS[found["word"]]
    unit = _unit(found["size"], found["unit"])
    name, _ = _named(found["size"], found["unit"])
    sizes = in_length(found["long"], unit)
    standards = metric if unit == "mm" else inch
    return [
        reading(f"{std} {name}", ("pin", type_, std), sizes=sizes, certain=False)
        for std in standards
    ]


_METRIC_KEY = (
    rf"(?P<first>(?:PARALLEL |FEATHER |SUNK )*KEY\s+)?(?P<wide>\d{{1,2}}(?:[.,]5)?){TIMES}"
    rf"(?P<tall>\d{{1,2}}(?:[.,]5)?)(?:{TIMES}(?P<long>\d{{1,3}}))?\s*(?:MM)?"
    r"(?P<last>\s+(?:PARALLEL |FEATHER |SUNK )*KEY)?"
)


def _metric_keys(shown: str) -> list[Reading]:
    """A parallel key in millimetres, width before height: 8x7x40 key."""
    found = whole(_METRIC_KEY, shown)
    if found is None or not (found["first"] or found["last"]):
        return []
    number = f"ISO 773 {float(dotted(found['wide'])):g}x{float(dotted(found['tall'])):g}"
    sizes = in_length(found["long"])
    return [reading(number, ("key", "parallel key", "ISO 773"), sizes=sizes, certain=False)]


_SQUARE = (
    rf"(?:BS[ -]?46(?:[ -]?PART ?1|-1(?=\s))?[ -]*)?(?P<word>(?:SQUARE |PARALLEL )*KEY\s+)?"
    rf"(?P<side>{FRACTION}|1)"
    rf"(?:{TIMES}(?P<tall>{FRACTION}|1))?(?:{TIMES}(?P<long>{FRACTION}|\d{{1,2}}))?\s*(?:IN|\")?"
    r"(?P<last>\s+(?:SQ(?:UARE|\.)?\s*)?(?:KEY(?:\s*STEEL)?))?"
)


def _keys(shown: str) -> list[Reading]:
    """A square inch key: BS 46 and, of the same sides, ASME B17.1."""
    found = whole(_SQUARE, shown)
    if found is None or not (found["word"] or found["last"] or shown.startswith("BS")):
        return []
    side, tall = (length(found[name] or "", "inch") for name in ("side", "tall"))
    if tall is not None and tall != side:
        return []
    name = found["side"].replace(" ", "-")
    sizes = {"width": side or 0, "height": side or 0} | in_length(found["long"], "inch")
    british = reading(f"BS 46 {name}x{name}", ("key", "parallel key", "BS 46-1"), sizes=sizes)
    if shown.startswith("BS"):
        return [british]
    american = ("key", "parallel key", "ASME B17.1")
    return [
        replace(british, needs_table=True),
        reading(f"ASME B17.1 {name}x{name}", american, sizes=sizes, certain=False),
    ]


_WOODRUFF = r"(?:NO\.?|#)?\s*(?P<number>\d{1,2}|[A-G])\s+WOODRUFF(?: KEY)?"
_WOODRUFF_FIRST = r"WOODRUFF(?: KEY)?\s+(?:NO\.?|#)?\s*(?P<number>\d{1,2}|[A-G])"


def _woodruffs(shown: str) -> list[Reading]:
    """The old numbers of Woodruff keys, 1 to 34 and A to G: No. 9."""
    found = whole(_WOODRUFF, shown) or whole(_WOODRUFF_FIRST, shown)
    if found is None:
        return []
    what = ("key", "woodruff key", "ANSI B17.2")
    note = "the old number of the key, which says nothing of its size"
    return [reading(f"WOODRUFF No. {found['number']}", what, note=note, certain=False)]


# Rings and washers

_WORDS = r"(?:CIRCLIPS?|SNAP RINGS?|RETAINING RINGS?)"
_SIDE = r"(?P<side>EXTERNAL|INTERNAL|SHAFT|BORE|HOUSING|CRESCENT|E)"
_RING = rf"{_SIZE}\s+(?:{_SIDE}\s+)?{_WORDS}"
_RING_FIRST = rf"(?:{_SIDE}\s+)?{_WORDS}\s+{_SIZE}"
_E_CLIP = rf"{_SIZE}\s*E[ -]?(?:CLIP|RING)S?"
_E_CLIP_FIRST = rf"E[ -]?(?:CLIP|RING)S?\s+{_SIZE}"
_INCH_RINGS = {"CRESCENT": "MS16632", "INTERNAL": "MS16625", "BORE": "MS16625", "E": "MS16633"}
_TYPES = {
    "MS16632": "crescent ring",
    "MS16633": "e-clip",
    "MS16625": "internal retaining ring",
    "MS16624": "external retaining ring",
    "DIN 471-": "external retaining ring",
    "DIN 472-": "internal retaining ring",
}
_MILITARY = (
    rf"(?P<ms>MS[ -]?1663[23]|MS[ -]?1662[45])[ -]+(?P<size>{FRACTION}|\d?\.?\d{{1,4}})"
    rf"(?:{TIMES}(?P<thick>0?\.\d{{2,3}})(?: GROOVE (?P<groove>\d?\.\d{{2,3}}))?)?"
)
_DIN_6799 = rf"DIN[ -]?6799[ -]+(?P<size>{NUMBER})(?:\s*MM)?(?P<rest>(?![0-9.,/]).*)"


def _rings(shown: str) -> list[Reading]:
    if found := whole(_DIN_6799, shown):
        number = f"DIN 6799-{dotted(found['size'])}"
        return [reading(number, ("retaining ring", "e-clip", "DIN 6799"), found["rest"])]
    if found := whole(_MILITARY, shown):
        return [_military(found)]
    if found := whole(_E_CLIP, shown) or whole(_E_CLIP_FIRST, shown):
        return _e_clips(found["size"], found["unit"])
    found = whole(_RING, shown) or whole(_RING_FIRST, shown)
    return _circlips(found["size"], found["unit"], found["side"] or "") if found else []


def _military(found: re.Match[str]) -> Reading:
    standard = found["ms"].replace(" ", "").replace("-", "")
    size, thick = found["size"], found["thick"]
    if "/" not in size:
        size = f"{float(size):g}"
    number = f"{standard} {size}" + (f"x{float(thick):g}" if thick else "")
    if found["groove"]:
        number += f" groove {float(found['groove']):g}"
    return reading(number, ("retaining ring", _TYPES[standard], standard))


def _e_clips(size: str, unit: str | None) -> list[Reading]:
    if _unit(size, unit) == "mm":
        number = f"DIN 6799-{float(dotted(size)):g}"
        note = "a metric E-clip is named by its groove: for a shaft of that size ask a smaller one"
        return [reading(number, ("retaining ring", "e-clip", "DIN 6799"), note=note)]
    name, _ = _named(size, unit)
    note = "an inch E-ring is named by its shaft"
    return [reading(f"MS16633 {name}", ("retaining ring", "e-clip", "MS16633"), note=note)]


def _circlips(size: str, unit: str | None, side: str) -> list[Reading]:
    """Rings for a shaft and for a bore; both where the text does not say which."""
    inside, outside = side in ("INTERNAL", "BORE", "HOUSING"), side in ("EXTERNAL", "SHAFT")
    if _unit(size, unit) == "mm":
        standards = (
            ["DIN 472-"] if inside else ["DIN 471-"] if outside else ["DIN 471-", "DIN 472-"]
        )
        name = f"{float(dotted(size)):g}"
        return [
            reading(f"{std}{name}", ("retaining ring", _TYPES[std], std[:-1]), certain=False)
            for std in standards
        ]
    name, _ = _named(size, unit)
    if side in _INCH_RINGS:
        standards = [_INCH_RINGS[side]]
    else:
        standards = ["MS16624", "MS16632"] + ([] if outside else ["MS16625"])
    return [
        reading(f"{std} {name}", ("retaining ring", _TYPES[std], std), certain=False)
        for std in standards
    ]


_DIN_127 = (
    r"DIN[ -]?127(?:[ -]?[AB])?[ -]+M?\s?(?P<size>\d{1,2}(?:[.,]\d)?)(?P<rest>(?![0-9.,/X]).*)"
)
_ASME = (
    r"ASME[ -]?B18\.21\.1 (?:HELICAL )?SPRING (?:LOCK )?(?P<series>REGULAR|HIGH COLLAR) "
    rf"(?P<size>NO\.?\s?\d{{1,2}}|{FRACTION}|1)"
)
_BOLT = rf"(?:(?P<metric>M\s?\d{{1,2}}(?:[.,]\d)?)|{_SIZE}|NO\.?\s?(?P<gauge>\d{{1,2}}))"
_SPRING_WASHER = r"(?P<high>HIGH[ -]COLLAR\s+)?(?:(?:SPLIT|SPRING|LOCK)[ -]?)*WASHERS?"


def _nominal(text: str) -> str:
    return re.sub(r"^NO\.?\s?", "No.", text.replace("-", " "))


def _washers(shown: str) -> list[Reading]:
    what = ("washer", "spring washer", "DIN 127")
    if found := whole(_ASME, shown):
        number = f"ASME B18.21.1 spring {found['series'].lower()} {_nominal(found['size'])}"
        return [reading(number, ("washer", "spring washer", "ASME B18.21.1"))]
    if found := whole(_DIN_127, shown):
        return [reading(f"DIN 127 M{dotted(found['size'])}", what, found["rest"])]
    found = whole(rf"{_BOLT}\s+{_SPRING_WASHER}", shown) or whole(
        rf"{_SPRING_WASHER}\s+{_BOLT}", shown
    )
    if found is None or not says(shown, "SPRING", "SPLIT", "LOCK"):
        return []
    if found["metric"] or (found["size"] and _unit(found["size"], found["unit"]) == "mm"):
        size = dotted(found["metric"] or found["size"]).replace(" ", "").removeprefix("M")
        return [reading(f"DIN 127 M{size}", what)]
    series = "high collar" if found["high"] else "regular"
    name = f"No.{found['gauge']}" if found["gauge"] else found["size"].replace("-", " ")
    american = ("washer", "spring washer", "ASME B18.21.1")
    return [reading(f"ASME B18.21.1 spring {series} {name}", american)]


def read(text: str) -> tuple[Reading, ...]:
    """The small parts that ``text`` may name; () where none. Raises InputError as ``plain`` does.

    A bare fraction is inches and a bare number millimetres, unless a unit stands there.
    """
    shown = plain(text)
    readers = (
        (_balls, ("BALL",)),
        (_rollers, ("X", "×", "*")),
        (_taper_pins, ("TAPER PIN",)),
        (_pins, tuple(_PIN_WORDS)),
        (_metric_keys, ("KEY",)),
        (_keys, ("KEY", "BS 46", "BS46", "BS-46")),
        (_woodruffs, ("WOODRUFF",)),
        (_rings, ("CLIP", "RING", "6799", "MS16", "MS 16", "MS-16")),
        (_washers, ("WASHER", "127", "SPRING")),
    )
    return tuple(r for reader, words in readers if says(shown, *words) for r in reader(shown))
