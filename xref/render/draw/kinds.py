"""Which shape belongs to which kind and type, and the letter of each size in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from xref.render.draw import balls, drives, fixings, rollers, soft, threads
from xref.render.draw.figure import Figure, Sizes

Maker = Callable[[Sizes], Figure]

BEARINGS: tuple[tuple[str, Maker], ...] = (
    ("double direction thrust ball", balls.thrust_double),
    ("thrust ball", balls.thrust),
    ("spherical roller thrust", rollers.spherical_thrust),
    ("cylindrical roller thrust", rollers.roller_thrust),
    ("thrust needle", rollers.thrust_needle),
    ("thrust washer", soft.flat_ring),
    ("four-point", balls.four_point),
    ("four point", balls.four_point),
    ("angular contact ball, double row", balls.angular_double),
    ("angular contact", balls.angular),
    ("magneto", balls.magneto),
    ("self-aligning", balls.self_aligning),
    ("insert", balls.insert),
    ("spherical plain", balls.spherical_plain),
    ("spherical roller", rollers.spherical),
    ("tapered roller", rollers.tapered),
    ("cylindrical roller NUP", lambda s: rollers.cylindrical(s, "NUP")),
    ("cylindrical roller NU", lambda s: rollers.cylindrical(s, "NU")),
    ("cylindrical roller NJ", lambda s: rollers.cylindrical(s, "NJ")),
    ("cylindrical roller N", lambda s: rollers.cylindrical(s, "N")),
    ("cylindrical roller", lambda s: rollers.cylindrical(s, "")),
    ("drawn cup needle, closed", lambda s: rollers.drawn_cup(s, True)),
    ("drawn cup needle", rollers.drawn_cup),
    ("needle cage", rollers.needle_cage),
    ("needle roller NKI", lambda s: rollers.needle(s, True)),
    ("needle roller NA", lambda s: rollers.needle(s, True)),
    ("needle", lambda s: rollers.needle(s, False)),
)
"""By how the type begins or what it holds, the narrower first."""


def _bearing(kind_type: str, closed: str) -> Maker | None:
    if "deep groove" in kind_type:
        rows = 2 if "double row" in kind_type else 1
        return lambda sizes: balls.deep_groove(sizes, closed, rows)
    return next((maker for word, maker in BEARINGS if word.lower() in kind_type.lower()), None)


RINGS: tuple[tuple[str, Maker], ...] = (
    ("internal", fixings.circlip_bore),
    ("crescent", fixings.crescent),
    ("e-clip", fixings.e_clip),
    ("", fixings.circlip_shaft),
)
WASHERS: tuple[tuple[str, Maker], ...] = (
    ("disc spring", soft.disc_spring),
    ("spring washer", soft.spring_washer),
    ("", soft.flat_ring),
)
KEYS: tuple[tuple[str, Maker], ...] = (
    ("woodruff", fixings.woodruff),
    ("taper", lambda s: fixings.parallel_key(s, True)),
    ("", fixings.parallel_key),
)
OTHERS: tuple[tuple[str, Maker], ...] = (
    ("hexagon", lambda s: threads.hexagon(s, False)),
    ("felt", soft.felt),
    ("spline", drives.spline),
    (" taper", lambda s: fixings.taper_pin(s, 8)),
)


def _first(table: tuple[tuple[str, Maker], ...], words: str) -> Maker | None:
    return next((maker for word, maker in table if word in words), None)


def _pins(words: str) -> Maker:
    if "split" in words:
        return fixings.split_pin
    if "taper" in words:
        return fixings.taper_pin
    return lambda sizes: fixings.pin(sizes, words)


def _others(words: str) -> Maker | None:
    if "square" in words and "across" not in words:
        return lambda sizes: threads.hexagon(sizes, "nut" in words, 4)
    if "hexagon" in words and "nut" in words:
        return lambda sizes: threads.hexagon(sizes, True)
    return _first(OTHERS, words)


def maker_of(kind: str, kind_type: str, words: str, closed: str = "") -> Maker:
    """The shape to draw; the plain box for what has none."""
    said = f"{kind_type} {words}".lower()
    found: dict[str, Callable[[], Maker | None]] = {
        "bearing": lambda: _bearing(kind_type or words, closed),
        "shaft seal": lambda: soft.shaft_seal,
        "o-ring": lambda: soft.o_ring,
        "bush": lambda: lambda s: soft.bush(s, s.known.get("head", 0.0), "wrapped" in said),
        "retaining ring": lambda: _first(RINGS, said),
        "washer": lambda: _first(WASHERS, said),
        "key": lambda: _first(KEYS, said),
        "pin": lambda: _pins(said),
        "roller": lambda: lambda s: fixings.pin(s, said),
        "ball": lambda: drives.ball,
        "thread": lambda: lambda s: threads.thread(s, said),
        "chain": lambda: drives.chain,
        "belt": lambda: drives.belt,
        "gear": lambda: drives.wheel,
        "strip": lambda: lambda s: soft.strip(s, said),
        "other": lambda: _others(said),
    }
    make = found.get(kind)
    return (make() if make else None) or drives.plain


LETTERS: Mapping[str, str] = {
    "bore": "d",
    "outside": "D",
    "width": "B",
    "cone-width": "B",
    "cup-width": "C",
    "ring-width": "C",
    "shaft": "dₛ",
    "housing": "Dₕ",
    "inside": "d₁",
    "section": "d₂",
    "thickness": "s",
    "length": "L",
    "laid-out": "L",
    "diameter": "d",
    "pitch": "P",
    "height": "h",
    "groove": "d₂",
    "groove-width": "m",
    "hole": "dₕ",
    "cross-hole": "d₁",
    "head": "k",
    "roller": "d₁",
    "inner-width": "b₁",
    "pin": "d₂",
    "strand-pitch": "pₜ",
    "top-width": "b",
    "inside-length": "Lᵢ",
    "outside-length": "Lₐ",
    "seat": "d₁",
    "across-flats": "s",
    "small-end": "d",
    "large-end": "D",
    "minor": "d",
    "major": "D",
    "centre-height": "h",
    "bolt-spacing": "m",
}
"""Letters as the standards of each family have them where they do (from memory), else our own."""


def letters_of(sizes: Mapping[str, float]) -> dict[str, str]:
    """A letter for each size, all different: the width over a taper beside its cone's is T."""
    names = dict(LETTERS)
    if "cone-width" in sizes:
        names["width"] = "T"
    if {"bore", "diameter"} <= set(sizes) or {"small-end", "diameter"} <= set(sizes):
        names["diameter"] = "d₃"
    used: set[str] = set()
    for name in sizes:
        letter = names.get(name, name[:1])
        while letter in used:
            letter += "′"
        names[name] = letter
        used.add(letter)
    return names
