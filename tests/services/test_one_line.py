"""One line for everything is taken by its form, and said as it was taken."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xref.errors import InputError
from xref.services.one_line import taken


@pytest.mark.parametrize(
    ("line", "marks", "sizes", "words"),
    [
        ("6?04 20x47x14 worn", ["6?04"], {"bore": "20", "outside": "47", "width": "14"}, ""),
        ("oil seal 35x52x7", [], {"bore": "35", "outside": "52", "width": "7"}, "oil seal"),
        ("52 x 35 x 7", [], {"bore": "35", "outside": "52", "width": "7"}, ""),
        ("ID 20 OD 47 W 14", [], {"bore": "20", "outside": "47", "width": "14"}, ""),
        ("20mm 47mm 14mm", [], {"bore": "20mm", "outside": "47mm", "width": "14mm"}, ""),
        ("1-3/8 x 2 x 3/8 in seal", [], {"bore": "1-3/8in", "outside": "2in"}, "seal"),
        ("o-ring 24.99x3.53", [], {"inside": "24.99", "section": "3.53"}, "o-ring"),
        ("14 wide bore 20", [], {"width": "14", "bore": "20"}, ""),
        ("teeth=17 pitch=1/2in sprocket", [], {"teeth": "17", "pitch": "1/2in"}, "sprocket"),
        ("HALBROOK 6205-2Z/C3 ENGLAND", ["HALBROOK 6205-2Z/C3 ENGLAND"], {}, ""),
        ("NU 2210 ECP", ["NU 2210 ECP"], {}, ""),
        ("62/22", ["62/22"], {}, ""),
        ("3/8 BSF", ["3/8 BSF"], {}, ""),
        ("M8x1.25", ["M8x1.25"], {}, ""),
        ("030-035-30", ["030-035-30"], {}, ""),
        ("SPB 1250", ["SPB 1250"], {}, ""),
    ],
)
def test_each_piece_is_taken_for_what_it_looks_like(
    line: str, marks: list[str], sizes: dict[str, str], words: str
) -> None:
    asked = taken([line]).asked
    assert asked.marks == marks
    assert sizes.items() <= dict(asked.sizes).items()
    assert bool(asked.sizes) == bool(sizes)
    assert asked.words == words


def test_it_is_said_how_the_line_was_taken() -> None:
    told = taken(["6?04", "20x47x14", "worn", "deep groove", "micrometer"])
    assert told.told == (
        'mark 6?04, bore 20 × outside 47 × width 14, worn, by micrometer, "deep groove"'
    )
    assert (told.asked.condition, told.asked.tool) == ("worn", "micrometer")


@pytest.mark.parametrize("line", ["47mm", "bore=20 bore=21", "cubits=3"])
def test_a_line_that_leaves_a_size_open_is_refused_with_what_to_do(line: str) -> None:
    with pytest.raises(InputError) as refused:
        taken([line])
    assert refused.value.hint


@given(st.text(alphabet='6?04x/ -.,"ØmincMALT[]=*', max_size=40))
def test_no_figure_of_a_line_is_lost(text: str) -> None:
    with contextlib.suppress(InputError):
        asked = taken([text]).asked
        kept = "".join([*asked.marks, *asked.sizes.values(), asked.words])
        assert sorted(filter(str.isdigit, kept)) == sorted(filter(str.isdigit, text))
