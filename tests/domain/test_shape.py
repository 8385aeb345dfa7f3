"""The shapes of numbers, and what an unlisted one may be."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.domain.mark import read_mark
from xref.domain.shape import best_shapes, may_have, shape


@pytest.mark.parametrize(
    ("number", "form"),
    [
        ("QF-2214", "AA-9999"),
        ("qf 2214", "AA-9999"),
        ("4471/B", "9999/A"),
        ("W21 - 0387.2", "A99-9999-9"),
        ("-12-", "99"),
    ],
)
def test_a_number_has_a_shape(number: str, form: str) -> None:
    assert shape(number) == form


@given(st.text("QF01239 -./", min_size=1, max_size=12))
def test_a_shape_has_as_many_places_as_the_number_has_signs(number: str) -> None:
    form = shape(number)
    assert sum(c in "A9" for c in form) == sum(c.isalnum() for c in number)
    assert shape(form) == form


@pytest.mark.parametrize(
    ("mark", "form", "may"),
    [
        ("QF4480", "AA-9999", True),
        ("Q?4480", "AA-9999", True),
        ("QF44[8B]0", "AA-9999", True),
        ("QF448", "AA-9999", False),
        ("QF448B", "AA-9999", False),
        ("QF44*", "AA-9999", False),
    ],
)
def test_a_mark_may_have_a_shape(mark: str, form: str, may: bool) -> None:
    assert may_have(read_mark(mark), form) is may


def test_the_commonest_shapes_come_first_and_rare_ones_are_left_out() -> None:
    known = [("Dunmarrow", "AA9999", 5.0), ("Quillfeather", "AA-9999", 19.0), ("", "AA/9999", 2.0)]
    assert best_shapes(read_mark("QF 4480"), known) == [
        ("Quillfeather", "AA-9999", 19),
        ("Dunmarrow", "AA9999", 5),
    ]
