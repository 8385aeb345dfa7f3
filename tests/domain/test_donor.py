"""The donor sweep, checked serial by serial against a plain count."""

from __future__ import annotations

import math
import random
from collections import defaultdict
from dataclasses import replace

import pytest

from xref.domain.donor import OPEN_HIGH, OPEN_LOW, Axis, Claim, DonorRange, donor_ranges, intervals
from xref.domain.serial import read_serials
from xref.domain.serial_range import IN, Serial

LAST = 40
QW = Axis("Whimbrel", "works", ("QW",))


def claim(
    item: str, serials: str, weight: float = 1.0, part: str = "", model: str = "Whimbrel"
) -> Claim:
    return Claim(item, weight, model, "works", read_serials(serials), part)


def shown(found: DonorRange) -> tuple[float, float, str, str]:
    return found.low, found.high, "".join(found.supported_by), "".join(found.against)


def random_serials(draw: random.Random, prefixes: tuple[str, ...] = ("QW",)) -> str:
    pieces = []
    for _ in range(draw.randint(1, 3)):
        low, high = sorted((draw.randint(1, LAST), draw.randint(1, LAST)))
        of = draw.choice(prefixes)
        pieces.append(draw.choice([f"{of}{low}-{of}{high}", f"{of}{low}-up", f"to {of}{high}"]))
    return ", ".join(pieces)


def brute_score(claims: list[Claim], number: int, prefix: str = "QW") -> float:
    """Weight for the serial less weight against it, each part of each item counted once."""
    says: dict[tuple[str, str], tuple[float, bool]] = {}
    for c in claims:
        covers = c.serials.holds(Serial(prefix, number), c.order) == IN
        _, before = says.get((c.item, c.part), (0.0, False))
        says[(c.item, c.part)] = (c.weight, before or covers)
    return math.fsum(weight if covers else -weight for weight, covers in says.values())


@pytest.mark.parametrize("seed", range(60))
def test_the_best_stretch_is_the_best_of_every_serial_tried_one_by_one(seed: int) -> None:
    draw = random.Random(seed)
    claims = []
    for item in "abcde"[: draw.randint(1, 5)]:
        parts = draw.randint(1, 3)
        weights = [draw.choice([0.1, 0.2, 0.3]) for _ in range(parts)] if parts > 1 else [1.0]
        for part, weight in enumerate(weights):
            claims += [
                claim(item, random_serials(draw), weight, str(part))
                for _ in range(draw.randint(1, 2))
            ]
    found = donor_ranges(claims, most=1000)
    scores = {n: brute_score(claims, n) for n in range(LAST + 2)}
    covered = set()
    for row in found:
        inside = [n for n in scores if row.low <= n <= row.high]
        covered |= set(inside)
        for n in inside:
            assert scores[n] == pytest.approx(row.score)
    assert found[0].score == pytest.approx(max(scores[n] for n in covered))
    assert [row.score for row in found] == sorted((row.score for row in found), reverse=True)
    for n in set(scores) - covered:
        assert scores[n] <= 0


@pytest.mark.parametrize("seed", range(40))
def test_prefixes_in_order_of_build_are_one_row_of_serials(seed: int) -> None:
    draw = random.Random(seed)
    order = ("QW", "QX", "QA")
    claims = [
        replace(claim(item, random_serials(draw, order)), order=order)
        for item in "abcd"[: draw.randint(1, 4)]
    ]
    found = donor_ranges(claims, most=1000)
    assert {row.axis.prefixes for row in found} == {order}
    for prefix in order:
        for number in range(1, LAST + 2):
            place = found[0].axis.place(Serial(prefix, number))
            assert place is not None
            assert found[0].axis.serial(place) == f"{prefix}{number}"
            score = brute_score(claims, number, prefix)
            held = [row.score for row in found if row.low <= place <= row.high]
            assert held == ([pytest.approx(score)] if held else [])
            assert held or score <= -len(claims) + 1e-9


def test_a_stretch_runs_on_over_the_prefixes_that_follow() -> None:
    order = ("QW", "QX")
    claims = [
        replace(claim(item, serials), order=order)
        for item, serials in (("a", "QW350-up"), ("b", "to QX20"), ("c", "QX5-QX90"))
    ]
    best = donor_ranges(claims)[0]
    assert (best.axis.serial(best.low), best.axis.serial(best.high)) == ("QX5", "QX20")
    best = donor_ranges(claims[:2])[0]
    assert (best.axis.serial(best.low), best.axis.serial(best.high)) == ("QW350", "QX20")


def test_what_all_but_one_share_comes_first_and_the_outlier_is_against_it() -> None:
    claims = [
        claim("a", "QW350-up"),
        claim("b", "QW350-QW420"),
        claim("c", "QW360-QW455"),
        claim("d", "QW101-QW349"),
    ]
    best = donor_ranges(claims)[0]
    assert shown(best) == (360, 420, "abc", "d")
    assert best.score == 2


def test_an_exception_leaves_a_hole_and_a_suffix_letter_alone_does_not() -> None:
    assert intervals(read_serials("QW101-QW120 exc. QW110-QW112"), QW) == [(101, 109), (113, 120)]
    assert intervals(read_serials("QW101-QW120 exc. QW110A"), QW) == [(101, 120)]
    assert intervals(read_serials("all exc. QW5"), QW) == [(OPEN_LOW, 4), (6, OPEN_HIGH)]
    assert intervals(read_serials("QX1-QX9"), QW) == []


def test_an_unlikely_reading_of_an_item_does_not_carry_its_likely_readings_weight() -> None:
    claims = [
        claim("a", "QW100-QW199", 0.9, "likely"),
        claim("a", "QW300-QW399", 0.1, "unlikely"),
        claim("b", "QW300-QW399", 0.3),
    ]
    found = donor_ranges(claims)
    assert shown(found[0]) == (100, 199, "a", "b")
    assert found[0].score == pytest.approx(0.9 - 0.1 - 0.3)
    assert shown(found[1]) == (300, 399, "b", "a")


def test_items_of_many_readings_still_point_where_their_likeliest_do() -> None:
    def readings(item: str, elsewhere: str) -> list[Claim]:
        spread = (("x", "QW1-QW9", 0.4), ("y", elsewhere, 0.3), ("z", "QW50", 0.3))
        return [claim(item, serials, weight, part) for part, serials, weight in spread]

    claims = [*readings("a", "QW21"), *readings("b", "QW31")]
    assert shown(donor_ranges(claims)[0]) == (1, 9, "ab", "")


def test_surer_items_outweigh_more_numerous_ones() -> None:
    claims = [
        claim("a", "QW1-QW9", 0.9),
        claim("b", "QW11-QW19", 0.3),
        claim("c", "QW11-QW19", 0.3),
    ]
    assert shown(donor_ranges(claims)[0]) == (1, 9, "a", "bc")


def test_several_models_are_several_axes_and_the_better_shared_comes_first() -> None:
    claims = [
        claim("a", "QW1-QW9"),
        claim("a", "5-20", model="Dotterel"),
        claim("b", "8-30", model="Dotterel"),
        claim("c", "QW4-QW6"),
        claim("c", "10-12", model="Dotterel"),
    ]
    found = donor_ranges(claims)
    assert found[0].axis.model == "Dotterel"
    assert shown(found[0]) == (10, 12, "abc", "")


def test_components_are_never_mixed() -> None:
    claims = [
        Claim("a", 1.0, "Whimbrel", "works", read_serials("QW1-QW9")),
        Claim("b", 1.0, "Whimbrel", "engine", read_serials("QW1-QW9")),
    ]
    assert {r.axis.component: r.supported_by for r in donor_ranges(claims)} == {
        "works": ("a",),
        "engine": ("b",),
    }


def test_no_claim_gives_no_range() -> None:
    assert donor_ranges([]) == ()


def test_a_thousand_items_are_swept_and_counted_right() -> None:
    draw = random.Random(7)
    claims = []
    lows: dict[str, int] = defaultdict(int)
    for n in range(1000):
        low = draw.randint(1, 4000)
        lows[str(n)] = low
        claims.append(claim(str(n), f"QW{low}-QW{low + 500}"))
    best = donor_ranges(claims)[0]
    meant = max(sum(low <= n <= low + 500 for low in lows.values()) for n in range(1, 4600))
    assert len(best.supported_by) == meant
