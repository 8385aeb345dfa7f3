"""Drawings from the command line."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.cli.conftest import Done
from xref.cli.app import main

Run = Callable[..., Done]


@pytest.fixture
def svg(tmp_path: Path) -> Path:
    """Where a drawing goes."""
    return tmp_path / "case.svg"


@pytest.fixture
def scenario(scenario_path: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line on the invented scenario, which it only reads."""

    def run(*args: str) -> Done:
        capsys.readouterr()
        code = main(["--store", str(scenario_path), *args])
        return Done(args, code, *capsys.readouterr())

    return run


def texts(path: Path) -> list[str]:
    return [e.text for e in ElementTree.parse(path).iter() if e.text]


def test_a_part_is_drawn_and_its_sizes_are_printed_beside_letters(xref: Run, svg: Path) -> None:
    done = xref("draw", "6204", "-o", str(svg))
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Wrote case.svg.\n6204: deep groove ball bearing")
    assert "  D  outside  47 mm" in done.stdout
    assert {"d", "D", "B"} <= set(texts(svg))


def test_a_drawing_that_is_there_is_replaced_and_that_is_said(xref: Run, svg: Path) -> None:
    svg.write_text("old", encoding="utf-8")
    done = xref("draw", "6204", "-o", str(svg))
    assert done.stdout.startswith("Replaced case.svg.")
    assert "6204" in texts(svg)[1]


def test_an_older_drawing_stays_where_the_number_is_not_there(xref: Run, svg: Path) -> None:
    svg.write_text("old", encoding="utf-8")
    done = xref("draw", "QF-9999", "-o", str(svg))
    assert done.returncode != 0
    assert "QF-9999" in done.stderr
    assert svg.read_text(encoding="utf-8") == "old"


def test_closures_are_drawn_as_the_number_says(xref: Run, svg: Path) -> None:
    assert "seals on both sides" in xref("draw", "6204-2RS", "-o", str(svg)).stdout.lower()
    assert "shield on one side" in xref("draw", "6204-Z", "-o", str(svg)).stdout
    assert "both sides" not in xref("draw", "6204", "-o", str(svg)).stdout


def test_another_part_is_laid_over_with_the_difference_in_figures(xref: Run, svg: Path) -> None:
    done = xref("draw", "6204", "-o", str(svg), "--with", "6304")
    assert "  D  outside  47 mm  52 mm  +5 mm" in done.stdout
    assert "ΔD" in texts(svg)


def test_a_chain_is_drawn_with_what_is_changed_together(xref: Run, svg: Path) -> None:
    for number in ("QF-1", "QF-2", "QF-3", "QF-4"):
        xref("part", "add", number, "--maker", "Quillfeather")
    xref("supersede", "QF-1", "QF-2", "QF-3", "--as", "set", "--with", "QF-4")
    done = xref("draw", "QF-2", "-o", str(svg), "--chain")
    assert done.returncode == 0
    assert {"QF-1", "QF-2", "+ QF-3"} <= set(texts(svg))
    assert "With QF-1 change QF-4." in done.stdout.replace("\n  ", " ")


def test_ranges_are_drawn_with_the_machine_and_the_range_they_share(
    scenario: Run, svg: Path
) -> None:
    done = scenario("draw", "QF-4471", "QF-4477", "-o", str(svg), "--ranges", "--machine", "QW 312")
    assert done.returncode == 0
    assert "QW 312: QW312" in texts(svg)
    assert "QF-4471 + QF-4477 (donor)" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["6204"], "no file is named"),
        (["6204", "-o", "case.png"], "case.png does not end in .svg"),
        (["6204", "-o", "nowhere/case.svg"], "could not be written"),
        (["6204", "-o", "case\0.svg"], "could not be written"),
        (["6204", "6304", "-o", "case.svg"], "several numbers are named"),
        (["6204", "-o", "case.svg", "--chain", "--ranges"], "are different drawings"),
        (["6204", "-o", "case.svg", "--machine", "QW 312"], "nothing of a part's shape"),
    ],
)
def test_what_cannot_be_drawn_is_said_in_one_line_with_what_to_do(
    xref: Run, words: list[str], said: str
) -> None:
    done = xref("draw", *words)
    assert done.returncode in (2, 3)
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_identify_draws_its_first_candidate_with_what_was_measured(xref: Run, svg: Path) -> None:
    asked = ["identify", "--mark", "6204", "--bore", "20.4mm", "--width", "14mm"]
    plain, done = xref(*asked), xref(*asked, "--draw", str(svg))
    assert done.stdout == plain.stdout
    assert "Wrote case.svg. It shows 6204" in done.stderr
    assert 'class="xd-over"' in svg.read_text(encoding="utf-8")


def test_identify_refuses_another_ending_before_it_searches(xref: Run, tmp_path: Path) -> None:
    done = xref("identify", "--bore", "20mm", "--draw", str(tmp_path / "a.pdf"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "does not end in .svg" in done.stderr
