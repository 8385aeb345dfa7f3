"""Needle bearings: the sizes stand in the number, in millimetres or sixteenths of an inch."""

from __future__ import annotations

from collections.abc import Iterator

from xref.designation.basic import END, SEP, Basic, pattern
from xref.designation.metric import bore_of
from xref.designation.reading import COMMON, MM, Feature

SIXTEENTH = 1_587_500
"""Nanometres in 1/16 in (1 in = 25.4 mm exactly)."""

_MM = r"[0-9]{1,3}(?:\.[0-9])?"
_DRAWN = pattern(rf"(?P<name>HK|BK){SEP}(?P<bore>[0-9]{{2}})(?P<width>[0-9]{{2}}){END}(?P<tail>.*)")
_RING = pattern(
    rf"(?P<name>NKIS|NKI|NKS|NK){SEP}(?P<bore>[0-9]{{1,3}})"
    rf"(?:/(?P<width>[0-9]{{1,3}}))?{END}(?P<tail>.*)"
)
_NA = pattern(
    rf"(?P<name>RNA|NA){SEP}(?P<series>48|49|69)"
    rf"(?:/(?P<odd>22|28|32)|(?P<code>[0-9]{{2}})){END}(?P<tail>.*)"
)
_CAGE = pattern(
    rf"K ?(?P<bore>{_MM}) ?X ?(?P<outside>{_MM}) ?X ?(?P<width>{_MM})(?![0-9.]| ?X)(?P<tail>.*)"
)
_THRUST = pattern(rf"(?P<name>AXK|AS|LS){SEP}(?P<digits>[0-9]{{4,6}}){END}(?P<tail>.*)")
_INCH = pattern(
    rf"(?P<name>BHAM|BAM|BHA|BH|BA|B|JH|J|MJH|MJ|MH|M){SEP}(?P<digits>[0-9]{{2,5}}){END}(?P<tail>.*)"
)
_BARE = pattern(rf"(?P<digits>[0-9]{{3}}){END}(?P<tail>)$")


def _mm(text: str) -> int:
    """Millimetres written with at most one decimal, as nanometres."""
    whole, _, tenth = text.partition(".")
    return int(whole) * MM + int(tenth or "0") * (MM // 10)


def _drawn(text: str) -> Iterator[Basic]:
    found = _DRAWN.match(text)
    if found is None or not (int(found["bore"]) and int(found["width"])):
        return
    closed = found["name"] == "BK"
    yield Basic(
        f"{found['name']}{found['bore']}{found['width']}",
        f"drawn cup needle, {'closed end' if closed else 'open'}",
        "ISO 3245",
        found["tail"],
        sizes={"bore": _mm(found["bore"]), "width": _mm(found["width"])},
        note="the bore is that under the needles, right only in a housing of the right size",
    )


def _ring(text: str) -> Iterator[Basic]:
    found = _RING.match(text)
    if found is None or not int(found["bore"]) or found["width"] == "0":
        return
    name, slim = found["name"], found["name"] in ("NK", "NKI")
    if slim and not found["width"]:
        return
    sizes = {"bore": _mm(found["bore"])}
    if found["width"]:
        sizes["width"] = _mm(found["width"])
    inside = "with its inner ring" if name in ("NKI", "NKIS") else "under the needles"
    yield Basic(
        f"{name}{found['bore']}" + (f"/{found['width']}" if found["width"] else ""),
        f"needle roller {name}",
        "ISO 1206" if slim else "national makers' series",
        found["tail"],
        sizes=sizes,
        note=f"the bore is that {inside}",
    )


def _machined(text: str) -> Iterator[Basic]:
    found = _NA.match(text)
    if found is None:
        return
    bore = int(found["odd"]) * MM if found["odd"] else bore_of(found["code"])
    if bore is None:
        return
    code = f"/{found['odd']}" if found["odd"] else found["code"]
    whole = found["name"] == "NA"
    name = f"{found['name']}{found['series']}{code}"
    yield Basic(
        name,
        f"needle roller {found['name']}",
        "ISO 1206",
        found["tail"],
        # The code is the bore of the inner ring, which an RNA has not.
        sizes={"bore": bore} if whole else {},
        dimension_series=found["series"] if whole else "",
        note="" if whole else f"NA{found['series']}{code} without its inner ring: the bore is Fw",
    )


def _cage(text: str) -> Iterator[Basic]:
    found = _CAGE.match(text)
    if found is None:
        return
    inside, outside, width = (_mm(found[n]) for n in ("bore", "outside", "width"))
    if 0 < inside < outside and width:
        yield Basic(
            f"K{found['bore']}X{found['outside']}X{found['width']}",
            "needle cage",
            "ISO 3030",
            found["tail"],
            sizes={"bore": inside, "outside": outside, "width": width},
        )


def _thrust_split(digits: str) -> tuple[str, str]:
    """Inside and outside: two digits each, the outside three from 100 up, both from 100 up."""
    return (digits[:3], digits[3:]) if len(digits) == 6 else (digits[:2], digits[2:])


def _cage_thickness(inside: int) -> int | None:
    """Thickness (mm) of an AXK cage: ISO 3031 / DIN 5405-2, as the bearing rules have it."""
    for most, thick in ((35, 2), (65, 3), (120, 4), (160, 5)):
        if inside <= most:
            return thick
    return None


def _thrust(text: str) -> Iterator[Basic]:
    found = _THRUST.match(text)
    if found is None:
        return
    inside, outside = (int(part) for part in _thrust_split(found["digits"]))
    if not 0 < inside < outside:
        return
    name = found["name"]
    sizes = {"bore": inside * MM, "outside": outside * MM}
    thick = {"AXK": _cage_thickness(inside), "AS": 1}.get(name)
    if thick:
        sizes["width"] = thick * MM
    yield Basic(
        f"{name}{found['digits']}",
        "thrust needle" if name == "AXK" else "thrust washer",
        "ISO 3031",
        found["tail"],
        sizes=sizes,
    )


def sixteenths(digits: str) -> tuple[int, int] | None:
    """Bore and width in sixteenths of an inch in the digits of a drawn cup number; None for none.

    Three digits that start 1, 2 or 3 part 2 + 1 (108 = 10, 8), others 1 + 2 (812 = 8, 12). Common
    trade usage.
    """
    splits = {2: 1, 3: 2 if digits[0] in "123" else 1, 4: 2}
    at = splits.get(len(digits))
    if at is None or digits[0] == "0":
        return None
    bore, width = int(digits[:at]), int(digits[at:])
    return (bore, width) if bore and width else None


_HEAVY = Feature("H", "heavy section, larger outside diameter", COMMON)
_CLOSED = Feature("M", "one closed end", COMMON)


def _drawn_inch(text: str) -> Iterator[Basic]:
    found = _INCH.match(text)
    if found is None:
        return
    name, digits = found["name"], found["digits"]
    closed = "M" in name
    if closed and name[0] == "M" and digits.endswith("1") and len(digits) > 2:
        # M and MJ numbers carry a 1 at the end that is no size.
        digits = digits[:-1]
    parted = sixteenths(digits)
    if parted is None:
        return
    bore, width = parted
    yield Basic(
        f"{name}-{found['digits']}",
        "drawn cup needle, inch",
        "inch series",
        found["tail"],
        numbering="inch",
        sizes={"bore": bore * SIXTEENTH, "width": width * SIXTEENTH},
        given=(),
        also=(f"{name}{found['digits']}",),
        note="; ".join(
            (
                f"bore {bore}/16 in and width {width}/16 in from the digits",
                *([_HEAVY.meaning] if "H" in name else []),
                *([_CLOSED.meaning] if closed else []),
            )
        ),
    )


def _bare_inch(text: str) -> Iterator[Basic]:
    """Three digits with no letters: 108 may be a drawn cup of 10/16 in, where a table has it."""
    found = _BARE.match(text)
    parted = sixteenths(found["digits"]) if found else None
    if found and parted:
        yield Basic(
            f"B-{found['digits']}",
            "drawn cup needle, inch",
            "inch series",
            numbering="inch",
            sizes={"bore": parted[0] * SIXTEENTH, "width": parted[1] * SIXTEENTH},
            note="the letters before a drawn cup's digits are missing",
            decided_by="a drawn cup is a thin shell with needles in it: measure the bore",
            needs_table=True,
        )


def read_needle(text: str) -> Iterator[Basic]:
    """Needle bearings, cages and washers in cleaned ``text``; sizes as far as the digits say."""
    for grammar in (_drawn, _ring, _machined, _cage, _thrust, _drawn_inch, _bare_inch):
        yield from grammar(text)
