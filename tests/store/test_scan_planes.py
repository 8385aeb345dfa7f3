"""Planes say exactly which character, length and suffix each spelling has."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from xref.domain.number import skeleton
from xref.store.index.planes import (
    BANDS,
    PLACES,
    ROOM,
    SLOTS,
    TAILED,
    arrange,
    as_bytes,
    band_of,
    lay_out,
    packed,
    plane_of,
    plane_of_length,
    slots,
    slotted,
    unpacked,
)

TEXTS = st.text("0123456789ABOQZ", min_size=1, max_size=PLACES + 6)
ROWS = st.dictionaries(st.integers(0, ROOM - 1), TEXTS, max_size=5)
SPELLINGS = st.dictionaries(st.integers(0, SLOTS - 1), st.tuples(TEXTS, st.booleans()), max_size=20)


@given(ROWS)
@settings(max_examples=30)
def test_each_plane_holds_just_the_spellings_it_speaks_of(rows: dict[int, str]) -> None:
    wanted: dict[int, set[int]] = {}
    for slot, text in rows.items():
        for place, char in enumerate(skeleton(text)[:PLACES]):
            wanted.setdefault(plane_of(place, char), set()).add(slot)
        wanted.setdefault(plane_of_length(len(text)), set()).add(slot)
    assert {code: set(slots(bits)) for code, bits in lay_out(rows.items())} == wanted


@given(SPELLINGS)
def test_every_spelling_has_one_slot_in_its_band(rows: dict[int, tuple[str, bool]]) -> None:
    starts, order = arrange((offset, text, takes) for offset, (text, takes) in rows.items())
    assert len(starts) == BANDS + 1
    assert all(start % 8 == 0 for start in starts)
    assert starts[-1] == len(order) <= ROOM
    by_slot = list(slotted(order, {offset: text for offset, (text, _) in rows.items()}))
    assert sorted(order[slot] for slot, _ in by_slot) == sorted(rows)
    for slot, text in by_slot:
        offset = order[slot]
        band = band_of(*rows[offset])
        assert text == rows[offset][0]
        assert starts[band] <= slot < starts[band + 1]


def test_what_may_take_a_suffix_has_a_band_of_its_own() -> None:
    assert band_of("6204", takes_suffix=True) == TAILED
    assert TAILED < band_of("6204", takes_suffix=False) < band_of("3170442", takes_suffix=False)
    assert band_of("X" * 150, takes_suffix=False) == BANDS - 1


@given(st.sets(st.integers(0, 3 * SLOTS)))
def test_places_of_the_ones_come_out_lowest_first(places: set[int]) -> None:
    assert list(slots(sum(1 << place for place in places))) == sorted(places)


@given(st.integers(0, 1 << 3000))
def test_packed_bits_come_back(bits: int) -> None:
    assert int.from_bytes(unpacked(packed(as_bytes(bits))), "little") == bits


def test_sparse_bits_shrink_and_others_hardly_grow() -> None:
    sparse = as_bytes(1 << (SLOTS - 1))
    dense = bytes((i * 7919) % 251 for i in range(SLOTS // 8))
    assert len(packed(sparse)) < 100
    assert len(packed(dense)) <= SLOTS // 8 + 1
