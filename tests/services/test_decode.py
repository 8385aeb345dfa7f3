"""``decode`` joins the grammar of a number with the tables' sizes and says what decides."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xref.designation.reading import Reading
from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.weights import ORIGIN_STANDARD
from xref.errors import InputError
from xref.render.decode import decode_text
from xref.services.decode import Decoded, DecodedReading, decode
from xref.services.decode_choice import decided_by
from xref.services.decode_tables import look_up
from xref.standards import families, lookup

MM = 1_000_000

MOST_READINGS = 4
"""More readings than these help nobody at the bench. Judged."""


def only(text: str) -> DecodedReading:
    """The one reading of ``text``."""
    (reading,) = decode(text).readings
    return reading


def made(designation: str, **fields: object) -> Reading:
    """A reading as the grammar might give it, with ``fields`` of its own."""
    plain: dict[str, object] = {
        "designation": designation,
        "kind": "bearing",
        "type": "deep groove ball",
        "numbering": "ISO",
        "standard": "DIN 623-1",
        "sizes": {},
        "dimension_series": "",
        "features": (),
        "canonical": designation,
        "also_written": (),
        "unknown": (),
        "note": "",
        "decided_by": "",
        "needs_table": False,
    }
    return Reading(**{**plain, **fields})  # type: ignore[arg-type]


def test_the_json_has_exactly_the_promised_shape() -> None:
    answer = json.loads(json.dumps(decode("O-ring 214 N70 QW").to_json()))
    assert list(answer) == ["text", "readings", "decided_by", "unknown", "same_sizes"]
    (reading,) = answer["readings"]
    assert list(reading) == [
        "designation",
        "kind",
        "standard",
        "sizes",
        "features",
        "canonical",
        "also_written",
        "tables_agreeing",
        "note",
    ]
    assert answer["text"] == "O-ring 214 N70 QW"
    assert answer["unknown"] == ["QW"]
    assert reading["canonical"] == "AS568-214 N70"
    # 0.984 x 0.139 in, SAE AS568; 1 in = 25.4 mm exactly.
    assert reading["sizes"] == {"inside": 24.9936, "section": 3.5306}
    assert [list(feature) for feature in reading["features"]] == [["code", "meaning", "basis"]]
    assert reading["features"][0]["basis"] == "common usage"


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("6204", {"bore": 20, "outside": 47, "width": 14}),  # ISO 15, dimension series 02
        ("35x52x7", {"bore": 35, "outside": 52, "width": 7}),  # ISO 6194-1
        ("355207", {"bore": 35, "outside": 52, "width": 7}),
        ("20x23x20", {"bore": 20, "outside": 23, "width": 20}),  # ISO 3547-1
        ("202320", {"bore": 20, "outside": 23, "width": 20}),
        ("P25", {"inside": 24.7, "section": 3.5}),  # JIS B 2401
        ("P12.5", {"inside": 12.3, "section": 2.4}),
        ("P125", {"inside": 124.6, "section": 5.7}),
        ("AS568-214", {"inside": 24.9936, "section": 3.5306}),  # SAE AS568
        ("ISO 3601-1-214A", {"inside": 24.99, "section": 3.53}),  # ISO 3601-1
    ],
)
def test_published_sizes_come_out_in_millimetres(text: str, sizes: dict[str, float]) -> None:
    first = decode(text).to_json()["readings"]
    assert isinstance(first, list)
    assert first[0]["sizes"] == sizes


@pytest.mark.parametrize("text", ["6204", "35x52x7", "20x23x20", "AS568-214", "P25"])
def test_the_sizes_are_those_of_the_table_and_the_note_says_how_many_agree(text: str) -> None:
    reading = decode(text).readings[0]
    rows = [p for p in lookup.find(reading.designation) if p.kind == reading.kind]
    assert reading.sizes in [{n: s.value for n, s in part.sizes.items()} for part in rows]
    assert reading.tables_agreeing in [part.tables_agreeing for part in rows]
    told = "only one printed table" if reading.tables_agreeing == 1 else "tables agree"
    assert told in reading.note


def test_every_number_of_the_tables_comes_back_with_its_rows_sizes() -> None:
    missed = []
    for part in families.standard_parts():
        wanted = {name: size.value for name, size in part.sizes.items()}
        found = decode(part.number).readings
        if not any(r.kind == part.kind and dict(r.sizes) == wanted for r in found):
            missed.append(part.number)
    assert missed == []


def test_where_tables_disagree_the_note_is_passed_on() -> None:
    part = next(p for p in families.standard_parts() if p.kind == "o-ring" and p.note)
    assert part.note in decode(part.number).readings[0].note


def test_a_number_of_two_systems_gives_both_and_the_width_that_decides() -> None:
    # GOST 3189: 7206 is a taper of series 302; widths of ISO 15 and ISO 355.
    answer = decode("7206")
    assert [reading.designation for reading in answer.readings] == ["7206", "30206"]
    assert "width 16 mm: angular contact ball 7206" in answer.decided_by
    assert "17.25 mm: tapered roller 30206" in answer.decided_by
    assert "GOST 3189" in answer.readings[1].note


def test_an_old_bearing_number_and_a_dash_number_are_told_apart_by_what_they_are() -> None:
    answer = decode("214")
    assert {reading.kind for reading in answer.readings} == {"bearing", "o-ring"}
    assert "rolling bearing: 6214" in answer.decided_by
    assert "ring of rubber: AS568-214" in answer.decided_by


def test_a_cone_alone_has_a_bore_and_the_cups_it_goes_with() -> None:
    # 25580: bore 1.7500 in; the inch taper table.
    reading = only("25580")
    assert reading.sizes["bore"] == 44_450_000
    assert "outside" not in reading.sizes
    assert "width" not in reading.sizes
    assert "the cone alone" in reading.note
    assert "25580/25520" in reading.note


def test_a_cup_alone_has_an_outside_diameter_and_no_bore() -> None:
    # 25520: outside diameter 3.2650 in; the inch taper table.
    reading = only("25520")
    assert reading.sizes["outside"] == 82_931_000
    assert "bore" not in reading.sizes
    assert "25580" in reading.note


def test_a_pair_is_one_bearing_with_its_assembled_width() -> None:
    reading = only("25580/25520")
    assert {"bore", "outside", "width"} <= set(reading.sizes)


@pytest.mark.parametrize("text", ["P26.7", "-999", "V99", "20x24x41", "4.1x300"])
def test_a_weak_reading_that_no_table_has_is_dropped_and_the_text_listed(text: str) -> None:
    answer = decode(text)
    assert answer.readings == ()
    assert answer.unknown == (text,)


def test_a_named_ring_that_no_table_has_stays_without_sizes() -> None:
    reading = only("AS568-999")
    assert (reading.tables_agreeing, dict(reading.sizes)) == (0, {})
    assert "not in our tables" in reading.note


def test_sizes_not_in_the_tables_are_those_written_and_the_near_twin_is_named() -> None:
    # AS568-214 (24.99 x 3.53) and a metric 25 x 3.5 are near twins.
    reading = only("25x3.5")
    assert (reading.tables_agreeing, reading.sizes["inside"]) == (0, 25 * MM)
    assert "not the same ring" in reading.note
    assert "AS568-214" in reading.note


def test_sizes_of_an_o_ring_are_given_the_number_that_has_them() -> None:
    reading = only("24.99x3.53")
    assert "AS568-214" in reading.also_written
    assert reading.tables_agreeing > 0


def test_a_missing_row_takes_the_sizes_of_its_dimension_series_and_says_so() -> None:
    # ISO 15: dimension series 02, bore 35 is 72 x 17.
    reading = made("6207Q", sizes={"bore": 35 * MM}, dimension_series="02")
    (found,) = look_up(reading)
    assert found.sizes == {"bore": 35 * MM, "outside": 72 * MM, "width": 17 * MM}
    assert found.tables_agreeing == 0
    assert "not in our tables; sizes of ISO 15 dimension series 02, bore 35 mm" in found.notes[0]


def test_a_missing_row_without_a_series_keeps_only_what_its_digits_say() -> None:
    (found,) = look_up(made("69999", sizes={"bore": 495 * MM}))
    assert (dict(found.sizes), found.tables_agreeing) == ({"bore": 495 * MM}, 0)
    assert "only what the number itself says" in found.notes[0]


def test_a_dash_that_alone_tells_two_numbers_apart_counts() -> None:
    # R1-4 has a bore of 5/64 in, R14 of 7/8 in: the inch ball bearing table.
    assert only("R1-4").sizes["bore"] == 1_984_375
    assert only("R14").sizes["bore"] == 22_225_000


def test_a_number_of_another_type_that_is_written_alike_is_not_taken() -> None:
    # 214 by the grammar may be half of an inch taper; the only bearing 214 is an old 6214.
    assert [r.designation for r in decode("214").readings if r.kind == "bearing"] == ["6214"]


def test_writings_of_the_bare_bearing_are_not_given_to_one_with_seals() -> None:
    assert "6818" in only("61818").also_written
    sealed = only("61818-2RS").also_written
    assert "6818" not in sealed
    assert "6818-2RS" in sealed


def test_a_number_that_is_a_cone_and_a_cup_gives_both_with_the_size_that_decides(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # No row of the inch taper table has one number as a cone and as a cup: these two are made up.
    pairs = [
        Part(
            number=f"{cone}/{cup}",
            maker="inch series (ABMA)",
            kind="bearing",
            group=cone,
            origin=ORIGIN_STANDARD,
            weight=1.0,
            type="tapered roller, inch",
            sizes={name: StoredSize(mm * MM) for name, mm in sizes.items()},
            spellings=(Spelling(cone, 1.0, "cone"), Spelling(cup, 1.0, "cup")),
            tables_agreeing=2,
        )
        for cone, cup, sizes in (
            ("80808", "80802", {"bore": 70, "outside": 130}),
            ("80806", "80808", {"bore": 75, "outside": 140}),
        )
    ]
    monkeypatch.setattr(lookup, "find", lambda _: pairs)
    answer = decode("80808")
    assert [reading.type.split(", ")[-1] for reading in answer.readings] == ["cone", "cup"]
    assert [dict(reading.sizes) for reading in answer.readings] == [
        {"bore": 70 * MM},
        {"outside": 140 * MM},
    ]
    assert "bore 70 mm" in answer.decided_by
    assert "outside 140 mm" in answer.decided_by


def test_a_row_that_was_two_cones_is_no_bearing() -> None:
    # By the last two digits both halves were cones (common usage), and one table alone had it.
    assert decode("H917840/H917840").readings == ()


@pytest.mark.parametrize(
    ("text", "designations", "half", "size", "nm"),
    [
        # The inch taper table: cup 7204 is 2.0470 in, 7205 52 mm outside; cone 336 is 1.6250 in.
        ("7204", ["7204", "30204", "7204"], "cup", "outside", 51_993_800),
        ("7205", ["7205", "30205", "7205"], "cup", "outside", 52 * MM),
        ("336", ["6336", "336", "AS568-336"], "cone", "bore", 41_275_000),
    ],
)
def test_a_number_of_another_system_is_also_half_of_an_inch_taper(
    text: str, designations: list[str], half: str, size: str, nm: int
) -> None:
    answer = decode(text)
    assert [reading.designation for reading in answer.readings] == designations
    (taper,) = (r for r in answer.readings if r.type == f"tapered roller, inch, {half}")
    assert taper.designation == text
    assert taper.sizes[size] == nm
    assert answer.decided_by


def test_no_half_of_the_inch_taper_table_is_hidden_by_what_else_its_number_may_be() -> None:
    halves = {
        (spelling.text, spelling.role)
        for part in families.standard_parts()
        for spelling in part.spellings
        if spelling.role in ("cone", "cup")
    }
    assert halves
    readings = {number: decode(number).readings for number, _ in halves}
    hidden = [
        (number, role)
        for number, role in halves
        if (number, f"tapered roller, inch, {role}")
        not in [(r.designation, r.type) for r in readings[number]]
    ]
    assert hidden == []
    assert max(len(found) for found in readings.values()) <= MOST_READINGS


def test_a_three_digit_number_has_few_readings() -> None:
    assert max(len(decode(str(n)).readings) for n in range(100, 1000)) <= MOST_READINGS


def test_a_stroke_in_the_number_counts() -> None:
    # 62/22 has a 22 mm bore; 6222 has 110 mm.
    (found,) = look_up(made("62/22", sizes={"bore": 22 * MM}))
    assert found.sizes["bore"] == 22 * MM


def test_the_digits_of_a_seal_code_without_width_are_told_the_widths_of_the_table() -> None:
    reading = only("020035")
    assert "width" not in reading.sizes
    assert "with width 7 mm" in reading.note


def test_what_only_one_reading_leaves_over_stands_in_its_note() -> None:
    answer = decode("214 N70")
    ring = next(r for r in answer.readings if r.kind == "o-ring")
    assert ring.unknown == ()
    assert answer.unknown == ()


def test_a_reading_that_leaves_most_of_the_text_over_is_not_shown() -> None:
    # R24 is an inch ball bearing; "99x3.53" would be left over.
    assert "R24" in [reading.designation for reading in decode("R24").readings]
    assert [reading.designation for reading in decode("OR 24.99x3.53").readings] == ["24.99x3.53"]


def test_one_reading_needs_no_deciding_and_equal_sizes_decide_nothing() -> None:
    one = only("35x52x7")
    assert decided_by([one]) == ""
    assert decided_by([one, one]) == "no size tells these readings apart"


@pytest.mark.parametrize("text", ["", " ", "62\x0004", "9" * 1_000_000])
def test_text_that_cannot_be_a_number_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        decode(text)


@settings(deadline=None, max_examples=200)
@given(st.text("0123456789xX×-/., ABCDKNPRSUVZ", max_size=20))
def test_any_text_is_answered_or_refused_and_never_dropped(text: str) -> None:
    try:
        answer = decode(text)
    except InputError:
        return
    json.dumps(answer.to_json(), allow_nan=False)
    assert answer.readings or answer.unknown
    assert all(len(line) <= 80 for line in decode_text(answer).splitlines())


def shown(text: str) -> list[str]:
    """The lines a person sees."""
    return decode_text(decode(text)).splitlines()


def test_the_answer_stands_first_and_the_caution_last() -> None:
    lines = shown("35x52x7 TC QW")
    assert lines[0].startswith("35x52x7 TC: rotary shaft seal")
    assert "Not understood: QW" in lines
    assert any(line.startswith("Caution: ") for line in lines)
    assert "qualified person" in " ".join(lines[-2:])


def test_colliding_readings_begin_with_what_decides() -> None:
    lines = shown("7206")
    assert lines[0] == "2 readings of 7206:"
    assert lines[1].startswith("What decides: width 16 mm")


def test_a_text_without_a_reading_says_so_and_what_to_do() -> None:
    assert shown("hello") == [
        '"hello" is no number this tool can read.',
        "It may be a maker's own part number: try it as a mark, and measure the part.",
    ]


@pytest.mark.parametrize("text", ["x" * 79, "214 " + "Q" * 70, "AS568-214 שלום"])
def test_long_and_odd_text_stays_within_eighty_columns(text: str) -> None:
    assert all(len(line) <= 80 for line in shown(text))


def test_signs_that_turn_the_line_around_are_refused_and_made_visible() -> None:
    with pytest.raises(InputError, match="invisible character") as refused:
        decode("AS568-214 \u202e45")
    assert '"AS568-214 \\x202e45"' in refused.value.message


def test_nothing_decoded_is_empty_and_not_wrong() -> None:
    nothing = Decoded("?", (), "", ("?",))
    assert nothing.to_json() == {
        "text": "?", "readings": [], "decided_by": "", "unknown": ["?"], "same_sizes": []
    }  # fmt: skip


def test_a_rubber_is_shown_with_the_fluids_it_stands_and_what_has_no_source() -> None:
    nitrile = decode("35x52x7 TC NBR").readings[0].note
    assert "NBR: mineral oil suited" in nitrile
    assert "glycol brake fluid not to be used" in nitrile
    assert "(no source)" in decode("OR 214 HNBR").readings[0].note
    assert "suited" not in decode("35x52x7 TC").readings[0].note


# How the families of standard parts are called


@pytest.mark.parametrize(
    ("text", "designation", "type_"),
    [
        ("52205", "52205", "double direction thrust ball"),
        ("SNL 510", "SNL 510", "plummer block"),
        ("SNL 510-608", "SNL 510-608", "plummer block"),
        ("14x18x1.5 copper washer", "DIN 7603 A 14x18x1.5", "sealing washer"),
        ("M6x1 grease nipple", "DIN 71412 A M6x1", "grease nipple"),
        ("grease nipple M8 90°", "DIN 71412 C M8", "grease nipple"),
        ("#60 chain", "ASME 60", "roller chain"),
        ("60-2 chain", "ASME 60-2", "roller chain"),
        ("08B roller chain", "08B-1", "roller chain"),
    ],
)
def test_a_part_is_known_by_the_way_it_is_called(text: str, designation: str, type_: str) -> None:
    found = only(text)
    assert (found.designation, found.type, found.unknown) == (designation, type_, ())
    assert found.tables_agreeing > 0


def test_three_sizes_of_a_copper_washer_come_before_those_of_a_seal_not_made() -> None:
    kinds = [reading.kind for reading in decode("14x18x1.5").readings]
    assert kinds == ["washer", "shaft seal"]


def test_a_call_out_that_lacks_a_size_names_those_it_may_be() -> None:
    found = only("DIN 7603 14x18")
    assert found.tables_agreeing == 0
    assert "DIN 7603 A 14x18x1.5" in found.note


@pytest.mark.parametrize(
    ("text", "standard"),
    [("12x18x12", "ISO 2795"), ("3/4x7/8x3/4 in", "inch wrapped bush (SAE J / ISO 3547 manner)")],
)
def test_a_bush_of_another_standard_is_not_measured_by_iso_3547(text: str, standard: str) -> None:
    found = only(text)
    assert found.standard == standard
    assert "not the wall" not in found.note


def test_a_belt_above_210_is_shorter_than_its_number_says() -> None:
    # A public page of inch belts: from B 210 up the outside is 1.5 in less than number + 3.
    found = only("B240")
    assert found.sizes["outside-length"] == round(241.5 * 25_400_000)
    assert "less than the number says" in found.note


# Spanners


def test_a_whitworth_spanner_names_both_hexagons_and_what_decides() -> None:
    found = only("1/2W")
    assert found.sizes == {"across-flats": round(0.92 * 25_400_000)}
    assert "1/2 BSW large hexagon" in found.note
    assert "9/16 BSF/BSW small hexagon" in found.note
    assert "pitch" in found.note


def test_a_thread_that_is_also_stamped_on_spanners_is_a_thread_first() -> None:
    for text, thread in (("1/2 BSW", "1/2 BSW"), ("2BA", "2 BA")):
        first, *rest = decode(text).readings
        assert (first.kind, first.designation) == ("thread", thread)
        assert {reading.type for reading in rest} == {"spanner"}


def test_two_marks_of_one_spanner_are_one_reading_and_of_two_ends_are_two() -> None:
    assert len(decode("1/4 W 5/16 BS").readings) == 1
    assert len(decode("1/4 W 5/16 W").readings) == 2


@pytest.mark.parametrize(
    ("text", "type_", "sizes", "says"),
    [
        # The sleeve table: H210 and its like take KM10 (M50 × 1.5) with MB10.
        ("KM10", "sleeve nut", {"diameter": 50, "pitch": 1.5, "outside": 70}, ("MB10", "H210")),
        ("KM 10", "sleeve nut", {"diameter": 50, "pitch": 1.5, "outside": 70}, ("H310",)),
        ("MB10", "lock washer", {}, ("KM10", "H210")),
    ],
)
def test_the_nut_of_a_sleeve_names_its_thread_and_its_sleeves(
    text: str, type_: str, sizes: dict[str, float], says: tuple[str, ...]
) -> None:
    found = only(text)
    assert found.type == type_
    assert found.sizes == {name: round(value * MM) for name, value in sizes.items()}
    assert all(name in found.note for name in says)


@pytest.mark.parametrize("text", ["KM999", "MB0", "KM10x1.5", "HM1"])
def test_a_nut_that_no_sleeve_has_is_none(text: str) -> None:
    assert all(r.type not in ("sleeve nut", "lock washer") for r in decode(text).readings)
