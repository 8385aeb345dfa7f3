"""Whatever is typed, a refusal is one or two plain lines, exit 2, and nothing is written."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]

TEXTS = {
    "empty": "",
    "spaces": "   ",
    "a megabyte": "6" * 1_000_000,
    "escape": "62\x1b[31m04",
    "nul": "62\x0004",
    "line break": "6204\n6205",
    "delete": "62\x7f04",
    "lone surrogate": "62\udc8004",
    "half a pair": "\ud83d",
    "right to left": "\u202e6204",
    "hebrew": "שלום",
    "digits of another script": "٦٢٠٤",
    "combining": "\u0301\u0302",
    "private use": "\ue000",
    "nan": "nan",
    "inf": "inf",
    "negative": "-5mm",
    "zero": "0",
    "absurdly large": "1" + "0" * 40 + "mm",
    "absurdly small": "0.0000001mm",
    "exponent": "1e400",
    "unknown unit": "5 furlongs",
    "thousands or a decimal": "1,250",
    "a thread": "M8",
    "several sizes": "20x47x14mm",
    "dots": "...",
    "sql": "'; DROP TABLE part; --",
}
UNPRINTABLE = [
    "escape",
    "nul",
    "line break",
    "delete",
    "lone surrogate",
    "half a pair",
    "private use",
    "right to left",
]
NOTHING = ["empty", "spaces"]
LONG = ["a megabyte"]
ILLEGIBLE = [
    *NOTHING,
    *LONG,
    *UNPRINTABLE,
    "hebrew",
    "digits of another script",
    "combining",
    "dots",
]

REFUSED: dict[str, tuple[tuple[str, ...], list[str]]] = {
    "identify --mark": (("identify", "--mark="), [*ILLEGIBLE]),
    "identify --cast": (("identify", "--cast="), [*ILLEGIBLE]),
    "identify --bore": (("identify", "--bore="), [*TEXTS]),
    "identify --size": (("identify", "--size="), [*TEXTS]),
    "identify --size section": (("identify", "--size=section="), [*TEXTS]),
    "identify --size teeth": (("identify", "--size=teeth="), [*TEXTS]),
    "identify --kind": (("identify", "--mark=6204", "--kind="), [*TEXTS]),
    "identify --tool": (("identify", "--mark=6204", "--tool="), [*TEXTS]),
    "identify --condition": (("identify", "--mark=6204", "--condition="), [*TEXTS]),
    "identify --built": (("identify", "--mark=6204", "--built="), [*TEXTS]),
    "identify --cast-date": (("identify", "--mark=6204", "--cast-date="), [*ILLEGIBLE]),
    "part list --kind": (("part", "list", "--kind="), [*TEXTS]),
    "identify --cannot": (("identify", "--mark=6204", "--cannot="), [*TEXTS]),
    "identify --limit": (("identify", "--mark=6204", "--limit="), [*TEXTS]),
    "identify --words": (("identify", "--words="), [*NOTHING, *LONG, *UNPRINTABLE]),
    "part show": (("part", "show", "--"), [*NOTHING, *LONG, *UNPRINTABLE, "dots"]),
}
WRITES: dict[str, tuple[tuple[str, ...], list[str]]] = {
    "part add": (("part", "add", "--"), [*ILLEGIBLE]),
    "part add --size": (("part", "add", "QF-1", "--size=bore="), [*TEXTS]),
    "part add --kind": (("part", "add", "QF-1", "--kind="), [*TEXTS]),
    "part add --words": (("part", "add", "QF-1", "--words="), [*NOTHING, *LONG, *UNPRINTABLE]),
    "part add --maker": (("part", "add", "QF-1", "--maker="), [*LONG, "nul", "lone surrogate"]),
    "part change --size": (("part", "change", "QF-2214", "--size=bore="), [*TEXTS]),
    "part change --words": (("part", "change", "QF-2214", "--words="), [*LONG, *UNPRINTABLE]),
    "mark add": (
        ("mark", "add", "QF-2214", "--role", "casting", "--"),
        [*NOTHING, *LONG, *UNPRINTABLE],
    ),
    "mark add, a number": (("mark", "add", "QF-2214", "--role", "number", "--"), [*ILLEGIBLE]),
    "mark add --role": (("mark", "add", "QF-2214", "QF 22", "--role="), [*TEXTS]),
    "part change --status": (("part", "change", "QF-2214", "--status="), [*TEXTS]),
    "part change --kind": (("part", "change", "QF-2214", "--kind="), [*TEXTS]),
    "source add": (("source", "add", "--"), [*NOTHING, *LONG, *UNPRINTABLE]),
}
for refused in (REFUSED, WRITES):
    for _, names in refused.values():
        assert set(names) <= TEXTS.keys()


def cases(table: dict[str, tuple[tuple[str, ...], list[str]]]) -> pytest.MarkDecorator:
    """One case for each text that each command must refuse."""
    return pytest.mark.parametrize(
        "args",
        [
            pytest.param(
                (*start, TEXTS[name])
                if start[-1] == "--"
                else (*start[:-1], start[-1] + TEXTS[name]),
                id=f"{command}: {name}",
            )
            for command, (start, names) in table.items()
            for name in names
        ],
    )


def plainly_refused(done: subprocess.CompletedProcess[str]) -> None:
    """Exit 2, one or two short lines that begin with our name, and nothing a terminal obeys."""
    assert done.returncode == 2
    assert done.stderr.startswith("xref: ")
    assert done.stderr.endswith("\n")
    lines = done.stderr[:-1].split("\n")
    assert len(lines) in (1, 2)
    assert all(line.isprintable() for line in lines)
    assert len(done.stderr) < 700
    assert "Traceback" not in done.stderr
    assert "inside xref" not in done.stderr


@cases(REFUSED)
def test_question_that_makes_no_sense_is_refused(
    xref: Run, store: Path, args: tuple[str, ...]
) -> None:
    """In text on stderr alone; with --json as one document on stdout as well."""
    before = store.read_bytes()
    text = xref(*args)
    plainly_refused(text)
    assert text.stdout == ""
    words = 2 if args[0] == "part" else 1
    done = xref(*args[:words], "--json", *args[words:])
    plainly_refused(done)
    document = json.loads(done.stdout)
    assert document.keys() == {"error"}
    assert document["error"].keys() == {"kind", "message", "hint"}
    assert document["error"]["kind"] == "usage"
    assert done.stderr.startswith(f"xref: {document['error']['message']}.\n")
    assert store.read_bytes() == before


@cases(WRITES)
def test_write_that_makes_no_sense_leaves_every_byte_of_the_store(
    xref: Run, store: Path, args: tuple[str, ...]
) -> None:
    xref("part", "add", "QF-2214", "--words", "chain case")
    before = store.read_bytes()
    done = xref(*args)
    plainly_refused(done)
    assert done.stdout == ""
    assert store.read_bytes() == before


@pytest.mark.parametrize("name", TEXTS)
def test_decode_answers_no_or_refuses_and_never_breaks(xref: Run, name: str) -> None:
    """A text that names nothing is exit 1 with no reading; one that cannot be read is exit 2."""
    args = ("decode", "--json", "--", TEXTS[name])
    done = xref(*args)
    document = json.loads(done.stdout)
    if done.returncode == 2:
        plainly_refused(done)
        assert document["error"]["kind"] == "usage"
    else:
        assert name not in (*NOTHING, *LONG, *UNPRINTABLE)
        assert done.stderr == ""
        assert document["text"] == TEXTS[name]
        assert done.returncode == (0 if document["readings"] else 1)


@pytest.mark.parametrize("name", ["nan", "unknown unit", "hebrew", "sql"])
def test_decode_has_no_reading_of_prose(xref: Run, name: str) -> None:
    done = xref("decode", "--", TEXTS[name])
    assert (done.returncode, done.stderr) == (1, "")
    assert "is no number this tool can read" in done.stdout


@pytest.mark.parametrize("text", ["", "  "], ids=["empty", "spaces"])
@pytest.mark.parametrize(
    "args",
    [
        *(
            ("identify", "--mark", "6204", option)
            for option in ("--kind", "--words", "--tool", "--condition", "--cast-date", "--built")
        ),
        ("identify", "--json", "--from"),
        ("part", "add", "QF-1", "--kind"),
        ("part", "add", "QF-1", "--words"),
        ("part", "list", "--kind"),
    ],
    ids=" ".join,
)
def test_option_given_and_empty_is_named(xref: Run, args: tuple[str, ...], text: str) -> None:
    """It would otherwise be taken as not given, which is never what was meant."""
    done = xref(*args, text)
    plainly_refused(done)
    assert done.stderr.startswith(f"xref: {args[-1]} is empty.\n")


def test_words_of_a_part_are_removed_by_an_empty_text(xref: Run) -> None:
    xref("part", "add", "QF-2214", "--words", "chain case")
    assert xref("part", "change", "QF-2214", "--words", "").returncode == 0
    document = json.loads(xref("part", "show", "--json", "QF-2214").stdout)
    assert document["description"] == ""


def test_megabyte_of_mark_is_named_by_its_length_and_not_repeated(xref: Run) -> None:
    done = xref("identify", "--mark", TEXTS["a megabyte"])
    assert "1000000 characters" in done.stderr
    assert "666" not in done.stderr


@pytest.mark.parametrize(
    ("text", "meanings"),
    [("1,250", ["1.250", "1250"]), ("5mil", ["thousandth of an inch", "millimetre"])],
)
def test_size_that_may_mean_two_things_is_refused_with_both(
    xref: Run, text: str, meanings: list[str]
) -> None:
    done = xref("identify", f"--bore={text}")
    plainly_refused(done)
    assert all(meaning in done.stderr for meaning in meanings)


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (("identify", "--mark", "6204", "--tool", "laser"), "caliper, micrometer, rule, tape"),
        (("identify", "--mark", "6204", "--condition", "lost"), "new, used, worn"),
        (("identify", "--mark", "6204", "--kind", "widget"), "bearing, bush, shaft seal"),
        (("identify", "--mark", "6204", "--cannot", "girth"), "rolls, rows, rings"),
        (("identify", "--bore", "5 furlongs"), "mm, cm, m, in"),
        (("identify",), '--mark "62?4"'),
    ],
    ids=["tool", "condition", "kind", "size name", "unit", "nothing"],
)
def test_refusal_says_what_would_do(xref: Run, args: tuple[str, ...], said: str) -> None:
    done = xref(*args)
    plainly_refused(done)
    assert said in done.stderr


@pytest.mark.parametrize("text", ["62\udc8004", "62\x1b[31m04"], ids=["surrogate", "escape"])
def test_refusal_is_as_plain_from_a_process_of_its_own(process: Run, text: str) -> None:
    plainly_refused(process("identify", "--mark", text))
