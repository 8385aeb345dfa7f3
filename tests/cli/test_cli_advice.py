"""What the answers tell a tired person to do, and what they leave out."""

from __future__ import annotations

import json
import shlex
from collections.abc import Callable

import pytest

from tests.cli.conftest import Done

Run = Callable[..., Done]


def test_only_likely_parts_are_cautioned_of(xref: Run) -> None:
    for number, words in (("QF-2140", "door handle"), ("QF-2110", "bush, brake lever")):
        xref("part", "add", number, "--maker", "Quillfeather", "--words", words)
    handle = xref("identify", "--mark", "QF 2140").stdout
    assert handle.startswith("It is QF-2140")
    assert "Brake part" not in handle
    either = xref("identify", "--mark", "QF 21[14]0").stdout
    assert either.count("Brake part") == 1


def test_none_of_these_is_named_first_where_it_is_likelier_than_any(xref: Run) -> None:
    asked_for = ("--mark", "S?B 12?0")
    answer = json.loads(xref("identify", "--json", *asked_for).stdout)
    assert answer["verdict"] == "several"
    assert answer["none_of_these"] > answer["candidates"][0]["probability"]
    first = xref("identify", *asked_for).stdout.splitlines()[0]
    assert first.startswith("Several could be it, or none of these, ")


def test_a_number_that_is_only_mentioned_says_so(xref: Run) -> None:
    xref("part", "add", "QF-2105", "--maker", "Quillfeather", "--words", "oil seal")
    xref("supersede", "QF-2105", "QF-2106")
    assert "QF-2106  mentioned only  (Quillfeather)" in xref("identify", "--mark", "QF 2106").stdout


@pytest.mark.parametrize("kind", [("--kind", "shaft seal"), ()], ids=["named", ""])
def test_an_inch_seal_that_no_table_has_is_a_seal_made_by_rule(
    xref: Run, kind: tuple[str, ...]
) -> None:
    """Common practice, no published source: inch seals go by sixteenths. It was bearing R16."""
    seal = (*kind, "--bore", "1-3/8in", "--outside", "2in", "--width", "3/8in")
    first = json.loads(xref("identify", "--json", *seal).stdout)["candidates"][0]
    assert (first["number"], first["kind"], first["from"]) == (
        "1-3/8x2x3/8 in",
        "shaft seal",
        "rule",
    )
    assert "by rule, no table known" in first["description"]


@pytest.mark.parametrize(
    ("asked_for", "then"),
    [
        (("--mark", "NOT LEGIBLE"), "Next: read the mark once more"),
        (("--bore", "900in"), "look at the units"),
        (("--words", "gubbins"), "Next: measure what can be measured"),
    ],
)
def test_where_nothing_is_near_no_part_is_shown_and_it_says_what_to_do(
    xref: Run, asked_for: tuple[str, ...], then: str
) -> None:
    done = xref("identify", *asked_for)
    assert done.returncode == 1
    assert then in done.stdout
    assert "Why " not in done.stdout


def test_parts_that_miss_for_one_reason_share_its_line(xref: Run) -> None:
    """25 mm is not 1 in, whatever the bearing of series 2 with a bore of 25 mm (ISO 15)."""
    text = xref("equivalents", "--bore", "1in", "--outside", "52mm").stdout
    misses = text[text.index("these do NOT fit") : text.index("Caution")]
    assert misses.count("25.4 mm is 1 in, not 25 mm") == 1
    assert all(f"{number}," in misses for number in ("1205", "6205", "NU205"))


def test_serials_without_their_letters_say_how_to_name_them(xref: Run) -> None:
    xref("machine", "add", "PL 7", "--model", "Dotterel", "--serial", "PL207")
    xref("applies", "QF-2140", "--model", "Dotterel", "--from", "101", "--to", "299")
    told_first = " ".join(xref("belongs", "QF-2140", "--machine", "PL 7").stdout.split())
    assert "the letters differ: 101-299 against PL207" in told_first
    hint = 'xref machine add "PL 7" --model Dotterel --serial PL207 --prefixes PL'
    assert hint in told_first
    xref(*shlex.split(hint)[1:])
    assert xref("belongs", "QF-2140", "--machine", "PL 7").stdout.startswith(
        "QF-2140 on PL 7 (PL207): listed."
    )


def test_a_part_written_down_with_a_slip_in_its_sizes_says_so(xref: Run) -> None:
    bare = xref("part", "add", "QF-88", "--size", "bore=20")
    assert bare.stdout == "Added QF-88.\n"
    assert bare.stderr == "Note: No unit was written: bore 20 as mm.\n"
    slip = xref("part", "add", "QF-89", "--size", "bore=20in", "--size", "outside=25mm")
    assert "No part has bore 20in in outside 25mm" in slip.stderr
    right = xref("part", "change", "QF-89", "--size", "bore=20mm", "--size", "teeth=17")
    assert (right.stdout, right.stderr) == ("Changed QF-89.\n", "")
