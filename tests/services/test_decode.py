"""``decode`` joins the grammar of a number with the tables' sizes and says what decides."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.services.decoding import only
from xref.errors import InputError
from xref.render.decode import decode_text
from xref.services.decode.collisions import decided_by
from xref.services.decode.decode import Decoded, decode
from xref.standards import families, lookup


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
        "also_written_basis",
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


def test_one_reading_needs_no_deciding_and_equal_sizes_decide_nothing() -> None:
    one = only("35x52x7")
    assert decided_by([one]) == ""
    assert decided_by([one, one]) == "no size tells these readings apart"


@pytest.mark.parametrize("text", ["", " ", "62\x0004", "9" * 1_000_000])
def test_text_that_cannot_be_a_number_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        decode(text)


@settings(max_examples=100)
@given(st.text("0123456789xX×-/., ABCDKNPRSUVZ", max_size=20))
def test_any_text_is_answered_or_refused_and_never_dropped(text: str) -> None:
    try:
        answer = decode(text)
    except InputError:
        return
    json.dumps(answer.to_json(), allow_nan=False)
    assert answer.readings or answer.unknown
    assert all(len(line) <= 80 for line in decode_text(answer).splitlines())


def test_nothing_decoded_is_empty_and_not_wrong() -> None:
    nothing = Decoded("?", (), "", ("?",))
    assert nothing.to_json() == {
        "text": "?",
        "readings": [],
        "decided_by": "",
        "unknown": ["?"],
        "same_sizes": [],
    }
