"""Three sizes written in a row (``35x52x7``): what a lip seal and a bush have in common.

The order is shaft or bore, then housing bore or outside diameter, then width or length: ISO 6194-1
and ISO 3547-1 both write it so.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from xref.domain.number import plain
from xref.domain.size import NM_PER_MM, mm_number, parse_length
from xref.errors import InputError

_WHOLE = r"\d{1,4}(?:[.,]\d{1,4})?"
_FRACTION = r"(?:\d{1,2}[ -])?\d{1,2}/\d{1,2}"
_CROSS = re.compile(
    rf"(?<![0-9.,/])(?P<bore>{_FRACTION}|{_WHOLE})\s*[X×*]\s*(?P<outside>{_FRACTION}|{_WHOLE})"
    rf"\s*[X×*]\s*(?P<width>{_FRACTION}|{_WHOLE})(?![0-9]|[.,/][0-9]|\s*[X×*]\s*[0-9])"
)
_PLAIN = re.compile(
    rf"(?<![0-9.,/-])(?P<bore>{_WHOLE})(?P<sep>[-/]|\s+)(?P<outside>{_WHOLE})(?P=sep)"
    rf"(?P<width>{_WHOLE})(?![0-9]|[.,/-][0-9])"
)
_UNIT = re.compile(r"\s*(MM|INCHES|INCH|IN|\"|″|”|'')(?![A-Z])")


@dataclass(frozen=True, slots=True)
class ThreeSizes:
    """Bore, outside and width in nanometres, and the text before and after them.

    ``name`` is the way the size tables write them, "35x52x7"; inch sizes keep their own writing and
    end in " in".
    """

    bore: int
    outside: int
    width: int
    name: str
    before: str = ""
    after: str = ""
    inch: bool = False

    @property
    def sizes(self) -> dict[str, int]:
        """The three by their names, in nanometres."""
        return {"bore": self.bore, "outside": self.outside, "width": self.width}


def size_name(*lengths: int) -> str:
    """Lengths in nanometres as the tables write them: "35x52x7"."""
    return "x".join(mm_number(nm) for nm in lengths)


def _two_widths(raw: list[str]) -> bool:
    """Whether 35x52x7/8 is meant: a rim 7 mm and the whole 8 mm wide, not 7/8 of an inch.

    The smallest metric bore written so is taken as 15: no one writes 15 inches beside 7/8. Judged.
    """
    return "/" in raw[2] and raw[0].isdigit() and raw[1].isdigit() and int(raw[0]) >= 15


def three_sizes(text: str) -> ThreeSizes | None:
    """The three sizes in ``text``: millimetres, unless inch is written or a fraction stands there.

    None where there are not exactly three, where the second is not larger than the first, or where
    a number is ambiguous (``1,250``). Raises InputError as ``plain`` does.
    """
    shown = plain(text)
    found = _CROSS.search(shown) or _PLAIN.search(shown)
    if found is None:
        return None
    raw = [found["bore"], found["outside"], found["width"]]
    after = shown[found.end() :]
    if _two_widths(raw):
        raw[2], _, second = raw[2].partition("/")
        after = f"/{second}{after}"
    unit = _UNIT.match(after)
    inch = any("/" in piece for piece in raw) or (unit is not None and unit[1] != "MM")
    try:
        bore, outside, width = (parse_length(p, "inch" if inch else "mm").nm for p in raw)
    except InputError:
        return None
    if outside <= bore:
        return None
    return ThreeSizes(
        bore,
        outside,
        width,
        name="x".join(p.replace(" ", "-") for p in raw) + " in"
        if inch
        else size_name(bore, outside, width),
        before=shown[: found.start()],
        after=after[unit.end() :] if unit else after,
        inch=inch,
    )


_RING_OF_SEAL = (4 * NM_PER_MM, 40 * NM_PER_MM)
_WIDEST_SEAL = 25 * NM_PER_MM
_SQUAREST = 3, 2


def like_a_seal(bore: int, outside: int, width: int) -> bool:
    """Whether a rotary lip seal may have these sizes (nanometres).

    Every row of the ISO 6194-1 table has a ring D − d of 10 to 35 mm and is at most 0.7 of it wide;
    the limits here are wider, for the slim seals that go beside needle bearings (8x12x3). Judged.
    """
    ring = outside - bore
    return (
        _RING_OF_SEAL[0] <= ring <= _RING_OF_SEAL[1]
        and width <= _WIDEST_SEAL
        and width * _SQUAREST[1] <= ring * _SQUAREST[0]
    )


Wall = Literal["wrapped", "solid", "none"]

_WRAPPED_WALL = (
    (3, 4, 1_500_000),
    (5, 18, 2_000_000),
    (20, 25, 3_000_000),
    (28, 40, 4_000_000),
    (45, 300, 5_000_000),
)
"""D − d of a wrapped bush (twice its wall: 0.75, 1, 1.5, 2, 2.5 mm) over a range of bores in
millimetres, as the rows of our ISO 3547-1 table have it."""

_THICKEST_WALL = 20 * NM_PER_MM
"""The thickest D − d in the ISO 4379 rows."""


def bush_wall(bore: int, outside: int, length: int) -> Wall:
    """Which bush has this wall: "wrapped" by the rule of ISO 3547-1, "solid" where a solid one
    might (ISO 4379 has D − d of 4 to 20 mm), "none" where no bush is like that.

    Every bush in the tables is at least 1.6 times as long as D − d; the limit here is once. Judged.
    """
    ring = outside - bore
    if length < ring or length > 4 * outside:
        return "none"
    for least, most, twice_wall in _WRAPPED_WALL:
        if least * NM_PER_MM <= bore <= most * NM_PER_MM and ring == twice_wall:
            return "wrapped"
    return "solid" if NM_PER_MM <= ring <= _THICKEST_WALL else "none"


LIP_OR_METAL = "a rubber lip makes it a seal; metal or hard plastic with no lip a bush"
"""What tells the two readings of three sizes apart, with no tool."""


_CROSSED = re.compile(r"[\s/x×X-]+")


def outside_first(text: str) -> str:
    """Three bare numbers, the outside first ("52 35 7"): written as the tables do; "" for anything
    else."""
    three = [piece for piece in _CROSSED.split(text.strip()) if piece]
    if len(three) != 3 or not all(re.fullmatch(r"\d+(?:\.\d+)?", piece) for piece in three):
        return ""
    first, second, width = three
    return f"{second}x{first}x{width}" if float(first) > float(second) > 0 else ""
