"""Questions to the store: numbers resolve by fixed steps, sizes by exact windows."""

from __future__ import annotations

from pathlib import Path

import pytest

from xref.domain.part import Part, Spelling, StoredSize
from xref.errors import AmbiguousError, InputError, NotFoundError, StoreError
from xref.services.parts.part import own_part
from xref.standards.families import standard_parts
from xref.store.index.near import Window, boundary_classes, group_members, parts_with_size
from xref.store.index.tally import population
from xref.store.open.engine import Store
from xref.store.read.queries import count_parts, list_parts, parts_by_words, resolve, value_weights

MM = 1_000_000


def put(store: Store, *parts: Part) -> list[int]:
    """Add parts and return their ids."""
    with store.writing("add") as unit:
        ids = [unit.add_part(part) for part in parts]
        unit.commit()
    return ids


@pytest.mark.parametrize("text", ["6204", " 6204 ", "62-04", "62 04", "6 2 0 4"])
def test_standard_designation_resolves_to_its_row(store: Store, text: str) -> None:
    with store.reading() as conn:
        found = resolve(conn, text)
    assert (found.number, found.is_standard) == ("6204", True)


@pytest.mark.parametrize(("text", "number"), [("62/22", "62/22"), ("6222", "6222")])
def test_slash_tells_two_bearings_apart(store: Store, text: str, number: str) -> None:
    with store.reading() as conn:
        assert resolve(conn, text).number == number


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("0071", "0071"),
        ("71", "71"),
        ("007 1", "0071"),
        ("1E5", "1E5"),
        ("100000", "100000"),
        ("3-4", "3-4"),
        ("34", "34"),
        ("3 4", "3-4"),
        ("NA", "NA"),
    ],
)
def test_number_is_text_and_every_character_counts(store: Store, text: str, number: str) -> None:
    put(
        store,
        *(own_part(n, "Dunmarrow") for n in ("0071", "71", "1E5", "100000", "3-4", "34", "NA")),
    )
    with store.reading() as conn:
        assert resolve(conn, text, "Dunmarrow").number == number


def test_number_as_given_goes_before_the_key_and_the_key_before_the_folded(store: Store) -> None:
    put(store, own_part("QF 22", "Quillfeather"), own_part("qf-22", "Dunmarrow"), own_part("QF/22"))
    with store.reading() as conn:
        assert resolve(conn, "qf-22").maker == "Dunmarrow"
        assert resolve(conn, "QF/22").maker == ""
        with pytest.raises(AmbiguousError) as caught:
            resolve(conn, "qf.22")
        assert "Quillfeather:QF 22" in caught.value.hint
        assert "Dunmarrow:qf-22" in caught.value.hint
        with pytest.raises(AmbiguousError, match="3 parts"):
            resolve(conn, "QF22")


@pytest.mark.parametrize("text", ["Quillfeather:7", "quillfeather: 7", "QUILLFEATHER:7 "])
def test_maker_before_a_colon_chooses(store: Store, text: str) -> None:
    put(store, own_part("7", "Quillfeather"), own_part("7", "Dunmarrow"))
    with store.reading() as conn:
        assert resolve(conn, text).maker == "Quillfeather"
        assert resolve(conn, "7", "Dunmarrow").maker == "Dunmarrow"


def test_whole_text_with_a_colon_is_tried_as_a_number_first(store: Store) -> None:
    put(store, own_part("7", "A"), own_part("A:7", "Dunmarrow"))
    with store.reading() as conn:
        assert resolve(conn, "A:7").maker == "Dunmarrow"


def test_own_part_stands_before_the_standard_row_that_is_the_same_thing(store: Store) -> None:
    put(store, own_part("6204"))
    with store.reading() as conn:
        assert not resolve(conn, "6204").is_standard


def test_number_that_is_not_there_names_the_nearest(store: Store) -> None:
    put(store, own_part("QF-2214", "Quillfeather"))
    with store.reading() as conn, pytest.raises(NotFoundError) as caught:
        resolve(conn, "QF-2241")
    assert "QF-2214" in caught.value.hint


@pytest.mark.parametrize("text", ["", " ", "--", "6204\0", "\ud800", "7" * 500])
def test_what_cannot_be_a_number_is_refused(store: Store, text: str) -> None:
    with store.reading() as conn, pytest.raises(InputError):
        resolve(conn, text)


@pytest.mark.parametrize("name", ["bore", "outside", "width", "section", "inside", "cone-width"])
def test_weights_of_a_size_agree_with_a_count_over_the_tables(store: Store, name: str) -> None:
    low, high = 3 * MM, 40 * MM
    expected: dict[int, float] = {}
    for part in standard_parts():
        held = part.sizes.get(name)
        if held is not None and low <= held.value <= high and part.kind == "bearing":
            expected[held.value] = expected.get(held.value, 0.0) + part.weight
    with store.reading() as conn:
        near = value_weights(conn, name, low, high, "bearing")
        weights = dict.fromkeys((one.value for one in near), 0.0)
        for one in near:
            weights[one.value] += one.weight
        assert weights == expected
        counted = population(conn)
    parts = [p for p in standard_parts() if name in p.sizes]
    assert counted.size_weight(name) == sum(p.weight for p in parts) > 0
    of_bearings = sum(p.weight for p in parts if p.kind == "bearing")
    assert counted.size_weight(name, "bearing") == of_bearings


@pytest.mark.parametrize(
    "windows",
    [
        [Window("bore", 20 * MM, 20 * MM)],
        [Window("width", 14 * MM - 50_000, 14 * MM + 50_000, ("bearing", "bush"))],
        [Window("bore", 25 * MM, 25 * MM), Window("outside", 52 * MM, 52 * MM)],
    ],
    ids=["20 bore", "14 ± 0.05 wide, two kinds", "25 bore or 52 outside"],
)
def test_classes_in_a_window_are_those_a_scan_finds(store: Store, windows: list[Window]) -> None:
    wanted = [
        part
        for part in standard_parts()
        if any(
            w.name in part.sizes
            and w.low <= part.sizes[w.name].value <= w.high
            and (w.kinds is None or part.kind in w.kinds)
            for w in windows
        )
    ]
    with store.reading() as conn:
        found = boundary_classes(conn, windows)
    assert sum(c.parts for c in found) == len(wanted) > 0
    assert sum(c.weight for c in found) == sum(p.weight for p in wanted)


def test_unknown_dimension_is_never_found_as_zero(store: Store) -> None:
    put(store, own_part("QF-7", sizes={"bore": StoredSize(20 * MM)}))
    with store.reading() as conn:
        assert resolve(conn, "QF-7").sizes == {"bore": StoredSize(20 * MM)}
        (mine,) = boundary_classes(conn, [Window("bore", 20 * MM, 20 * MM, ("",))])
    assert mine.sizes == {"bore": 20 * MM}


def test_counts_are_found_exactly(store: Store) -> None:
    (ident, _) = put(
        store,
        own_part("QF-17", kind="gear", sizes={"teeth": StoredSize(17)}),
        own_part("QF-18", kind="gear", sizes={"teeth": StoredSize(18)}),
    )
    with store.reading() as conn:
        assert parts_with_size(conn, "teeth", (17, 17), 10) == [ident]


def test_members_of_one_thing_are_found_from_any_of_them(store: Store) -> None:
    (ident,) = put(store, own_part("6204"))
    with store.reading() as conn:
        members = group_members(conn, [ident])
        assert ident in members
        assert len(members) > 1
        assert sorted(group_members(conn, [members[0]])) == sorted(members)


@pytest.mark.parametrize("word", ["%", "_", "x' OR 1=1"])
def test_signs_of_the_query_language_are_plain_text(store: Store, word: str) -> None:
    with store.reading() as conn:
        assert parts_by_words(conn, [(word,)], 10) == []


def test_words_find_what_is_described_so(store: Store) -> None:
    (ident,) = put(store, own_part("QF-7", words="Jackshaft chain case"))
    with store.reading() as conn:
        assert parts_by_words(conn, [("jackshaft",)], 10) == [ident]
        assert parts_by_words(conn, [("jackshaft", "liner"), ("case", "chain")], 10) == [ident]
        assert parts_by_words(conn, [("jackshaft", "liner")], 10) == []
        assert population(conn).words["jackshaft"] == 1


def test_list_is_in_order_of_number_and_leaves_the_standards_out(store: Store) -> None:
    put(
        store, own_part("QF-9", "Quillfeather", "pin"), own_part("QF-1"), own_part("A1", kind="pin")
    )
    with store.reading() as conn:
        assert [p.number for p in list_parts(conn)] == ["A1", "QF-1", "QF-9"]
        assert [p.number for p in list_parts(conn, kind="pin")] == ["A1", "QF-9"]
        assert [p.number for p in list_parts(conn, maker_name="quillfeather")] == ["QF-9"]
        assert [p.number for p in list_parts(conn, most=1)] == ["A1"]
        standards = list_parts(conn, standard=True, most=5)
        assert [p.is_standard for p in standards] == [True] * 5
        assert count_parts(conn, "store") == 3


def test_fault_of_the_bare_driver_is_a_store_error_too(store: Store) -> None:
    with pytest.raises(StoreError), store.reading() as conn:
        conn.connection.cursor().execute("SELECT nothing FROM nowhere")


def test_fault_of_another_file_is_not_laid_at_the_stores_door(store: Store) -> None:
    with pytest.raises(FileNotFoundError), store.reading():
        Path("no such box.csv").read_text()


def test_every_spelling_of_a_part_comes_with_it(store: Store) -> None:
    given = own_part("QF-7")
    (ident,) = put(store, given)
    with store.reading() as conn:
        found = resolve(conn, "QF7")
    assert found.id == ident
    assert found.spellings == (Spelling("QF-7"),)
