"""Letters before a number that are read now: toroidal rollers, track rollers, old inch letters."""

from __future__ import annotations

import pytest

from xref.services.decode.decode import decode

INCH = 25_400_000
MM = 1_000_000


@pytest.mark.parametrize("text", ["C2206", "C 2206 KV", "C2210 TN9/C3", "C3024K/C4", "C 4130 V"])
def test_a_toroidal_roller_bearing_is_read_as_one_and_as_nothing_else(text: str) -> None:
    (reading,) = decode(text).readings
    assert reading.type == "toroidal roller"
    assert reading.designation == text.replace(" ", "")[:5]
    assert reading.unknown == ()


def test_a_length_that_is_a_bearings_number_too_is_read_both_ways() -> None:
    readings = decode("C2240").readings
    assert {reading.kind for reading in readings} == {"bearing", "belt"}
    assert "belt" in decode("C2240").decided_by
    for named in ("BELT C2206", "C2206 Li", "C3000"):
        assert [reading.kind for reading in decode(named).readings] == ["belt"], named


@pytest.mark.parametrize(
    ("text", "same", "bore"),
    [
        # Common practice, no published source.
        ("LJ 1", "RLS8", 1),
        ("LJ3/4", "RLS6", 0.75),
        ("MJ 1 1/8", "RMS9", 1.125),
        ("MJ1½", "RMS12", 1.5),
        ("KLNJ 1/2", "R8", 0.5),
    ],
)
def test_old_letters_with_the_bore_in_inches_are_the_bearing_by_eighths(
    text: str, same: str, bore: float
) -> None:
    reading = decode(text).readings[0]
    assert same in (reading.designation, *reading.also_written)
    assert reading.sizes["bore"] == bore * INCH
    assert reading.standard == "common practice, no published source"
    assert "behind a metric number" not in reading.note


@pytest.mark.parametrize("text", ["LS 10", "MS 12", "KLNJ 1/4", "LJ 1/16", "LJ", "MJ 0"])
def test_old_letters_of_which_two_readings_are_told_are_not_read(text: str) -> None:
    assert not any(r.type.endswith("ball, inch") for r in decode(text).readings)


@pytest.mark.parametrize(
    ("text", "type_", "size"),
    [
        ("NATR 15 PP", "track roller", ("bore", 15)),
        ("KR 22", "track roller", ("outside", 22)),
        ("SIL 20 ES", "rod end", ("bore", 20)),
        ("IR 20x25x20.5", "needle inner ring", ("width", 20.5)),
        ("20206 C", "barrel roller", ("bore", 30)),
        ("11206 TN9", "self-aligning ball, wide inner ring", ("bore", 30)),
        ("SL18 3008", "cylindrical roller NCF", ("outside", 68)),  # ISO 15, series 10; memory
    ],
)
def test_makers_letters_and_rarer_series_are_read(
    text: str, type_: str, size: tuple[str, float]
) -> None:
    reading = decode(text).readings[0]
    assert (reading.type, reading.kind) == (type_, "bearing")
    assert reading.sizes[size[0]] == size[1] * MM


@pytest.mark.parametrize("text", ["NATR", "IR 25x20x10", "SI 0 E", "KR", "UK 2", "SN"])
def test_what_is_near_these_is_not_taken_for_them(text: str) -> None:
    types = {reading.type for reading in decode(text).readings}
    assert not types & {"track roller", "rod end", "needle inner ring", "insert bearing"}


@pytest.mark.parametrize(
    ("text", "number", "names"),
    [
        ("HALBROOK 6307/C3", "6307", ("HALBROOK",)),
        ("DORNWALD 6206 W.GERMANY", "6206", ("DORNWALD", "W.GERMANY")),
        ("LM67010 USA", "LM67010", ("USA",)),
    ],
)
def test_names_around_a_bearings_number_are_left_over_and_not_in_its_way(
    text: str, number: str, names: tuple[str, ...]
) -> None:
    decoded = decode(text)
    assert decoded.readings[0].designation == number
    assert decoded.unknown == names


@pytest.mark.parametrize("text", ["1/4 ball valve", "SCE bush 1212", "UCF wheel", "seal 6204 felt"])
def test_words_that_say_what_a_thing_is_are_not_taken_for_names(text: str) -> None:
    assert decode(text).readings == ()


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("6208.2RSR.C3.L038", "L038"),
        ("6209NX", "NX"),
        ("HK2526 AS", "AS"),
        ("6203LLU/5K", "5K"),
        ("7008CD/HCP4A", "HC"),
        ("6205-2RZTN9/HC5C3WT", "HC5"),
        ("1A P25", "1A"),
    ],
)
def test_makers_codes_are_read_from_memory_and_say_so(text: str, code: str) -> None:
    features = {f.code: f for f in decode(text).readings[0].features}
    assert "from memory" in features[code].meaning
    assert features[code].basis == "common usage"


def test_a_makers_own_o_ring_number_is_read_without_sizes_and_not_as_a_dash_number() -> None:
    (ring,) = decode("5-052").readings
    assert (ring.kind, ring.designation, dict(ring.sizes)) == ("o-ring", "5-052", {})
    assert "in no standard" in ring.note
    both = decode("5-114")
    assert [reading.kind for reading in both.readings] == ["bearing", "o-ring"]
    assert "a plain ring of rubber: 5-114" in both.decided_by
    assert decode("3-214").readings == ()


@pytest.mark.parametrize("text", ["SCE1212", "SCE 1212", "BCE-1212"])
def test_an_inch_drawn_cup_is_read_with_its_letters_apart_or_joined(text: str) -> None:
    (cup,) = decode(text).readings
    assert (cup.designation[3:], cup.type) == ("-1212", "drawn cup needle, inch")
    assert cup.sizes["bore"] == cup.sizes["width"] == 0.75 * INCH
    assert ("one closed end" in cup.note) == text.startswith("BCE")


def test_a_chain_that_is_named_is_no_ring_of_rubber() -> None:
    assert {r.kind for r in decode("5/8 x 3/8 chain").readings} == {"chain"}
    assert {r.kind for r in decode("5/8x3/8").readings} == {"chain", "o-ring"}
