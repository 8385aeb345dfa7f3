"""``xref part``, ``xref mark`` and ``xref source``: parts of one's own, their marks and sources."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]

MARK_ADD = ("mark", "add", "QF-2214", "QF 2210", "--role")


@pytest.fixture
def case(xref: Run) -> None:
    """The chain case of QW 312, written down."""
    done = xref(
        "part",
        "add",
        "QF-2214",
        "--maker",
        "Quillfeather",
        "--kind",
        "cast",
        "--words",
        "chain case,  left",
        "--size",
        "bore=20mm",
        "--size",
        "teeth=17",
    )
    assert (done.returncode, done.stdout) == (0, "Added QF-2214.\n")
    assert done.stderr == 'xref: the maker "Quillfeather" is new.\n'


def shown(xref: Run, *args: str) -> dict[str, Any]:
    """The JSON document of one part."""
    document: dict[str, Any] = json.loads(xref("part", "show", "--json", *args).stdout)
    return document


SOLD_AS_IT_IS = {
    "number": "QF-2214",
    "maker": "Quillfeather",
    "quantity": 1.0,
    "via": ["QF-2214"],
    "choice": False,
    "status": "current",
    "note": None,
}


def numbers(xref: Run, *args: str) -> list[str]:
    """The numbers that ``part list`` prints."""
    return [p["number"] for p in json.loads(xref("part", "list", "--json", *args).stdout)["parts"]]


@pytest.mark.usefixtures("case")
def test_part_that_was_added_is_shown_as_it_was_given(xref: Run) -> None:
    assert shown(xref, "QF-2214") == {
        "number": "QF-2214",
        "maker": "Quillfeather",
        "standard": None,
        "kind": "casting",
        "type": None,
        "description": "chain case, left",
        "status": "current",
        "from": "store",
        "sizes": {"bore": 20.0, "teeth": 17},
        "also": [],
        "marks": [],
        "tables_agreeing": None,
        "note": None,
        "extras": [],
        "claims": [],
        "prices": [],
        "limits": {},
        "source": None,
        "order_instead": None,
        "same_part": [],
        "ranges": [],
        "chain": {
            "current": [SOLD_AS_IT_IS],
            "later": [],
            "earlier": [],
            "findings": [],
            "go_with": [],
        },
        "interchange": [],
        "bench": [],
        "wanted": [],
        "cautions": [],
    }
    text = xref("part", "show", "QF-2214").stdout
    assert text.startswith("QF-2214, Quillfeather\n")
    assert "20 mm" in text


@pytest.mark.usefixtures("case")
@pytest.mark.parametrize(
    "written", ["QF-2214", "qf.2214", "QF 2214", "qf2214", "Quillfeather:QF-2214"]
)
def test_number_is_found_however_its_separators_are_written(xref: Run, written: str) -> None:
    assert shown(xref, written)["number"] == "QF-2214"


def test_standard_row_is_shown_with_its_standard_and_not_a_maker(xref: Run) -> None:
    """6204 is 20 x 47 x 14 mm (ISO 15, diameter series 2)."""
    row = shown(xref, "6204")
    assert (row["standard"], row["maker"], row["from"]) == ("ISO 15", None, "standard")
    assert row["sizes"] == {"bore": 20.0, "outside": 47.0, "width": 14.0}


@pytest.mark.usefixtures("case")
def test_change_alters_what_is_given_and_leaves_the_rest(xref: Run) -> None:
    done = xref("part", "change", "QF-2214", "--status", "superseded", "--size", "bore=1in")
    assert (done.returncode, done.stdout) == (0, "Changed QF-2214.\n")
    part = shown(xref, "QF-2214")
    assert (part["status"], part["sizes"]) == ("superseded", {"bore": 25.4, "teeth": 17})
    assert (part["kind"], part["description"]) == ("casting", "chain case, left")


@pytest.mark.usefixtures("case")
def test_removed_part_is_gone(xref: Run) -> None:
    done = xref("part", "remove", "QF-2214")
    assert (done.returncode, done.stdout) == (0, "Removed QF-2214.\n")
    assert xref("part", "show", "QF-2214").returncode == 1
    assert xref("part", "list").returncode == 1


def test_list_is_in_order_of_number_and_holds_parts_of_ones_own_only(xref: Run) -> None:
    for number, kind in (("QF-3", "gear"), ("QF-1", "gear"), ("QF-2", "pin")):
        xref("part", "add", number, "--maker", "Quillfeather", "--kind", kind)
    assert numbers(xref) == ["QF-1", "QF-2", "QF-3"]
    assert numbers(xref, "--kind", "gear") == ["QF-1", "QF-3"]
    assert numbers(xref, "--limit", "1") == ["QF-1"]
    assert numbers(xref, "--maker", "Dunmarrow") == []
    assert [line.split()[0] for line in xref("part", "list").stdout.splitlines()] == numbers(xref)


def test_standard_rows_are_listed_when_asked_for(xref: Run) -> None:
    found = json.loads(xref("part", "list", "--standard", "--limit", "3", "--json").stdout)["parts"]
    assert [part["from"] for part in found] == ["standard"] * 3


@pytest.mark.parametrize(
    ("args", "code"),
    [((), 1), (("--kind", "gear"), 1), (("--standard",), 0), (("--kind", "s"), 2)],
    ids=["none yet", "none of a kind", "standard", "two kinds begin so"],
)
def test_list_answers_no_where_there_is_nothing(
    xref: Run, args: tuple[str, ...], code: int
) -> None:
    assert xref("part", "list", *args).returncode == code


@pytest.mark.usefixtures("case")
@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("part", "add", "qf.2214", "--maker", "QUILLFEATHER"), "already in the store"),
        (("part", "add", "QF-3", "--kind", "widget"), "no kind is called"),
        (("part", "add", "QF-3", "--kind", "b"), "bearing or bush or belt or boot"),
        (("part", "add", "QF-3", "--size", "bore"), "as NAME=VALUE"),
        (("part", "add", "QF-3", "--size", "girth=3mm"), "no size is called"),
        (("part", "add", "QF-3", "--size", "teeth=2.5"), "not a count"),
        (("part", "change", "QF-2214", "--status", "lost"), "no status is called"),
        (("part", "change", "6204", "--words", "mine"), "a row of ISO 15"),
        (("part", "remove", "6204"), "a row of ISO 15"),
        ((*MARK_ADD, "stamp"), "no role is called"),
        (("mark", "add", "QF-2214", "QF 22?0", "--role", "number"), "must be certain"),
        (("mark", "add", "QF-2214", "QF 2210"), "--role"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_wrong_use_is_refused_and_changes_nothing(
    xref: Run, store: Path, args: tuple[str, ...], said: str
) -> None:
    before = store.read_bytes()
    done = xref(*args)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("xref: ")
    assert said in done.stderr
    assert store.read_bytes() == before


@pytest.mark.usefixtures("case")
@pytest.mark.parametrize(
    "args",
    [
        ("part", "show", "QF-2214"),
        ("part", "change", "QF-2214", "--words", "other"),
        ("part", "remove", "QF-2214"),
        (*MARK_ADD, "casting"),
    ],
    ids=lambda args: " ".join(args[:2]),
)
def test_number_that_two_makers_have_asks_which_is_meant(xref: Run, args: tuple[str, ...]) -> None:
    xref("part", "add", "QF-2214", "--maker", "Dunmarrow")
    refused = xref(*args)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "Quillfeather:QF-2214" in refused.stderr
    assert "Dunmarrow:QF-2214" in refused.stderr
    assert xref(*args, "--maker", "Dunmarrow").returncode == 0


@pytest.mark.usefixtures("case")
@pytest.mark.parametrize("verb", [("show",), ("remove",), ("change", "--words", "x")])
def test_unknown_number_is_answered_with_the_nearest(xref: Run, verb: tuple[str, ...]) -> None:
    done = xref("part", verb[0], "QF-2215", *verb[1:])
    assert (done.returncode, done.stdout) == (1, "")
    assert 'no part is numbered "QF-2215"' in done.stderr
    assert "QF-2214" in done.stderr


@pytest.mark.usefixtures("case")
def test_nearest_number_is_named_once_with_the_makers_that_share_it(xref: Run) -> None:
    alone = xref("part", "show", "QF-2215").stderr.splitlines()[1].strip()
    assert alone.startswith("Nearest: QF-2214")
    assert "Quillfeather" not in alone
    xref("part", "add", "QF-2214", "--maker", "Dunmarrow")
    both = xref("part", "show", "QF-2215").stderr.splitlines()[1].strip()
    assert both.startswith("Nearest: QF-2214 (Dunmarrow, Quillfeather)")
    assert both.count("QF-2214") == 1
    xref("part", "add", "QF-2214")
    assert "QF-2214 (Dunmarrow, Quillfeather, no maker)" in xref("part", "show", "QF-2215").stderr


def test_unknown_number_in_json_has_its_error_as_one_document(xref: Run) -> None:
    error = json.loads(xref("part", "show", "--json", "62O4X").stdout)["error"]
    assert error.keys() == {"kind", "message", "hint"}
    assert error["kind"] == "not found"


def test_number_that_begins_with_a_dash_is_given_after_two_dashes(xref: Run) -> None:
    refused = xref("part", "add", "-7712")
    assert refused.returncode == 2
    assert "after --" in refused.stderr
    assert xref("part", "add", "--", "-7712").stdout == "Added -7712.\n"
    assert shown(xref, "--", "-7712")["number"] == "-7712"
    assert xref("part", "remove", "--", "-7712").returncode == 0


@pytest.mark.parametrize("text", ["שלום", "٦٢٠٤"], ids=ascii)
def test_number_that_could_never_be_searched_is_refused_and_such_words_are_kept(
    xref: Run, text: str
) -> None:
    for args in (("part", "add", text), ("mark", "add", "QF-1", text, "--role", "number")):
        done = xref(*args)
        assert (done.returncode, done.stdout) == (2, "")
        assert "has no letter or digit that can be searched" in done.stderr
    assert xref("part", "show", "QF-1").returncode == 1
    assert xref("part", "add", "QF-1", "--words", text, "--maker", text).returncode == 0
    assert shown(xref, "QF-1")["description"] == text
    assert xref("mark", "add", "QF-1", text, "--role", "other").returncode == 0
    assert shown(xref, "QF-1")["marks"] == [
        {"id": 1, "text": text, "role": "other", "source": None}
    ]


def test_leading_zeros_make_another_number(xref: Run) -> None:
    xref("part", "add", "0447", "--words", "one")
    assert xref("part", "add", "447", "--words", "two").returncode == 0
    assert [shown(xref, n)["description"] for n in ("0447", "447")] == ["one", "two"]


@pytest.mark.usefixtures("case")
@pytest.mark.parametrize("role", ["number", "casting", "size", "date", "other"])
def test_mark_is_noted_once_on_the_part(xref: Run, role: str) -> None:
    for _ in range(2):
        done = xref(*MARK_ADD, role)
        assert (done.returncode, done.stderr) == (0, "")
        assert done.stdout == f"Noted QF 2210 on QF-2214 ({role}).\n"
    assert shown(xref, "QF-2214")["marks"] == [
        {"id": 1, "text": "QF 2210", "role": role, "source": None}
    ]


def test_mark_on_a_number_that_is_not_there_makes_it_as_mentioned_and_says_so(xref: Run) -> None:
    done = xref("mark", "add", "QF-9", "QF 2210", "--role", "casting", "--maker", "Quillfeather")
    assert done.returncode == 0
    assert "QF-9 was not in the store: added as mentioned only." in done.stderr
    assert shown(xref, "QF-9")["status"] == "mentioned"


def test_mark_may_be_noted_on_a_standard_row(xref: Run) -> None:
    assert xref("mark", "add", "6204", "QB 17", "--role", "other").returncode == 0
    assert shown(xref, "6204")["marks"] == [
        {"id": 1, "text": "QB 17", "role": "other", "source": None}
    ]


def test_sources_are_listed_as_added_and_two_editions_are_told_apart(xref: Run) -> None:
    book = ("source", "add", "Whimbrel parts book", "--edition")
    assert xref(*book, "1951", "--kind", "parts book", "--note", "torn").returncode == 0
    assert xref(*book, "1953").stdout == "Added the source Whimbrel parts book 1953.\n"
    assert xref(*book, "1951").returncode == 2
    assert json.loads(xref("source", "list", "--json").stdout) == {
        "sources": [
            {
                "title": "Whimbrel parts book",
                "edition": "1951",
                "kind": "parts book",
                "note": "torn",
            },
            {"title": "Whimbrel parts book", "edition": "1953", "kind": "", "note": ""},
        ]
    }
    unclear = xref("part", "add", "QF-1", "--source", "Whimbrel parts book")
    assert (unclear.returncode, unclear.stdout) == (2, "")
    assert "1951" in unclear.stderr
    assert "1953" in unclear.stderr
    assert xref("part", "add", "QF-1", "--source", "Whimbrel parts book 1951").returncode == 0


def test_slip_in_a_command_is_answered_with_the_nearest(xref: Run) -> None:
    done = xref("idnetify")
    assert (done.returncode, done.stdout) == (2, "")
    assert "Did you mean identify?" in done.stderr


def test_a_number_that_another_maker_has_is_added_and_said(xref: Run) -> None:
    assert "already" not in xref("part", "add", "QF-77", "--maker", "Quillfeather").stderr
    done = xref("part", "add", "qf 77")
    assert (done.returncode, done.stdout) == (0, "Added qf 77.\n")
    assert "There is a QF-77 already, Quillfeather's." in done.stderr
    assert "xref undo" in done.stderr
    assert xref("part", "add", "6204").stderr == ""
