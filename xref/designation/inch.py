"""Inch ball and roller bearings: R8, RLS8, RMS8, LRJ3½, the 1600 series; and metric MR105."""

from __future__ import annotations

from collections.abc import Iterator

from xref.designation.basic import END, SEP, Basic, pattern
from xref.designation.metric import DEEP
from xref.designation.needle import SIXTEENTH
from xref.designation.reading import MM

_INCH_BALL = "deep groove ball, inch"
_EIGHTH = 2 * SIXTEENTH
_INCH = 16 * SIXTEENTH

_R = pattern(rf"R{SEP}(?P<size>[0-9]{{1,4}}(?:-[456](?![0-9A-Z]))?A?){END}(?P<tail>.*)")
_RLS = pattern(rf"(?P<name>RLS|RMS){SEP}(?P<size>[0-9]{{1,2}}){END}(?P<tail>.*)")
_ROLLER = pattern(
    rf"(?P<name>XLRJ|LRJ|MRJ){SEP}(?P<whole>[0-9]{{1,2}})"
    rf"(?:[ .-]?(?P<part>1/2|1/4|3/4))?(?![0-9/])(?P<tail>.*)"
)
_PARTS = {"1/4": (1, "¼"), "1/2": (2, "½"), "3/4": (3, "¾")}
_LIGHT = pattern(rf"(?P<number>16[0-5][0-9]){END}(?P<tail>.*)")
_MINIATURE = pattern(rf"MR{SEP}(?P<outside>[0-9]{{1,2}})(?P<bore>[1-9]){END}(?P<tail>.*)")

_SIXTEENTHS = range(2, 25)
"""R2 to R24 have the bore in sixteenths; R133, R188 and the like have no arithmetic in them."""


def _r(text: str) -> Iterator[Basic]:
    found = _R.match(text)
    if found is None:
        return
    size = found["size"]
    number = size.removesuffix("A")
    plain = number.isdigit() and number[0] != "0" and int(number) in _SIXTEENTHS
    yield Basic(
        f"R{size}",
        _INCH_BALL,
        "inch series",
        found["tail"],
        numbering="inch",
        sizes={"bore": int(number) * SIXTEENTH} if plain else {},
        own_closed=f"R{size}",
        note="A: a larger outside diameter than without it" if size.endswith("A") else "",
        needs_table=not plain,
    )


def _british(text: str) -> Iterator[Basic]:
    found = _RLS.match(text)
    if found and found["size"][0] != "0":
        yield Basic(
            f"{found['name']}{found['size']}",
            _INCH_BALL,
            "inch series",
            found["tail"],
            numbering="inch",
            sizes={"bore": int(found["size"]) * _EIGHTH},
            note=f"{'light' if found['name'] == 'RLS' else 'medium'} series, bore in eighths",
        )


def _roller(text: str) -> Iterator[Basic]:
    found = _ROLLER.match(text)
    if found is None or not int(found["whole"]):
        return
    quarters, sign = _PARTS.get(found["part"] or "", (0, ""))
    bore = int(found["whole"]) * _INCH + quarters * (_INCH // 4)
    yield Basic(
        f"{found['name']}{int(found['whole'])}{sign}",
        "cylindrical roller, inch",
        "inch series",
        found["tail"],
        numbering="inch",
        sizes={"bore": bore},
    )


def _light(text: str) -> Iterator[Basic]:
    found = _LIGHT.match(text)
    if found and found["number"] >= "1601":
        yield Basic(
            found["number"],
            _INCH_BALL,
            "inch series",
            found["tail"],
            numbering="inch",
            own_closed=found["number"],
            note="inch light series; there is no arithmetic in the number",
        )


def _miniature(text: str) -> Iterator[Basic]:
    found = _MINIATURE.match(text)
    if found and int(found["outside"]) > int(found["bore"]):
        name = f"MR{found['outside']}{found['bore']}"
        yield Basic(
            name,
            DEEP,
            "ISO 15",
            found["tail"],
            numbering="metric miniature",
            sizes={"bore": int(found["bore"]) * MM, "outside": int(found["outside"]) * MM},
            own_closed=name,
        )


def read_inch(text: str) -> Iterator[Basic]:
    """Inch ball and roller bearings, and the MR numbers that stand beside them."""
    for grammar in (_r, _british, _roller, _light, _miniature):
        yield from grammar(text)
