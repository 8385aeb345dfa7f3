"""Evidence from measured sizes: normal error, standard tolerance, one-sided wear."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from xref.domain.evidence import Evidence, Figures, Topic
from xref.domain.kinds import is_open
from xref.domain.likelihood import Spread, background, size_bits
from xref.domain.model import Model
from xref.domain.part import Part
from xref.domain.query import Query, SizeReading
from xref.domain.size import NM_PER_INCH, NM_PER_MM, inch_text, short_mm
from xref.standards.elastomer import hardness_agrees
from xref.standards.rubber_limits import rubber_limits
from xref.standards.seal_rule import width_limits
from xref.standards.tolerance import (
    Limits,
    bearing_limits,
    bolt_clearance,
    disc_spring_limits,
    sintered_bush_limits,
)
from xref.standards.wear import RepairStep, measured_directly, repair_steps, wear
from xref.store.read.queries import ValueWeight

STANDS_FOR = {"shaft": ("bore",), "housing": ("outside",), "length": ("width",)}
"""What a part on record may call the size: a shaft is measured where the part is missing."""

EXPLAINED = 3.0
"""Standard deviations of the reading, and mean wears, that a repair step may leave. Judged."""
REPAIRED = 0.05
"""The share of journals, pins and bores in use that were once repaired to a step. Judged."""

CHOOSES = {
    "width": ("bore",),
    "length": ("bore",),
    "laid-out": ("inside", "section"),
    "outside": ("inside", "section"),
}
"""The other sizes that a size's tolerance is chosen by (ISO 492), or that it follows from."""

AS_NAMED = 0.5
"""How often the size given of a part that reads other than its nominal is the nominal itself: read
off the part, or off the shaft it sits on. Judged."""

COUNT_RIGHT = 0.98
"""How often a count is right. Judged."""

AT_LARGE = 4.0
"""The weight of parts (one of the user's own) that tell as much of a kind's sizes as all other
kinds together do. Judged."""

RUBBER_KINDS = ("strip", "boot", "gasket")

ASKEW_SHARE, ASKEW_LEAST, ASKEW_MOST = 0.03, 0.1, 0.4
"""How far off a careless reading is: a share of the size, within these millimetres. Judged."""

HARDNESS_AGREES, HARDNESS_DIFFERS = 0.5, -2.0
"""Bits: weak evidence either way, since rubber hardens with age. Judged."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a part's own record says a reading should be, in nanometres, before wear."""

    nominal: int
    lower: int
    upper: int
    offset: int
    spread: int
    reason: str

    @property
    def centre(self) -> float:
        """Mid-tolerance plus the known offset, in mm."""
        return (self.nominal + (self.lower + self.upper) / 2 + self.offset) / NM_PER_MM


def stored_name(kind: str, held: Collection[str], name: str) -> str | None:
    """The name in ``held`` of the size that was read as ``name``; None where it is not there.

    A bush's length is its width; no other kind's is.
    """
    if name in held:
        return name
    if name == "length" and kind != "bush":
        return None
    return next((other for other in STANDS_FOR.get(name, ()) if other in held), None)


def expected(part: Part, reading: SizeReading) -> Expected | None:
    """What ``part`` would show for ``reading``; None where the part has no such size on record."""
    derived = _derived(part, reading.name)
    if derived is not None:
        return derived
    held = stored_name(part.kind, part.sizes, reading.name)
    if held is None:
        return None
    size = part.sizes[held]
    lower, upper = size.lower, size.upper
    if lower is None or upper is None:
        limits = _published(part, held)
        lower, upper = (limits.lower, limits.upper) if limits else (0, 0)
    if reading.name in ("shaft", "housing"):
        bolted = part.kind == "washer" and reading.name == "shaft"
        play = bolt_clearance(size.value) if bolted else 0
        return Expected(size.value, -play, 0, 0, 0, "")
    direct = measured_directly(part.kind, part.type, held, size.value)
    return Expected(size.value, lower, upper, direct.offset, direct.spread, direct.reason)


def _published(part: Part, held: str) -> Limits | None:
    """The limits a standard gives this size of this part; None where it gives none."""
    if part.kind == "shaft seal":
        return width_limits(part.sizes[held].value) if held == "width" else None
    if part.kind in RUBBER_KINDS:
        return rubber_limits(part, held)
    if part.type == "sintered bush":
        return sintered_bush_limits(held, part.sizes[held].value)
    if part.type == "disc spring":
        return disc_spring_limits(held, part.sizes[held].value)
    values = {name: stored.value for name, stored in part.sizes.items()}
    return bearing_limits(part.type, held, values)


def _derived(part: Part, name: str) -> Expected | None:
    """Sizes of an O-ring that follow from its inside diameter and section."""
    if part.kind != "o-ring" or name not in ("laid-out", "outside"):
        return None
    inside, section = part.sizes.get("inside"), part.sizes.get("section")
    if inside is None or section is None:
        return None
    if name == "outside":
        return Expected(inside.value + 2 * section.value, 0, 0, 0, 0, "inside + 2 × section")
    length = round(math.pi * (inside.value + section.value))
    return Expected(length, 0, 0, 0, length // 200, "π × (inside + section), laid out straight")


def spread_of(kind: str, reading: SizeReading, want: Expected | None, condition: str) -> Spread:
    """The spread of ``reading`` for a part of ``kind`` ("" when unknown)."""
    worn = wear(kind, reading.name, condition)
    extra = want.spread / NM_PER_MM if want else 0.0
    tolerance = (want.upper - want.lower) / NM_PER_MM if want else 0.0
    hand = math.hypot(reading.hand / NM_PER_MM, extra)
    return Spread(
        reading.error / NM_PER_MM,
        hand,
        tolerance,
        worn.q,
        worn.w_nm / NM_PER_MM,
        worn.direction,
        math.hypot(min(ASKEW_MOST, max(ASKEW_LEAST, ASKEW_SHARE * reading.mm)), hand),
    )


@dataclass(frozen=True, slots=True)
class Compared:
    """A reading against one size on record: what was to be expected, how likely the reading is of
    it per mm, and the repair step that explains it better (None where none does)."""

    want: Expected
    density: float
    step: RepairStep | None


@dataclass(frozen=True, slots=True)
class SizeScale:
    """One reading with its background density, the same for every candidate.

    Many parts share a size: what one was worth is kept for the others of its sort, for one query.
    """

    reading: SizeReading
    behind: float
    compared: dict[tuple[object, ...], Compared | None] = field(
        default_factory=dict, compare=False, repr=False
    )
    items: dict[tuple[object, ...], Evidence] = field(
        default_factory=dict, compare=False, repr=False
    )


def scale(
    reading: SizeReading,
    stored: Sequence[ValueWeight],
    whole: float,
    query: Query,
    at_large: SizeScale | None = None,
) -> SizeScale:
    """Weigh ``reading`` against the parts that have such a size on record: ``stored`` are the
    values near it, ``whole`` the weight of all of them.

    Where they are the parts of one kind, ``at_large`` is the reading weighed against every kind: it
    counts as parts of weight ``AT_LARGE`` among them. A kind that has few parts or none with such
    a size says little of its sizes, and without this a size that agrees with another kind's by
    chance would outweigh that it is another kind.
    """
    behind = _behind(reading, stored, whole, query)
    if at_large is not None:
        behind = (whole * behind + AT_LARGE * at_large.behind) / (whole + AT_LARGE)
    return SizeScale(reading, behind)


def _behind(
    reading: SizeReading, stored: Sequence[ValueWeight], whole: float, query: Query
) -> float:
    if reading.counted:
        same = sum(one.weight for one in stored if one.value == reading.value)
        return 0.95 * (same / whole if whole else 0.0) + 0.05 / 20
    # As far off as each of them itself may be: by a narrower background a belt, whose length has
    # wide limits, was not borne out by its very length.
    near = []
    for one in stored:
        want = Expected(one.value, *one.limits, 0, 0, "")
        spread = spread_of(one.kind, reading, want, query.condition)
        near.append((spread.density(reading.mm - want.centre), one.weight))
    return background(reading.mm, near, whole)


def size_item(part: Part, scaled: SizeScale, query: Query, model: Model) -> Evidence | None:
    """The item for one size; None where the part has no such size on record."""
    reading = scaled.reading
    if reading.counted:
        return _count_item(part, scaled, model)
    key = _alike(part, reading.name)
    found = _compared(part, scaled, query, key)
    if found is None:
        return None
    if key not in scaled.items:
        scaled.items[key] = _length_item(scaled, found, model)
    return scaled.items[key]


def _length_item(scaled: SizeScale, found: Compared, model: Model) -> Evidence:
    reading, want, step = scaled.reading, found.want, found.step
    bits = size_bits(found.density, scaled.behind, model.size_floor)
    if want.offset and _as_named(reading, want):
        want = replace(want, lower=0, upper=0, offset=0, reason="as it is named")
    agrees, reason = _reason(reading.mm - want.centre, want, reading.unit)
    if step is not None:
        agrees, reason = False, f"the same part, {step.text}: a usual repair step"
    nominal = nominal_text(want.nominal, reading.unit)
    figures = Figures(reading.value, want.nominal)
    return Evidence(Topic.SIZE, reading.text, nominal, bits, reason, reading.name, figures, agrees)


def _as_named(reading: SizeReading, want: Expected) -> bool:
    """Whether a reading lies nearer to the nominal than to what the loose part would show."""
    return abs(reading.mm - want.nominal / NM_PER_MM) < abs(reading.mm - want.centre)


def _density(
    kind: str, reading: SizeReading, want: Expected, query: Query
) -> tuple[float, RepairStep | None]:
    """How likely the reading is from such a part, per mm, and the repair step that explains it
    better than its nominal size; None where none does."""
    spread = spread_of(kind, reading, want, query.condition)
    deviation = reading.mm - want.centre
    density, best = spread.density(deviation), None
    if want.offset:
        plain = spread_of(kind, reading, replace(want, spread=0), query.condition)
        nominal = plain.density(deviation + want.offset / NM_PER_MM)
        density = (1 - AS_NAMED) * density + AS_NAMED * nominal
    for step in repair_steps(kind, reading.name) if query.condition != "new" else ():
        repaired = REPAIRED * spread.density(deviation - step.nm / NM_PER_MM) / 8
        if repaired > density and _explained(deviation - step.nm / NM_PER_MM, spread):
            density, best = repaired, step
    return density, best


def _explained(left: float, spread: Spread) -> bool:
    """Whether what a repair step leaves (mm) is within tolerance, wear and reading together."""
    within = EXPLAINED * spread.sigma
    grown = left * spread.direction if spread.direction else abs(left)
    return -within <= grown <= within + EXPLAINED * spread.wear * bool(spread.direction)


def bits_of_size(part: Part, scaled: SizeScale, query: Query, model: Model) -> float:
    """The bits of ``size_item`` without saying why; the floor where there is nothing to compare."""
    found = _compared(part, scaled, query, _alike(part, scaled.reading.name))
    if found is None:
        return model.size_floor
    return size_bits(found.density, scaled.behind, model.size_floor)


def _compared(
    part: Part, scaled: SizeScale, query: Query, key: tuple[object, ...]
) -> Compared | None:
    """The reading against the part's size, worked out once for all that are alike in ``key``;
    None where the part has no such size on record."""
    if key not in scaled.compared:
        want = expected(part, scaled.reading)
        scaled.compared[key] = None
        if want is not None:
            density = _density(part.kind, scaled.reading, want, query)
            scaled.compared[key] = Compared(want, *density)
    return scaled.compared[key]


def _alike(part: Part, name: str) -> tuple[object, ...]:
    """What the size ``name`` of a part is compared by: its kind and type, its own figures, those
    that choose its tolerance or that it follows from, and the words that say how it is made."""
    key: list[object] = [part.kind, part.type]
    if part.kind in RUBBER_KINDS:
        key.append(part.words)
    for each in (name, *STANDS_FOR.get(name, ()), *CHOOSES.get(name, ())):
        held = part.sizes.get(each)
        key += [None] if held is None else [held.value, held.lower, held.upper]
    return tuple(key)


HALF_MM = NM_PER_MM // 2


def nominal_text(nm: int, unit: str) -> str:
    """A nominal size in the unit it was measured in, the other in brackets: millimetres behind
    inches, and behind millimetres the inches of a size that is an inch standard's own."""
    if unit not in ("inch", "thou"):
        own = inch_text(nm) if nm % HALF_MM else None
        return f"{short_mm(nm)} ({own})" if own else short_mm(nm)
    inch = inch_text(nm) or f"{nm / NM_PER_INCH:.4g} in"
    return f"{inch} ({short_mm(nm)})"


def _reason(deviation: float, want: Expected, unit: str) -> tuple[bool, str]:
    """Whether the reading lies within the part's tolerance, and how far outside in words.

    Where that is not its distance from the nominal size, what it is measured from is said.
    """
    outside = abs(deviation) - (want.upper - want.lower) / 2 / NM_PER_MM
    from_nominal = abs(deviation + want.centre - want.nominal / NM_PER_MM)
    limit = "the most it may be" if deviation > 0 else "the least it may be"
    off, least = f"{outside:.2f} mm", 0.005
    if unit in ("inch", "thou"):
        off, least = f"{outside * NM_PER_MM / NM_PER_INCH:.3f} in", 0.0127  # half a thou
    agrees = outside < least
    said = "agrees" if agrees else f"{off} {'over' if deviation > 0 else 'under'}"
    if not agrees and abs(outside - from_nominal) >= 0.015:
        said = f"{said} {limit}"
    return agrees, f"{said}; {want.reason}" if want.reason else said


def _count_item(part: Part, scaled: SizeScale, model: Model) -> Evidence | None:
    reading = scaled.reading
    held = part.sizes.get(reading.name)
    if held is None:
        return None
    if reading.name == "hardness":
        return _hardness_item(reading, held.value)
    same = held.value == reading.value
    bits = size_bits(COUNT_RIGHT if same else 0.0, scaled.behind, model.size_floor)
    said = "the same count" if same else "another count"
    return _counted(reading, held.value, bits, said, same)


def _counted(reading: SizeReading, held: int, bits: float, said: str, agrees: bool) -> Evidence:
    told = (Topic.SIZE, str(reading.value), str(held), bits, said, reading.name)
    return Evidence(*told, Figures(reading.value, held), agrees)


def _hardness_item(reading: SizeReading, named: int) -> Evidence:
    """Old rubber hardens, so its hardness says little either way (common practice)."""
    agrees = hardness_agrees(reading.value, named)
    bits = HARDNESS_AGREES if agrees else HARDNESS_DIFFERS
    said = "as new, or hardened with age" if agrees else "old rubber hardens, it does not soften so"
    if reading.value > named and not agrees:
        said = "harder than age explains"
    return _counted(reading, named, bits, f"Shore A: {said}", agrees)


def _lacking(part: Part, reading: SizeReading, model: Model) -> Evidence:
    """A size that such a part does not have, for a standard names all that it has."""
    text = str(reading.value) if reading.counted else reading.text
    said = f"such a {part.kind or 'part'} has no {reading.name}"
    return Evidence(Topic.SIZE, text, "", model.size_lacking, said, reading.name)


def size_evidence(
    part: Part, scales: Mapping[str, SizeScale], query: Query, model: Model
) -> tuple[list[Evidence], list[str]]:
    """The size items of one part and the names that could not be compared."""
    items: list[Evidence] = []
    absent: list[str] = []
    for name, scaled in scales.items():
        item = size_item(part, scaled, query, model)
        if item is not None:
            items.append(item)
        elif part.is_standard and not is_open(part.kind, name):
            items.append(_lacking(part, scaled.reading, model))
        else:
            absent.append(name)
    together = math.fsum(item.bits for item in items)
    if together < model.sizes_floor:
        back = model.sizes_floor - together
        items.append(Evidence(Topic.SIZES_SLIP, "", "", back, "several sizes off: one slip"))
    return items, absent
