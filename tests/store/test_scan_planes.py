"""Planes say exactly which character, length and suffix each spelling has."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from xref.domain.number import skeleton
from xref.store.scan_planes import (
    PLACES,
    SLOTS,
    TAKES_SUFFIX,
    lay_out,
    packed,
    plane_of,
    plane_of_length,
    slots,
    unpacked,
)  # fmt: skip

TEXTS = st.text("0123456789ABOQZ", min_size=1, max_size=PLACES + 6)
ROWS = st.dictionaries(st.integers(0, SLOTS - 1), st.tuples(TEXTS, st.booleans()), max_size=5)


@given(ROWS)
def test_each_plane_holds_just_the_spellings_it_speaks_of(
    rows: dict[int, tuple[str, bool]],
) -> None:
    wanted: dict[int, set[int]] = {}
    for slot, (text, takes_suffix) in rows.items():
        for place, char in enumerate(skeleton(text)[:PLACES]):
            wanted.setdefault(plane_of(place, char), set()).add(slot)
        wanted.setdefault(plane_of_length(len(text)), set()).add(slot)
        if takes_suffix:
            wanted.setdefault(TAKES_SUFFIX, set()).add(slot)
    made = lay_out((slot, text, takes) for slot, (text, takes) in rows.items())
    assert {code: set(slots(bits)) for code, bits in made} == wanted


@given(st.sets(st.integers(0, 3 * SLOTS)))
def test_places_of_the_ones_come_out_lowest_first(places: set[int]) -> None:
    assert list(slots(sum(1 << place for place in places))) == sorted(places)


@given(st.integers(0, 1 << 3000))
def test_packed_bits_come_back(bits: int) -> None:
    assert int.from_bytes(unpacked(packed(bits)), "little") == bits


def test_sparse_bits_shrink_and_others_hardly_grow() -> None:
    sparse = 1 << (SLOTS - 1)
    dense = int.from_bytes(bytes((i * 7919) % 251 for i in range(SLOTS // 8)), "little")
    assert len(packed(sparse)) < 100
    assert len(packed(dense)) <= SLOTS // 8 + 1
