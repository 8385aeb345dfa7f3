"""Nothing that stands in the store is obeyed by the terminal that shows it."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import unicodedata
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.test_cli_screen import on_a_terminal
from xref.cli.streams import escaped, seen

Run = Callable[..., subprocess.CompletedProcess[str]]
OBEYED = "\x1b]0;title\x07 \x9b2J \u202eback \u2066in \u200bnone \x08\x08 \r over"


@pytest.fixture
def told(xref: Run, store: Path, tmp_path: Path) -> Path:
    """A store whose kept columns, prices, suppliers, sources and remarks hold what is not seen."""
    sheet = tmp_path / "a.csv"
    sheet.write_text(f'Part No,Description,Shelf\nQF-1,bush,"{OBEYED}"\n', newline="")
    xref("import", str(sheet))
    xref("source", "add", "the works book")
    xref("wanted", "add", "QF-1", "--supplier", "Dunmarrow")
    xref("bench", "add", "--note", "a plain note")
    with sqlite3.connect(store) as conn:
        conn.execute("UPDATE source SET title = title || ?", (OBEYED,))
        conn.execute("UPDATE wanted SET supplier = supplier || ?", (OBEYED,))
    conn.close()
    return store


UNSEEN = ("Cc", "Cf", "Zl", "Zp")

SHOWING = [("part", "show", "QF-1"), ("source", "list"), ("wanted", "list"), ("history",)]


@pytest.mark.parametrize("args", SHOWING, ids=" ".join)
def test_a_terminal_is_given_nothing_to_obey(told: Path, args: tuple[str, ...]) -> None:
    shown = on_a_terminal(told, *args).replace("\r\n", "\n")
    assert shown
    hidden = {c for c in shown if unicodedata.category(c) in UNSEEN} - {"\n"}
    assert hidden == set()


def test_what_is_hidden_in_a_title_is_seen_as_its_code(told: Path) -> None:
    shown = on_a_terminal(told, "source", "list")
    assert "\\x1b]0;title" in shown
    assert "\\u202eback" in shown


@pytest.mark.usefixtures("told")
def test_json_escapes_what_is_not_seen_and_reads_back_the_same(process: Run) -> None:
    out = process("source", "list", "--json").stdout
    assert "\u202e" not in out
    assert "\x9b" not in out
    assert any(OBEYED in row["title"] for row in json.loads(out)["sources"])


@given(st.text())
def test_nothing_that_is_seen_is_changed(text: str) -> None:
    shown = seen(text)
    assert all(c in "\n\t" or unicodedata.category(c) not in UNSEEN for c in shown)
    if all(unicodedata.category(c)[0] in "LNPS" or c in " \n\t" for c in text):
        assert shown == text


@given(st.text().filter(lambda text: text.isprintable() or "\u202e" in text))
def test_an_escaped_document_is_the_same_document(text: str) -> None:
    assert json.loads(escaped(json.dumps({"a": text}, ensure_ascii=False))) == {"a": text}
