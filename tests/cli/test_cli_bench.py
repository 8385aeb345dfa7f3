"""The bench book, what is wanted, history and undo, typed as a person types them."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from subprocess import CompletedProcess

import pytest

Done = CompletedProcess[str]
Run = Callable[..., Done]


@pytest.fixture
def whimbrel(scenario_path: Path, store: Path) -> None:
    """The demo's parts, machine and ranges in this test's store."""
    shutil.copy(scenario_path, store)


def told(done: Done) -> dict[str, object]:
    assert done.returncode == 0, done.stderr
    found: dict[str, object] = json.loads(done.stdout)
    return found


@pytest.mark.usefixtures("whimbrel")
def test_a_part_goes_on_the_bench_is_decided_and_tried(xref: Run) -> None:
    added = xref(
        "bench",
        "add",
        "chain case, left",
        "--mark",
        "QF 4471",
        "--machine",
        "QW 312",
        "--assembly",
        "chain drive",
        "--side",
        "left",
        "--shims",
        "two, 0.2 mm",
    )
    assert added.stdout == "On the bench with label 1.\n"
    listed = told(xref("bench", "list", "--undecided", "--json"))
    assert [item["verdict"] for item in listed["items"]] == ["one"]  # type: ignore[attr-defined]
    decided = xref("bench", "decide", "1", "QF-4471")
    assert decided.stdout.startswith("Label 1 is QF-4471; its odds were ")
    done = xref("bench", "outcome", "1", "fitted", "after cleaning", "--in-place-of", "QF-2215")
    assert "Noted as tried: QF-4471: Whimbrel QW312." in done.stdout
    shown = told(xref("bench", "show", "1", "--json"))
    assert (shown["decided"], shown["outcome"], shown["why"]) == (
        "QF-4471",
        "fitted",
        "after cleaning",
    )
    assert shown["found"] == {"side": "left", "shims": "two, 0.2 mm"}
    assert float(str(shown["odds_then"])) > 0.9
    assert told(xref("belongs", "QF-4471", "--machine", "QW 312", "--json"))["verdict"] == "listed"
    lines = told(xref("equivalents", "QF-2215", "--json"))["equivalents"]
    assert ("QF-4471", "tried, fits") in [(e["number"], e["grade"]) for e in lines]  # type: ignore[attr-defined]


@pytest.mark.usefixtures("whimbrel")
def test_a_part_that_did_not_fit_is_not_listed_from_then_on(xref: Run) -> None:
    xref("bench", "add", "shaft", "--mark", "QF 3305", "--machine", "QW 312")
    xref("bench", "decide", "1", "QF-3305")
    assert xref("bench", "outcome", "1", "did-not-fit", "worn teeth").returncode == 0
    done = xref("belongs", "QF-3305", "--machine", "QW 312", "--json")
    assert "on record both as listed" in done.stdout


@pytest.mark.parametrize("word", ["returned", "sent-back"])
def test_what_went_back_is_one_outcome_by_either_word(xref: Run, word: str) -> None:
    assert xref("part", "add", "QF-2214").returncode == 0
    assert xref("bench", "add", "chain case", "--mark", "QF 2214").returncode == 0
    assert xref("bench", "decide", "1", "QF-2214").returncode == 0
    assert xref("bench", "outcome", "1", word).stdout == "Label 1, QF-2214: returned.\n"


def test_an_undecided_part_has_no_outcome(xref: Run) -> None:
    xref("bench", "add", "bearing", "--mark", "6204")
    done = xref("bench", "outcome", "1", "fitted")
    assert done.returncode == 2
    assert "label 1 is not decided yet" in done.stderr


@pytest.mark.parametrize(
    "args", [("show", "9"), ("decide", "9", "6204"), ("outcome", "9", "fitted")]
)
def test_a_label_that_is_not_there_is_answered_plainly(xref: Run, args: tuple[str, ...]) -> None:
    done = xref("bench", *args)
    assert done.returncode == 1
    assert "label 9" in done.stderr


def test_an_identified_part_is_kept_straight_away(xref: Run) -> None:
    done = xref("identify", "--mark", "6204", "--bore", "20mm", "--keep", "axle, outer end")
    assert "On the bench with label 1." in done.stderr
    shown = told(xref("bench", "show", "1", "--json"))
    assert shown["place"] == "axle, outer end"
    assert shown["asked"] == {
        "marks": ["6204"],
        "sizes": {"bore": "20mm"},
        "tool": "caliper",
        "condition": "used",
    }


def test_a_photo_is_kept_beside_the_store_by_its_content(
    xref: Run, store: Path, tmp_path: Path
) -> None:
    photo = tmp_path / "case.jpg"
    photo.write_bytes(b"not really a picture")
    for label in ("1", "2"):
        added = xref("bench", "add", "case", "--mark", "QF 1", "--photo", str(photo))
        assert label in added.stdout
    kept = list(Path(f"{store}.photos").iterdir())
    assert [p.read_bytes() for p in kept] == [b"not really a picture"]
    missing = xref("bench", "add", "case", "--mark", "QF 1", "--photo", str(tmp_path / "none.jpg"))
    assert missing.returncode == 3
    assert "there is no file" in missing.stderr


@pytest.mark.usefixtures("whimbrel")
def test_the_parts_of_one_assembly_on_the_bench_lead_to_its_donor(xref: Run) -> None:
    for number in ("QF 4471", "QF 4477", "QF 3311"):
        xref("bench", "add", number, "--mark", number, "--assembly", "odd drive")
    found = told(xref("donor", "--assembly", "odd drive", "--machine", "QW 312", "--json"))
    best = found["ranges"][0]  # type: ignore[index]
    assert (best["from"], best["to"]) == ("QW360", "QW420")
    assert best["supported_by"] == ["label 1", "label 2", "label 3"]
    assert found["machine_inside"] is False


@pytest.mark.usefixtures("whimbrel")
def test_what_is_wanted_makes_one_page_for_a_supplier(xref: Run) -> None:
    xref(
        "wanted",
        "add",
        "QF-1420",
        "--quantity",
        "2",
        "--supplier",
        "Dunmarrow",
        "--price",
        "4.20 GBP",
        "--seen",
        "2026-11-20",
    )
    xref("wanted", "add", "QF-4471", "--supplier", "Dunmarrow", "--price", "GBP 38.50")
    xref("wanted", "add", "=red oxide primer")
    listed = told(xref("wanted", "list", "--json"))
    assert listed["totals"] == {"GBP": 46.9}
    assert [line["price"] for line in listed["wanted"]] == [4.2, 38.5, None]  # type: ignore[attr-defined]
    page = xref("wanted", "sheet", "--supplier", "Dunmarrow").stdout
    assert "| D 70-0142 | 1 | QF-4471 |" in page
    assert "Total of what has a price: 46.90 GBP" in page
    assert "Caution: Rubber must suit the fluid" in page
    table = xref("wanted", "sheet", "--csv").stdout
    assert "'=red oxide primer" in table
    assert xref("wanted", "done", "1").returncode == 0
    assert xref("wanted", "done", "1").returncode == 2
    assert "oil seal" not in xref("wanted", "list").stdout
    assert "oil seal" in xref("wanted", "list", "--all").stdout


@pytest.mark.parametrize(
    "args", [("--price", "cheap"), ("--quantity", "0"), ("--quantity", "nan"), ("--seen", "soon")]
)
def test_rubbish_about_what_is_wanted_is_refused_in_one_line(
    xref: Run, args: tuple[str, ...]
) -> None:
    done = xref("wanted", "add", "6204", *args)
    assert done.returncode == 2
    assert done.stderr.startswith("xref: ")
    assert "Nothing is wanted." in xref("wanted", "list").stdout


def test_undo_takes_back_the_last_command_and_history_says_so(xref: Run) -> None:
    assert xref("undo").returncode == 1
    xref("part", "add", "QF-1", "--words", "sand lever", "--size", "bore=20mm")
    xref("part", "change", "QF-1", "--words", "sand lever, long")
    done = xref("undo")
    assert done.stdout.startswith("Took back 2: part change of ")
    assert "sand lever\n" in xref("part", "show", "QF-1").stdout
    told_ = told(xref("history", "QF-1", "--json"))["actions"]
    assert [(a["command"], a["undone"]) for a in told_] == [  # type: ignore[attr-defined]
        ("part change", True),
        ("part add", False),
    ]
    assert "words sand lever → sand lever, long" in xref("history").stdout
    assert xref("undo").returncode == 0
    assert xref("part", "show", "QF-1").returncode == 1
    assert xref("undo").returncode == 1


def test_a_part_that_lies_decided_on_the_bench_is_not_removed(xref: Run) -> None:
    xref("part", "add", "QF-1")
    xref("bench", "add", "lever", "--mark", "QF 1")
    xref("bench", "decide", "1", "QF-1")
    done = xref("part", "remove", "QF-1")
    assert done.returncode == 2
    assert "bench book" in done.stderr


@pytest.mark.parametrize("what", ["side", "shims", "assembly", "note"])
def test_nothing_that_was_found_is_cut_short_in_silence(xref: Run, what: str) -> None:
    done = xref("bench", "add", "gearbox", f"--{what}", "left " * 120)
    assert (done.returncode, done.stdout) == (2, "")
    assert "Say it in fewer words." in done.stderr


def test_what_was_tried_outranks_the_book_when_asked_whether_it_belongs(xref: Run) -> None:
    xref("machine", "add", "QX 1", "--model", "Dotterel", "--serial", "QX1")
    xref("part", "add", "QX-55", "--kind", "gear")
    xref("applies", "QX-55", "--model", "Dotterel", "--from", "QX1")
    assert xref("belongs", "QX-55", "--machine", "QX 1").returncode == 0
    xref("bench", "add", "gearbox", "--mark", "QX-55", "--machine", "QX 1")
    xref("bench", "decide", "1", "QX-55")
    xref("bench", "outcome", "1", "did-not-fit", "fouls the shaft")
    done = xref("belongs", "QX-55", "--machine", "QX 1")
    assert done.returncode == 1
    assert "not fitting Dotterel QX1, tried on the bench" in " ".join(done.stdout.split())
    answer = json.loads(xref("identify", "--mark", "QX-55", "--machine", "QX 1", "--json").stdout)
    (serial,) = (e for e in answer["candidates"][0]["evidence"] if e["about"] == "serial")
    assert serial["expected"] == "does not fit Dotterel QX1"
    assert serial["bits"] < 0
