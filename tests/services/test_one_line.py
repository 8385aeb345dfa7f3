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


@pytest.mark.parametrize(
    ("line", "sizes"),
    [
        # The name before its figure, or behind it; the whole line stands one way.
        ("ball bearing id 25 od 52 w 15", {"bore": "25", "outside": "52", "width": "15"}),
        ("bearing 20 bore, 47 outside", {"bore": "20", "outside": "47"}),
        ("bush 1 in bore 1-1/4 od 1-1/2 long", {"bore": "1 in", "length": "1-1/2"}),
        ("ID20 OD47 W14", {"bore": "20", "outside": "47", "width": "14"}),
        ("seal for 35 shaft 52 housing 7 wide", {"shaft": "35", "housing": "52", "width": "7"}),
        # In other languages, with and without their letters.
        ("Lager Bohrung 20 Außen 47 Breite 14", {"bore": "20", "outside": "47", "width": "14"}),
        ("lager innen 25 aussen 52", {"bore": "25", "outside": "52"}),
        ("roulement alésage 20 largeur 14", {"bore": "20", "width": "14"}),
        ("lager binnen 20 buiten 47 breedte 14", {"bore": "20", "outside": "47", "width": "14"}),
        # In the order in which such a thing is written.
        ("oring 20 x 2.5", {"inside": "20", "section": "2.5"}),
        ("Tellerfeder 20 x 10,2 x 1,1", {"bore": "10.2", "outside": "20", "thickness": "1.1"}),
        ("roller chain 12.7 x 7.75", {"pitch": "12.7", "inner-width": "7.75"}),
        ("chain 1/2 x 5/16", {"pitch": "1/2in", "inner-width": "5/16in"}),
        ("belt 13 x 1250", {"top-width": "13", "length": "1250"}),
        ("belt 13 x 8", {"top-width": "13", "height": "8"}),
        ("bolt 3/8 x 1-1/2", {"diameter": "3/8in", "length": "1-1/2in"}),
        ("woodruff key 1/8 x 1/2", {"width": "1/8in", "diameter": "1/2in"}),
        ("bearing 20.1 46.9 13.9", {"bore": "20.1", "outside": "46.9", "width": "13.9"}),
        # One figure is the size that such a thing is gone by.
        ("external circlip 30mm", {"shaft": "30mm"}),
        ("internal circlip 52mm", {"housing": "52mm"}),
        ("e-clip 6mm", {"groove": "6mm"}),
        ("steel ball 1/4", {"diameter": "1/4in"}),
        ("washer 3/8", {"shaft": "3/8in"}),
        ("spanner 13mm", {"across-flats": "13mm"}),
        ("nut across flats 0.525", {"across-flats": "0.525in"}),
        # Turns to the inch say that the diameter is in inches too.
        ("3/8 in x 16 tpi", {"pitch": "16tpi"}),
        ("bolt 3/8 x 16 tpi", {"diameter": "3/8in", "pitch": "16tpi"}),
        ("bolt 0.375 16tpi", {"diameter": "0.375in", "pitch": "16tpi"}),
        ("o-ring 70 shore 30 x 3", {"hardness": "70", "inside": "30", "section": "3"}),
        ("belt 17 wide 1250 long", {"width": "17", "length": "1250"}),
    ],
)
def test_a_figure_is_the_size_that_its_name_or_the_thing_says(
    line: str, sizes: dict[str, str]
) -> None:
    assert sizes.items() <= dict(taken([line]).asked.sizes).items()


@pytest.mark.parametrize(
    ("line", "mark"),
    [
        ("no 9 woodruff", "woodruff key no. 9"),
        ("woodruff key no. 404", "woodruff key 404"),
        ("split pin 1/8", "split pin 1/8"),
        ("Splint 4x40", "split pin 4 x 40"),
        ("roll pin 5x30", "spring pin 5 x 30"),
        ("Passfeder 8x7x40", "parallel key 8 x 7 x 40"),
        ("chain 428", "chain 428"),
        ("m12 x 1.75 nut", "m12 x 1.75"),
        ("fan shaft 6204", "6204"),
        ("1/4 bsp", "1/4 bsp"),
    ],
)
def test_a_figure_that_a_list_has_is_the_mark(line: str, mark: str) -> None:
    asked = taken([line]).asked
    assert list(asked.marks) == [mark]
    assert not asked.sizes


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
