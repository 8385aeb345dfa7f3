"""How parts wear, and what a hand reading of a loose part means."""

from __future__ import annotations

import pytest

from xref.domain.kinds import KINDS
from xref.domain.size import NM_PER_MM, parse_length
from xref.errors import InputError
from xref.standards.seal_rule import press_fit, width_limits
from xref.standards.wear import AS_NOMINAL, CONDITIONS, NONE, measured_directly, repair_steps, wear
from xref.tables import read_table


# All judged: there is no published figure.
@pytest.mark.parametrize(
    ("kind", "name", "condition", "expected"),
    [
        ("bush", "bore", "used", (0.5, 150_000, 1)),
        ("bush", "bore", "worn", (0.9, 500_000, 1)),
        ("o-ring", "section", "used", (0.5, 100_000, -1)),
        ("o-ring", "section", "worn", (0.9, 300_000, -1)),
    ],
)
def test_the_working_surfaces_wear_one_way(
    kind: str, name: str, condition: str, expected: tuple[float, int, int]
) -> None:
    found = wear(kind, name, condition)
    assert (found.q, found.w_nm, found.direction) == expected
    assert found.reason


@pytest.mark.parametrize(
    ("kind", "name", "direction"),
    [
        ("o-ring", "inside", 1),
        ("o-ring", "outside", 1),
        ("bush", "length", -1),
        ("bush", "outside", -1),
        ("pin", "diameter", -1),
        ("other", "diameter", -1),
        ("other", "bore", 1),
        ("bearing", "shaft", -1),
        ("bearing", "housing", 1),
        ("casting", "outside", 1),
        ("casting", "thickness", 1),
        ("washer", "thickness", -1),
        ("chain", "pitch", 1),
        ("strip", "thickness", -1),
    ],
)
def test_bores_grow_and_shafts_shrink_and_paint_adds(kind: str, name: str, direction: int) -> None:
    assert wear(kind, name, "worn").direction == direction


@pytest.mark.parametrize("name", ["bore", "outside", "width", "cone-width", "diameter"])
@pytest.mark.parametrize("kind", ["bearing", ""])
def test_a_bearing_and_an_unknown_kind_keep_their_own_sizes(kind: str, name: str) -> None:
    assert [wear(kind, name, condition) for condition in CONDITIONS] == [NONE] * 3


@pytest.mark.parametrize("name", ["teeth", "splines", "holes", "rows", "links"])
@pytest.mark.parametrize("kind", ["gear", "chain", "other"])
def test_a_count_never_wears(kind: str, name: str) -> None:
    assert wear(kind, name, "worn") == NONE


def test_a_new_part_has_no_wear() -> None:
    names = {row["size"] for row in read_table("wear")}
    assert all(wear(kind, name, "new") == NONE for kind in KINDS for name in names)


@pytest.mark.parametrize("condition", ["", "Worn", "worn ", "scrap", "wor\x00n", "w" * 100_000])
@pytest.mark.parametrize(("kind", "name"), [("bush", "bore"), ("bearing", "bore"), ("", "")])
def test_an_unknown_condition_is_refused_and_not_taken_for_unworn(
    kind: str, name: str, condition: str
) -> None:
    with pytest.raises(InputError, match="no condition") as caught:
        wear(kind, name, condition)
    assert all(known in caught.value.hint for known in CONDITIONS)
    assert caught.value.message.isprintable()
    assert len(caught.value.message) < 100


def test_every_rule_is_possible_and_says_that_it_is_judged() -> None:
    rules = read_table("wear")
    assert len({(r["kind"], r["size"], r["condition"]) for r in rules}) == len(rules)
    for rule in rules:
        assert rule["kind"] in (*KINDS, "any")
        assert rule["condition"] in CONDITIONS
        assert 0 < float(rule["q"]) < 1
        assert float(rule["w_mm"]) > 0
        assert rule["direction"] in ("1", "-1")
        assert rule["reason"]
        assert rule["basis"] == "judged"


def test_worn_parts_are_worn_more_and_more_often_than_used_ones() -> None:
    pairs = {(r["kind"], r["size"]) for r in read_table("wear")}
    for kind, name in pairs - {("any", name) for _, name in pairs}:
        used, worn = wear(kind, name, "used"), wear(kind, name, "worn")
        assert used.q <= worn.q
        assert used.w_nm <= worn.w_nm
        assert used.direction == worn.direction


def test_a_worn_bush_is_identified_from_its_smallest_bore_and_a_shaft_beside_its_track() -> None:
    # Common practice, no published source. Wear only adds to a bore and only takes from a shaft, so
    # the smallest bore (the unworn end) and the shaft beside its track lie nearest the nominal.
    assert wear("bush", "bore", "worn").direction == 1
    assert "beside the track" in wear("shaft seal", "shaft", "worn").reason


# Press-fit allowances of DIN 3760 / ISO 6194-1, memory.
@pytest.mark.parametrize(
    ("housing_mm", "least_um", "most_um"),
    [
        (35, 100, 300),
        (50, 100, 300),
        (52, 130, 350),
        (100, 150, 350),
        (500, 230, 550),
        (650, 230, 550),
    ],
)
def test_a_seals_rim_is_larger_than_its_housing_bore(
    housing_mm: int, least_um: int, most_um: int
) -> None:
    allowed = press_fit(housing_mm * NM_PER_MM)
    assert (allowed.least, allowed.most) == (least_um * 1000, most_um * 1000)
    direct = measured_directly("shaft seal", "rotary shaft seal", "outside", housing_mm * NM_PER_MM)
    assert direct.offset == allowed.middle
    assert direct.offset - 2 * direct.spread >= allowed.least
    assert direct.offset + 2 * direct.spread <= allowed.most
    assert f"{least_um / 1000:.2f} to {most_um / 1000:.2f} mm larger" in direct.reason


@pytest.mark.parametrize(
    ("housing", "least_thou", "most_thou"),
    [("1 in", 4, 6), ("1-7/8 in", 4, 7), ("1.874 in", 4, 7), ("2-1/2 in", 4, 8), ("9 in", 8, 10)],
)
def test_an_inch_seal_has_its_own_smaller_allowance(
    housing: str, least_thou: int, most_thou: int
) -> None:
    # The rows' own figures (shaft_seal_rule.csv): nothing else checks them.
    allowed = press_fit(parse_length(housing).nm)
    assert (allowed.least, allowed.most) == (least_thou * 25_400, most_thou * 25_400)


def test_a_whole_millimetre_is_metric_even_where_it_is_whole_inches() -> None:
    assert press_fit(parse_length("5 in").nm).least == 180_000


@pytest.mark.parametrize(("width_mm", "um"), [(7, 200), (10, 200), (12, 300)])
def test_a_seals_width_has_its_tolerance(width_mm: int, um: int) -> None:
    limits = width_limits(width_mm * NM_PER_MM)
    assert (limits.lower, limits.upper) == (-um * 1000, um * 1000)


@pytest.mark.parametrize(
    ("kind", "type_", "name", "offset", "spread"),
    [
        ("shaft seal", "rotary shaft seal", "bore", -1_200_000, 600_000),
        ("bearing", "drawn cup needle, open", "bore", 0, 150_000),
        ("bearing", "drawn cup needle, inch", "bore", 0, 150_000),
        ("bush", "wrapped bush", "outside", 150_000, 150_000),
    ],
)
def test_some_loose_parts_do_not_measure_their_nominal(
    kind: str, type_: str, name: str, offset: int, spread: int
) -> None:
    # Judged.
    found = measured_directly(kind, type_, name, 20 * NM_PER_MM)
    assert (found.offset, found.spread) == (offset, spread)
    assert found.reason


@pytest.mark.parametrize(
    ("kind", "type_", "name"),
    [
        ("shaft seal", "rotary shaft seal", "width"),
        ("shaft seal", "rotary shaft seal", "shaft"),
        ("shaft seal", "rotary shaft seal", "housing"),
        ("bearing", "drawn cup needle, open", "outside"),
        ("bearing", "needle roller NK", "bore"),
        ("bearing", "deep groove ball", "bore"),
        ("bush", "solid bush", "outside"),
        ("bush", "wrapped bush", "width"),
        ("o-ring", "o-ring", "inside"),
        ("", "", "bore"),
    ],
)
def test_the_rest_measure_their_nominal(kind: str, type_: str, name: str) -> None:
    assert measured_directly(kind, type_, name, 20 * NM_PER_MM) == AS_NOMINAL


# Repair steps: common practice, no published source.
@pytest.mark.parametrize(
    ("nm", "text"),
    [
        (254_000, "0.010 in oversize"),
        (1_016_000, "0.040 in oversize"),
        (250_000, "0.25 mm oversize"),
        (-254_000, "0.010 in undersize"),
        (-1_000_000, "1.00 mm undersize"),
    ],
)
def test_a_bore_or_pin_may_be_off_by_a_repair_step(nm: int, text: str) -> None:
    for kind, name in (("bush", "bore"), ("pin", "diameter"), ("other", "diameter")):
        steps = {step.nm: step.text for step in repair_steps(kind, name)}
        assert steps[nm] == text
        assert len(steps) == 16


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("bearing", "bore"),
        ("shaft seal", "bore"),
        ("o-ring", "inside"),
        ("bush", "width"),
        ("", "bore"),
    ],
)
def test_bearings_seals_and_widths_have_no_repair_steps(kind: str, name: str) -> None:
    assert repair_steps(kind, name) == ()
