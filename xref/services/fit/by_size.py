"""Parts of the same sizes as another, those that fit with work, and near misses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.nearmiss import near_misses
from xref.domain.part import BOUNDARY, Part, StoredSize
from xref.domain.size import NM_PER_MM, mm_text
from xref.services.fit.differences import Difference
from xref.services.parts.cautioning import never_by_size_of
from xref.store.index.near import Window, boundary_classes, parts_on_dimensions, parts_with_size
from xref.store.read.load import load_parts

SAME_NM = 15_000
"""Sizes that differ by no more than 0.015 mm are one size: a table rounds inches so. Judged."""
NARROWER = 8 * NM_PER_MM
"""The most that a spacer is asked to make up. Judged."""
SLEEVE = 10 * NM_PER_MM
"""The most by which a bore may be larger and still be sleeved. Judged."""
RING_REACH = NM_PER_MM
GLAND_SQUEEZE = 0.20
"""The squeeze taken for a groove that was cut for the ring at hand. Judged: 15 to 30 % is usual."""

NAMED_KINDS = (
    "ball",
    "roller",
    "retaining ring",
    "washer",
    "pin",
    "key",
    "thread",
    "chain",
    "belt",
    "gear",
    "other",
)
"""Kinds that are chosen by sizes of their own (services.fits_named)."""

WITH_WORK_KINDS = ("bearing",)


SITS_BETWEEN = {"shaft": "bore", "housing": "outside"}
"""A part's own size by what it sits on or in: the nominal sizes are the same."""
OWN_SEATS = ("retaining ring", "other")
"""Kinds that have a shaft or a housing among the sizes of their own."""


@dataclass(frozen=True, slots=True)
class Match:
    """A part whose sizes agree in this way; ``work`` says what it would take."""

    part: Part
    grade: str
    both: bool
    work: tuple[Difference, ...] = ()


def seated(kind: str, sizes: Mapping[str, StoredSize]) -> dict[str, StoredSize]:
    """``sizes`` with the bore and the outside of what sits on such a shaft, in such a housing."""
    if kind in OWN_SEATS:
        return dict(sizes)
    found = {n: held for n, held in sizes.items() if n not in SITS_BETWEEN}
    for name, own in SITS_BETWEEN.items():
        if name in sizes:
            found.setdefault(own, sizes[name])
    return found


def by_sizes(conn: Connection, wanted: Part) -> list[Match]:
    """Parts that match ``wanted`` by size, of the same kind where it is known.

    Parts that must not be chosen by size are left out; () where too little is known of it.
    """
    if never_by_size_of(conn, [wanted])[0]:
        return []
    sizes = {name: held.value for name, held in wanted.sizes.items()}
    if "section" in sizes and "inside" in sizes:
        found = _rings(conn, sizes)
    elif wanted.kind == "strip":
        found = _strips(conn, sizes)
    elif wanted.kind in NAMED_KINDS and (wanted.kind != "washer" or "thickness" in sizes):
        from xref.services.fit.by_named_size import named_matches

        found = named_matches(conn, wanted)
    else:
        found = _boundaries(conn, wanted, sizes)
    others = [m for m in found if m.part.group != wanted.group]
    never = never_by_size_of(conn, [m.part for m in others])
    return [m for m, not_so in zip(others, never, strict=True) if not not_so]


def _boundaries(conn: Connection, wanted: Part, sizes: Mapping[str, int]) -> list[Match]:
    known = [name for name in BOUNDARY if name in sizes]
    if len(known) < 2:
        return []
    first = sizes[known[0]]
    windows = [Window(known[0], first - SLEEVE, first + SLEEVE), _window(sizes, known)]
    classes = [
        c
        for c in boundary_classes(conn, windows)
        if not wanted.kind or not c.kind or c.kind == wanted.kind
    ]
    graded = {c.dimensions: g for c in classes if (g := _grade(sizes, c.sizes, wanted.kind))}
    parts = load_parts(conn, parts_on_dimensions(conn, list(graded)))
    matches = []
    for part in parts:
        if wanted.kind and part.kind and part.kind != wanted.kind:
            continue
        held = {name: part.sizes[name].value for name in BOUNDARY if name in part.sizes}
        grade = _grade(sizes, held, wanted.kind)
        if grade:
            matches.append(Match(part, *grade))
    return matches


def _window(sizes: Mapping[str, int], known: Sequence[str]) -> Window:
    name = "outside" if "outside" in sizes else known[1]
    return Window(name, sizes[name] - 2 * NM_PER_MM, sizes[name] + 2 * NM_PER_MM)


Grade = tuple[str, bool, tuple[Difference, ...]]


def _grade(sizes: Mapping[str, int], held: Mapping[str, int], kind: str) -> Grade | None:
    """How the sizes held agree with those wanted; None where they do not."""
    known = [name for name in BOUNDARY if name in sizes]
    if any(name not in held for name in known):
        return None
    off = {n: held[n] - sizes[n] for n in known if abs(held[n] - sizes[n]) > SAME_NM}
    if not off:
        return ("same boundary dimensions", True, ())
    twin = _twins(off, sizes, held)
    if twin:
        return ("near miss", False, twin)
    if kind in WITH_WORK_KINDS and len(off) == 1 and len(known) == len(BOUNDARY):
        return _with_work(off, sizes, held)
    return None


def _with_work(
    off: Mapping[str, int], sizes: Mapping[str, int], held: Mapping[str, int]
) -> Grade | None:
    ((name, apart),) = off.items()
    if name == "width" and -NARROWER <= apart < 0:
        note = (
            f"a turned spacer or DIN 988 shim ring of {mm_text(-apart)}, touching one ring only; "
            "never a plain washer, which is neither flat nor parallel"
        )
        said = Difference("width", mm_text(sizes[name]), mm_text(held[name]), note)
        return ("with work", False, (said,))
    if name == "bore" and 2 * NM_PER_MM <= apart <= SLEEVE:
        note = f"a sleeve with a wall of {mm_text(apart // 2)}, made to the fit the shaft needs"
        said = Difference("bore", mm_text(sizes[name]), mm_text(held[name]), note)
        return ("with work", False, (said,))
    return None


def _twins(
    off: Mapping[str, int], sizes: Mapping[str, int], held: Mapping[str, int]
) -> tuple[Difference, ...]:
    """Warnings where every size that is off is off to its twin in the other system; else ()."""
    said = []
    for name in off:
        misses = [m for m in near_misses(sizes[name]) if abs(m.nm - held[name]) <= SAME_NM]
        if not misses:
            return ()
        said.append(
            Difference(
                name,
                mm_text(sizes[name]),
                mm_text(held[name]),
                f"{misses[0].text}: it does not fit",
            )
        )
    return tuple(said)


def _rings(conn: Connection, sizes: Mapping[str, int]) -> list[Match]:
    """O-rings of the same inside and section, and the near twins with their squeeze."""
    inside, section = sizes["inside"], sizes["section"]
    reach = max(RING_REACH, inside // 50)
    ids = parts_with_size(conn, "inside", (inside - reach, inside + reach), 400)
    matches = []
    for part in load_parts(conn, ids):
        held = part.sizes.get("section")
        if held is None or abs(held.value - section) > RING_REACH // 4:
            continue
        gaps = (part.sizes["inside"].value - inside, held.value - section)
        if all(abs(gap) <= SAME_NM for gap in gaps):
            matches.append(Match(part, "same boundary dimensions", True))
        else:
            matches.append(Match(part, "near miss", False, tuple(_squeeze(section, held.value))))
    return matches


def _strips(conn: Connection, sizes: Mapping[str, int]) -> list[Match]:
    """Extruded strip of the same section, whichever side is called its width."""
    wanted = _section(sizes)
    if not wanted:
        return []
    name = "thickness" if len(wanted) > 1 else "diameter"
    ids: dict[int, None] = {}
    for side in dict.fromkeys(wanted):
        window = (side - SAME_NM, side + SAME_NM)
        ids |= dict.fromkeys(parts_with_size(conn, name, window, 400, "strip"))
    matches = []
    for part in load_parts(conn, list(ids)):
        held = _section({n: size.value for n, size in part.sizes.items()})
        alike = len(held) == len(wanted) and all(
            abs(one - two) <= SAME_NM for one, two in zip(held, wanted, strict=True)
        )
        if alike:
            matches.append(Match(part, "same boundary dimensions", True))
    return matches


def _section(sizes: Mapping[str, int]) -> tuple[int, ...]:
    """The sides of a strip, the shorter first; a round cord's diameter; () where unknown."""
    if "diameter" in sizes:
        return (sizes["diameter"],)
    if "width" in sizes and "thickness" in sizes:
        return tuple(sorted((sizes["width"], sizes["thickness"])))
    return ()


def _squeeze(section: int, other: int) -> Iterable[Difference]:
    """What the other section would be squeezed in a groove cut for this one."""
    if section == other:
        return
    groove = section * (1 - GLAND_SQUEEZE)
    squeeze = (other - groove) / other
    yield Difference(
        "squeeze",
        f"{GLAND_SQUEEZE:.0%}",
        f"{squeeze:.1%}",
        f"in a groove cut for {GLAND_SQUEEZE:.0%} on {mm_text(section)} (judged); "
        "15 to 30 % is usual for a ring that does not move",
    )
