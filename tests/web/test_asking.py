"""A question in an address means what the same question means anywhere."""

from __future__ import annotations

from urllib.parse import parse_qsl

import pytest
from hypothesis import given
from hypothesis import strategies as st
from starlette.datastructures import QueryParams

from xref.domain.size_names import NAMES
from xref.errors import InputError
from xref.services.question import Asked
from xref.web.asking import address_of, asked_from

WORD = (
    st.text(min_size=1, max_size=12).map(str.strip).filter(bool).filter(lambda t: t.isprintable())
)
ASKED = st.builds(
    Asked,
    marks=st.lists(WORD, max_size=3, unique=True).map(tuple),
    casts=st.lists(WORD, max_size=2, unique=True).map(tuple),
    sizes=st.dictionaries(st.sampled_from(NAMES), WORD, max_size=4),
    kind=st.sampled_from(["", "bearing", "o-ring"]),
    words=WORD | st.just(""),
    machine=WORD | st.just(""),
    condition=st.sampled_from(["new", "used", "worn"]),
    tool=st.sampled_from(["caliper", "rule"]),
    cannot=st.lists(st.sampled_from(["rolls", "width"]), unique=True).map(tuple),
    seen=st.dictionaries(
        st.sampled_from(["rolls", "rows", "mark1-2"]),
        WORD.filter(lambda t: "=" not in t),
        max_size=2,
    ),
)


@given(ASKED)
def test_a_question_comes_back_from_its_address(asked: Asked) -> None:
    assert asked_from(QueryParams(parse_qsl(address_of(asked)))) == asked


def test_blanks_ask_nothing_and_the_usual_is_left_out() -> None:
    asked = asked_from(QueryParams("mark=&bore=+&tool=caliper&condition=used&kind=&cannot="))
    assert asked == Asked()
    assert address_of(asked) == ""


def test_another_size_is_named_beside_its_value() -> None:
    given_ = QueryParams("bore=20mm&another=section&another-value=3.5mm")
    assert asked_from(given_).sizes == {"bore": "20mm", "section": "3.5mm"}


@pytest.mark.parametrize(
    "text", ["bore=1&bore=2", "bore=1&another=bore&another-value=2", "seen=rolls"]
)
def test_what_is_given_twice_or_by_halves_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        asked_from(QueryParams(text))
