"""What the trade makes to a rule although no table of it is known here: seals, bushes, O-rings.

An entry is made when it is asked for and costs no row. It is never "listed": its sizes are steps
that such parts go by, and whether anybody makes this very one is not known.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import product

from xref.designation.three_sizes import bush_wall, like_a_seal, size_name
from xref.domain.part import BOUNDARY, Part, StoredSize
from xref.domain.size import NM_PER_INCH, NM_PER_MM, inch_text, mm_number
from xref.standards.families import FAMILIES
from xref.standards.inch_seal import inch_seal_rule
from xref.standards.seal_rule import width_limits
from xref.tables import read_table

BY_RULE = "by rule, no table known"
COMMON_STEP, FINER_STEP = 0.3, 0.1
"""How usual an entry is beside a row that one table has: steps of a sixteenth of an inch or of the
standard's own sizes, and finer ones. Judged."""

_64TH = NM_PER_INCH // 64
_INCH_WIDTH = 15 * NM_PER_INCH // 1000
"""RMA OS-4: the width of an inch seal is within 0.015 in."""


@dataclass(frozen=True, slots=True)
class MadeToRule:
    """One entry made to a rule.

    ``sizes`` are nanometres with the rule's limits, None where it gives none. ``weight`` (0..1) is
    how usual it is beside a row of one table. ``standard`` is whose rule it is.
    """

    designation: str
    kind: str
    type: str
    words: str
    sizes: Mapping[str, StoredSize]
    standard: str
    note: str
    weight: float

    @property
    def text(self) -> str:
        """As it is told: "inch shaft seal 1-3/8x2x3/8 in, by rule, no table known"."""
        return f"{self.words} {self.designation}, {BY_RULE}"


def made_to_rule(
    kind: str, sizes: Mapping[str, int], within: Mapping[str, int]
) -> tuple[MadeToRule, ...]:
    """The entries of ``kind`` ("" for any) whose sizes lie within ``within`` of ``sizes``.

    Both are nanometres; a size that ``within`` leaves out must be met exactly. Seals and bushes
    need bore, outside and width, O-rings inside and section: () where one is missing. What a table
    has is left out, since the row itself is the better answer. The most usual comes first, then
    the nearest.
    """
    found = [
        (entry, _off(entry, sizes))
        for rule_kind, names, rule in _RULES
        if kind in ("", rule_kind) and set(names) <= set(sizes)
        for entry in rule({name: _window(name, sizes, within) for name in names})
        if _key(entry.kind, {n: s.value for n, s in entry.sizes.items()}) not in _tabled()
    ]
    return tuple(entry for entry, _ in sorted(found, key=lambda f: (-f[0].weight, f[1])))


_Window = tuple[int, int]


def _window(name: str, sizes: Mapping[str, int], within: Mapping[str, int]) -> _Window:
    reach = within.get(name, 0)
    return sizes[name] - reach, sizes[name] + reach


def _off(entry: MadeToRule, sizes: Mapping[str, int]) -> int:
    return sum(abs(size.value - sizes[name]) for name, size in entry.sizes.items())


def _key(kind: str, sizes: Mapping[str, int]) -> tuple[str, tuple[int, ...]]:
    names = ("inside", "section") if kind == "o-ring" else BOUNDARY
    return kind, tuple(sizes.get(name, 0) for name in names)


_TABLES = (
    "shaft_seal_iso6194",
    "plain_bush",
    "bush_sintered",
    "bush_wrapped_inch",
    "oring_as568",
    "oring_iso3601",
)
"""The tables of what is made to a rule here: only these are read, not every family."""


def _parts_of(*tables: str) -> list[Part]:
    return [FAMILIES[name](row) for name in tables for row in read_table(name)]


@cache
def _tabled() -> frozenset[tuple[str, tuple[int, ...]]]:
    return frozenset(
        _key(part.kind, {name: size.value for name, size in part.sizes.items()})
        for part in _parts_of(*_TABLES)
    )


def _steps(window: _Window, step: int) -> range:
    """The whole steps inside the window, more than zero."""
    low, high = window
    return range(max(-(-low // step), 1) * step, high + 1, step)


def _inch_name(*sizes: int) -> str:
    return "x".join((inch_text(nm) or "").removesuffix(" in") for nm in sizes) + " in"


# Inch shaft seals

_SMALLEST_SHAFT, _LARGEST_SHAFT = NM_PER_INCH // 4, 12 * NM_PER_INCH
_SEAL_WIDTHS = (NM_PER_INCH // 8, NM_PER_INCH)
"""Shafts from 1/4 to 12 in and widths from 1/8 to 1 in are common practice, no published source."""


def _inch_seals(windows: Mapping[str, _Window]) -> Iterator[MadeToRule]:
    shafts, bores = (_steps(windows[name], 2 * _64TH) for name in ("bore", "outside"))
    for shaft, bore, width in product(shafts, bores, _steps(windows["width"], 4 * _64TH)):
        made = _SMALLEST_SHAFT <= shaft <= _LARGEST_SHAFT
        wide = _SEAL_WIDTHS[0] <= width <= _SEAL_WIDTHS[1]
        if not (made and wide and like_a_seal(shaft, bore, width)):
            continue
        usual = shaft % (4 * _64TH) == 0 and bore % (4 * _64TH) == 0
        plain = {"bore": shaft, "outside": bore, "width": width}
        sizes = {name: StoredSize(nm) for name, nm in plain.items()}
        sizes["width"] = StoredSize(width, -_INCH_WIDTH, _INCH_WIDTH)
        yield MadeToRule(
            _inch_name(shaft, bore, width),
            "shaft seal",
            "rotary shaft seal",
            "inch shaft seal",
            sizes,
            "RMA OS-4",
            f"{BY_RULE}; {inch_seal_rule(plain)}",
            COMMON_STEP if usual else FINER_STEP,
        )


# Metric shaft seals

_WIDTHS = tuple(nm * NM_PER_MM for nm in (4, 5, 6, 7, 8, 9, 10, 12, 13, 15, 16, 18, 20))
"""The widths of ISO 6194-1 and those between them that the trade makes: common practice."""


@cache
def _iso_steps() -> tuple[frozenset[int], frozenset[int], frozenset[int]]:
    """The shafts, bores and widths that the rows of ISO 6194-1 have."""
    seals = _parts_of("shaft_seal_iso6194")
    shafts, bores, widths = (
        frozenset(part.sizes[name].value for part in seals if name in part.sizes)
        for name in BOUNDARY
    )
    return shafts, bores, widths


def _metric_seals(windows: Mapping[str, _Window]) -> Iterator[MadeToRule]:
    shafts, bores, widths = _iso_steps()
    columns = (
        _steps(windows["bore"], NM_PER_MM),
        _steps(windows["outside"], NM_PER_MM),
        [w for w in _WIDTHS if windows["width"][0] <= w <= windows["width"][1]],
    )
    for shaft, bore, width in product(*columns):
        if shaft < 6 * NM_PER_MM or not like_a_seal(shaft, bore, width):
            continue
        usual = shaft in shafts and bore in bores and width in widths
        limits = width_limits(width)
        yield MadeToRule(
            size_name(shaft, bore, width),
            "shaft seal",
            "rotary shaft seal",
            "shaft seal",
            {
                "bore": StoredSize(shaft),
                "outside": StoredSize(bore),
                "width": StoredSize(width, limits.lower, limits.upper),
            },
            "ISO 6194-1 steps",
            f"{BY_RULE}; "
            + ("shaft, bore and width are each steps of ISO 6194-1" if usual else "whole mm"),
            COMMON_STEP if usual else FINER_STEP,
        )


# Solid bushes by inches

_BUSH_NOTE = "bore and wall by sixteenths of an inch: common practice, no published source"


def _inch_bushes(windows: Mapping[str, _Window]) -> Iterator[MadeToRule]:
    columns = (
        _steps(windows["bore"], 4 * _64TH),
        _steps(windows["outside"], 4 * _64TH),
        _steps(windows["width"], 4 * _64TH),
    )
    for bore, outside, long in product(*columns):
        if not NM_PER_INCH // 8 <= bore <= 6 * NM_PER_INCH or outside <= bore:
            continue
        if bush_wall(bore, outside, long) == "none":
            continue
        usual = (outside - bore) % (8 * _64TH) == 0 and long % (8 * _64TH) == 0
        yield MadeToRule(
            _inch_name(bore, outside, long),
            "bush",
            "solid bush",
            "inch bush",
            {n: StoredSize(nm) for n, nm in zip(BOUNDARY, (bore, outside, long), strict=True)},
            "inch sixteenths",
            f"{BY_RULE}; {_BUSH_NOTE}",
            COMMON_STEP if usual else FINER_STEP,
        )


# O-rings of round metric sizes

_SECTIONS = (1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 10)
"""Round metric sections in millimetres: common practice, no published source."""


def _metric_rings(windows: Mapping[str, _Window]) -> Iterator[MadeToRule]:
    low, high = windows["section"]
    sections = [nm for s in _SECTIONS if low <= (nm := round(s * NM_PER_MM)) <= high]
    for inside, section in product(_steps(windows["inside"], NM_PER_MM // 2), sections):
        if inside < section or inside > 1000 * NM_PER_MM:
            continue
        yield MadeToRule(
            f"{mm_number(inside)}x{mm_number(section)}",
            "o-ring",
            "o-ring",
            "metric o-ring",
            {"inside": StoredSize(inside), "section": StoredSize(section)},
            "round metric sizes",
            f"{BY_RULE}; whole and half millimetres: common practice, no published source",
            COMMON_STEP if inside % NM_PER_MM == 0 else FINER_STEP,
        )


_RULES = (
    ("shaft seal", BOUNDARY, _inch_seals),
    ("shaft seal", BOUNDARY, _metric_seals),
    ("bush", BOUNDARY, _inch_bushes),
    ("o-ring", ("inside", "section"), _metric_rings),
)
