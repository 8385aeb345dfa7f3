"""Gather the parts that are worth scoring for their sizes: classes of equal dimensions first."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from sqlalchemy import Connection

from xref.domain.model import Model
from xref.domain.part import BOUNDARY, Part, StoredSize
from xref.domain.population import Population
from xref.domain.query import Query, SizeReading
from xref.domain.size import NM_PER_MM
from xref.services.identify.evidence.sizes import (
    STANDS_FOR,
    SizeScale,
    bits_of_size,
    scale,
    spread_of,
    stored_name,
)
from xref.services.identify.rest import LeftOut, compared
from xref.standards.tolerance import bolt_clearance
from xref.standards.wear import repair_steps
from xref.store.index.near import (
    BoundaryClass,
    Dimensions,
    Window,
    boundary_classes,
    parts_on_dimensions,
    parts_with_size,
)
from xref.store.read.queries import value_weights

BY_SIZE = 250
"""Parts looked at for each size that is no boundary dimension."""
BY_CLASS = 100
"""Parts scored in full for their boundary dimensions. The rest count in *others* by their class."""
REACH = 4 * NM_PER_MM
"""How far from a reading a part may be nominal and still be looked at: worn through, or a seal."""
HARDNESS_REACH = 40
"""Shore A degrees: more than old rubber hardens."""
NEAR_SHARE, NEAR_PART = 2 * NM_PER_MM, 50
"""How far off a size on record still makes a reading common: so many nanometres, and a fiftieth of
long ones, for a belt's length has wide limits and stretches. Judged."""
FINE = 0.01
"""mm: so finely a reach is found."""
ANY_WAY_OFF = frozenset({"shaft seal", "strip"})
"""Kinds whose sizes, loose in the hand, lie far from their nominals: all of ``window`` is asked."""
PLAY = {"bearing": (0.5, 0.15), "bush": (0.0, 0.15)}
"""mm: the widest tolerance of a size of the kind (ISO 492 Normal, bores to 500 mm) and how far a
drawn cup or a wrapped bush springs, both as a spread and as an offset. Others: none is known."""


def size_parts(
    conn: Connection,
    query: Query,
    scales: Mapping[str, SizeScale],
    population: Population,
    model: Model,
) -> tuple[list[int], list[LeftOut]]:
    """The parts nearest the sizes, and the classes left out of full scoring."""
    found: list[int] = []
    for name, reading in query.sizes.items():
        if name not in BOUNDARY:
            found += parts_with_size(conn, name, window(reading), BY_SIZE, query.kind)
    if "laid-out" in query.sizes and "inside" not in query.sizes:
        found += _laid_out(conn, query.sizes["laid-out"])
    # One record of a thing may say no kind where another does.
    kinds = sorted({"", *(pattern.kind for pattern in population.patterns)})
    classes = boundary_classes(conn, list(windows(query, scales, kinds, model)))
    taken, left = _best_classes(classes, scales, query, model)
    return [*found, *parts_on_dimensions(conn, taken)], left


def window(reading: SizeReading) -> tuple[int, int]:
    """The values, in nanometres or as they are counted, that a reading is looked for among."""
    if reading.name == "hardness":
        return max(1, reading.value - HARDNESS_REACH), reading.value + HARDNESS_REACH
    if reading.counted:
        return reading.value, reading.value
    reach = REACH + 6 * (reading.error + reading.hand)
    return max(1, reading.value - reach), reading.value + reach


def windows(
    query: Query, scales: Mapping[str, SizeScale], kinds: Iterable[str], model: Model
) -> Iterator[Window]:
    """Where a class must have one of its dimensions if its sizes together are above their floor.

    Of n sizes that together are above the floor one is above an nth of it. A class with fewer of
    the sizes on record may lie a bit or two above its own floor and be passed over: it then counts
    as if it were at the floor.
    """
    kinds = list(kinds)
    for name, scaled in scales.items():
        held = STANDS_FOR.get(name, (name,))[0]
        if held not in BOUNDARY:
            continue
        worth = max(model.size_floor, model.sizes_floor / len(scales))
        low, high = window(scaled.reading)
        alike: dict[tuple[int, int], list[str]] = defaultdict(list)
        for kind in kinds:
            if kind in ANY_WAY_OFF:
                alike[low, high].append(kind)
                continue
            under, over = _reach(kind, scaled, query.condition, worth)
            value = scaled.reading.value
            alike[max(low, value - under), min(high, value + over)].append(kind)
        for (least, most), some in alike.items():
            yield Window(held, least, most, tuple(some))


def _reach(kind: str, scaled: SizeScale, condition: str, worth: float) -> tuple[int, int]:
    """How far, in nanometres, the nominal of a part of ``kind`` may lie under the reading and over
    it while the size still gives more than ``worth`` bits."""
    reading = scaled.reading
    tolerance, sprung = PLAY.get(kind, (0.0, 0.0))
    spread = spread_of(kind, reading, None, condition)
    spread = replace(spread, tolerance=tolerance, hand=math.hypot(spread.hand, sprung))
    aside = tolerance / 2 + sprung
    if condition != "new":
        aside += max((s.nm / NM_PER_MM for s in repair_steps(kind, reading.name)), default=0.0)
    if kind == "washer" and reading.name == "shaft":
        aside += bolt_clearance(2 * reading.value) / NM_PER_MM
    least = scaled.behind * 2.0**worth

    def farthest(sign: int) -> int:
        near, far = 0.0, REACH / NM_PER_MM + 6 * spread.sigma
        while far - near > FINE:
            middle = (near + far) / 2
            near, far = (middle, far) if spread.density(sign * middle) > least else (near, middle)
        return math.ceil((far + aside) * NM_PER_MM)

    return farthest(1), farthest(-1)


def _laid_out(conn: Connection, reading: SizeReading) -> list[int]:
    """O-rings that a broken ring of this length may have been: π × (inside + section)."""
    across = round(reading.value / math.pi)
    window = (max(1, across - 12 * NM_PER_MM), across)
    return parts_with_size(conn, "inside", window, 2 * BY_SIZE)


def _best_classes(
    classes: Iterable[BoundaryClass], scales: Mapping[str, SizeScale], query: Query, model: Model
) -> tuple[list[Dimensions], list[LeftOut]]:
    ranked = []
    bits_of = ClassBits(scales, query, model)
    for held in classes:
        each = bits_of(held)
        bits = max(model.sizes_floor, math.fsum(each.values()))
        floor = max(model.sizes_floor, model.size_floor * len(each))
        kind = _kind_bits(held.kind, query, model)
        ranked.append((bits + kind, held, bits, floor, frozenset(each)))
    ranked.sort(key=lambda row: -row[0])
    taken: list[Dimensions] = []
    left: list[LeftOut] = []
    scored = 0
    for whole, held, bits, floor, names in ranked:
        if scored < BY_CLASS:
            taken.append(held.dimensions)
            scored += held.parts
        elif bits > floor:
            kind = whole - bits
            left.append(LeftOut(held.weight, whole, floor + kind, compared(query, names)))
    return list(dict.fromkeys(taken)), left


class ClassBits:
    """The bits of each size that a class has on record; what was once worked out is kept."""

    def __init__(self, scales: Mapping[str, SizeScale], query: Query, model: Model) -> None:
        self._asked = [(name, scaled, *window(scaled.reading)) for name, scaled in scales.items()]
        self._query = query
        self._model = model
        self._known: dict[tuple[object, ...], float] = {}

    def __call__(self, held: BoundaryClass) -> dict[str, float]:
        """The bits of each reading that a class can be compared by."""
        each = {}
        for name, scaled, low, high in self._asked:
            at = BOUNDARY.index(name) if name in BOUNDARY else _stands_at(name, held.kind)
            value = held.dimensions[at] if at is not None else 0
            if at is None or not value:
                continue
            if low <= value <= high:
                each[name] = self._bits(name, scaled, held, at)
            else:
                each[name] = self._model.size_floor
        return each

    def _bits(self, name: str, scaled: SizeScale, held: BoundaryClass, at: int) -> float:
        # The tolerance of a width is chosen by the bore.
        bore = held.bore if BOUNDARY[at] == "width" else 0
        same = (name, held.dimensions[at], held.kind, held.type, bore)
        bits = self._known.get(same)
        if bits is None:
            sizes = {n: StoredSize(v) for n, v in held.sizes.items()}
            stand_in = Part("", "", held.kind, "", "", held.weight, type=held.type, sizes=sizes)
            bits = bits_of_size(stand_in, scaled, self._query, self._model)
            self._known[same] = bits
        return bits


def _stands_at(name: str, kind: str) -> int | None:
    """Which boundary dimension of a part of ``kind`` is called ``name`` as well; None: none is."""
    stored = stored_name(kind, BOUNDARY, name)
    return BOUNDARY.index(stored) if stored in BOUNDARY else None


def _kind_bits(kind: str, query: Query, model: Model) -> float:
    return model.kind_wrong if query.kind and kind != query.kind else 0.0


def size_scales(conn: Connection, query: Query, population: Population) -> dict[str, SizeScale]:
    """Each reading with how common such a size is in the store, above all among the parts of the
    kind that was named."""
    scales = {}
    for name, reading in query.sizes.items():
        held = STANDS_FOR.get(name, (name,))[0]
        near = max(NEAR_SHARE, reading.value // NEAR_PART) if not reading.counted else 0
        among = (held, reading.value - near, reading.value + near)
        every = value_weights(conn, *among, None)
        found = scale(reading, every, population.size_weight(held), query)
        if query.kind:
            alike = value_weights(conn, *among, query.kind)
            found = scale(reading, alike, population.size_weight(held, query.kind), query, found)
        scales[name] = found
    return scales
