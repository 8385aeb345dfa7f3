"""A check is printed ready to be answered, and the answer is kept with what it belongs to."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Callable
from pathlib import Path

Run = Callable[..., subprocess.CompletedProcess[str]]

SIZES = ("--bore", "20mm", "--outside", "47mm", "--width", "14mm")


def test_what_is_printed_can_be_typed_and_is_told_among_the_reasons(xref: Run) -> None:
    text = xref("identify", *SIZES, "--all").stdout
    typed = re.findall(r"--seen (rings=\S+)", text)
    assert "rings=inner-both" in typed
    assert "--cannot rings" in text
    told = xref("identify", *SIZES, "--seen", "rings=inner-both", "--seen", "rolls=rollers")
    assert re.search(r"^ +\d\d(\.\d)? %  NU204", told.stdout, re.MULTILINE)
    assert "seen: rings: the inner ring slides out both ways, agrees" in told.stdout


def test_a_box_has_a_column_for_what_was_seen(xref: Run, tmp_path: Path) -> None:
    box = tmp_path / "box.csv"
    box.write_text(
        "bore,outside,width,seen\n"
        "20mm,47mm,14mm,rolls=rollers | rings=inner-both\n"
        "20mm,47mm,14mm,rolls\n"
        "20mm,47mm,14mm,rolls=blue\n"
    )
    ended = xref("identify", "--from", str(box), "--json")
    assert ended.returncode == 1
    first, second, third = (json.loads(line) for line in ended.stdout.splitlines())
    assert first["candidates"][0]["number"] == "NU204"
    assert first["query"]["seen"] == {"rolls": "rollers", "rings": "inner-both"}
    assert "is no answer to a check" in second["error"]["message"]
    assert "balls, rollers" in third["error"]["hint"]


def test_the_bench_keeps_what_was_seen_and_lets_it_be_changed(xref: Run) -> None:
    xref("bench", "add", "left axle box", *SIZES, "--seen", "rolls=rollers")
    changed = xref("bench", "change", "1", "--seen", "rings=inner-both")
    assert changed.returncode == 0
    (item,) = json.loads(xref("bench", "list", "--json").stdout)["items"]
    assert item["asked"]["seen"] == {"rolls": "rollers", "rings": "inner-both"}
    xref("bench", "change", "1", "--without", "rolls")
    (item,) = json.loads(xref("bench", "list", "--json").stdout)["items"]
    assert item["asked"]["seen"] == {"rings": "inner-both"}


def test_an_unknown_check_is_one_clear_line_with_those_there_are(xref: Run) -> None:
    ended = xref("identify", *SIZES, "--seen", "colour=red")
    assert ended.returncode == 2
    assert 'no check is called "colour"' in ended.stderr
    assert "rolls" in ended.stderr
