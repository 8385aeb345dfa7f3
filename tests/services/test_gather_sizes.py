"""Classes of boundary dimensions stand in for the parts, and none worth scoring is passed over."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from xref.domain.model import Model
from xref.domain.part import BOUNDARY, Part, StoredSize
from xref.domain.query import Query
from xref.services.identify.evidence.sizes import SizeScale, size_evidence, stored_name
from xref.services.identify.gather_sizes import size_parts, size_scales, window, windows
from xref.services.identify.rest import LeftOut
from xref.services.open import OpenStore, open_store
from xref.services.question import Asked, understand
from xref.store.index.near import BoundaryClass, Window, boundary_classes, parts_on_dimensions
from xref.store.index.tally import population

MODEL = Model()
EVERYTHING = [Window(name, 1, 10**13) for name in BOUNDARY]


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path: Path = tmp_path_factory.mktemp("classes") / "c.xref"
    with open_store(str(path)) as store:
        yield store


def asked(chance: random.Random, classes: list[BoundaryClass]) -> Asked:
    """Some of the sizes of some class, read with an error, under the names they may have."""
    held = chance.choice(classes)
    known = chance.sample(sorted(held.sizes), chance.randint(1, len(held.sizes)))
    also = {"bore": "shaft", "outside": "housing", "width": "length"}
    sizes = {}
    for name in known:
        value = held.sizes[name] / 1e6 + chance.choice((0, 0.02, -0.05, 0.4, -1.1))
        sizes[also[name] if chance.random() < 0.2 else name] = f"{max(0.1, value):.2f} mm"
    condition = chance.choice(("new", "used", "worn"))
    return Asked(sizes=sizes, condition=condition, tool=chance.choice(("caliper", "rule")))


def each_bits(
    held: BoundaryClass, query: Query, scales: Mapping[str, SizeScale]
) -> Iterator[float]:
    """What the sizes of a part of this class give, the floor for one that lies out of reach."""
    sizes = {name: StoredSize(value) for name, value in held.sizes.items()}
    stand_in = Part("", "", held.kind, "", "", held.weight, type=held.type, sizes=sizes)
    for name, scaled in scales.items():
        items, _ = size_evidence(stand_in, {name: scaled}, query, MODEL)
        low, high = window(scaled.reading)
        stored = stored_name(held.kind, held.sizes, name)
        for item in items:
            near = stored is not None and low <= held.sizes[stored] <= high
            yield item.bits if near else MODEL.size_floor


@pytest.mark.parametrize("seed", range(20))
def test_no_class_above_the_floor_is_passed_over(opened: OpenStore, seed: int) -> None:
    chance = random.Random(seed)
    with opened.store.reading() as conn:
        figures = population(conn)
        every = boundary_classes(conn, EVERYTHING)
        query = understand(asked(chance, every))
        scales = size_scales(conn, query, figures)
        kinds = {pattern.kind for pattern in figures.patterns}
        near = set(boundary_classes(conn, list(windows(query, scales, kinds, MODEL))))
        ids, left = size_parts(conn, query, scales, figures, MODEL)
        above: list[LeftOut] = []
        for held in every:
            bits = [*each_bits(held, query, scales)]
            total = max(MODEL.sizes_floor, math.fsum(bits))
            floor = max(MODEL.sizes_floor, MODEL.size_floor * len(bits))
            if total > floor + 1e-6:
                above.append(LeftOut(held.weight, total, floor))
                assert held in near or max(bits) <= MODEL.sizes_floor / len(scales), (query, held)
        best = max(every, key=lambda held: math.fsum(each_bits(held, query, scales)))
        assert set(parts_on_dimensions(conn, [best.dimensions])) & set(ids)
    assert above
    told = {(round(out.weight, 6), round(out.bits, 6), out.pattern_floor) for out in left}
    assert told <= {(round(o.weight, 6), round(o.bits, 6), o.pattern_floor) for o in above}


def test_a_belt_is_borne_out_by_its_very_length_though_its_limits_are_wide(
    opened: OpenStore,
) -> None:
    with opened.store.reading() as conn:
        query = understand(Asked(sizes={"outside-length": "4673.6 mm"}))
        scales = size_scales(conn, query, population(conn))
        limits = StoredSize(4_673_600_000, -26_000_000, 52_000_000)
        belt = Part("", "", "belt", "", "", 1.0, sizes={"outside-length": limits})
        (item,), _ = size_evidence(belt, scales, query, MODEL)
        assert item.agrees
        assert item.bits > 4


@pytest.mark.parametrize("seed", range(10))
def test_what_was_worked_out_for_one_part_holds_for_none_that_differs(
    opened: OpenStore, seed: int
) -> None:
    chance = random.Random(seed)
    with opened.store.reading() as conn:
        figures = population(conn)
        every = boundary_classes(conn, EVERYTHING)
        query = understand(asked(chance, every))
        kept = size_scales(conn, query, figures)
        for held in chance.sample(every, 60):
            sizes = {name: StoredSize(value) for name, value in held.sizes.items()}
            part = Part("", "", held.kind, "", "", held.weight, type=held.type, sizes=sizes)
            afresh = {name: SizeScale(one.reading, one.behind) for name, one in kept.items()}
            assert size_evidence(part, kept, query, MODEL) == size_evidence(
                part, afresh, query, MODEL
            )
