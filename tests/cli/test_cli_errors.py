"""A store that cannot be used is said in two lines at most, with exit 3, and is not touched."""

from __future__ import annotations

import json
import sqlite3
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from xref.cli.app import main

Run = Callable[..., subprocess.CompletedProcess[str]]


def folder(path: Path) -> Path:
    """A folder where a file should be."""
    path.unlink()
    path.mkdir()
    return path


def prose(path: Path) -> Path:
    """A text file."""
    path.write_text("QW 312, jackshaft chain case\n")
    return path


def foreign(path: Path) -> Path:
    """A database of some other program."""
    path.unlink()
    conn = sqlite3.connect(path)
    conn.execute("CREATE TABLE locomotive (number TEXT)")
    conn.commit()
    conn.close()
    return path


def beneath(path: Path) -> Path:
    """A path that goes through a file."""
    return path / "store.xref"


def newer(path: Path) -> Path:
    """A store whose layout this version does not know."""
    conn = sqlite3.connect(path)
    conn.execute("UPDATE alembic_version SET version_num = '9999'")
    conn.commit()
    conn.close()
    return path


def files_in(path: Path) -> dict[str, bytes]:
    """Every file below ``path`` with its bytes."""
    return {str(p): p.read_bytes() for p in path.rglob("*") if p.is_file()}


SPOILT = pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (folder, "is a folder"),
        (prose, "is not a store"),
        (foreign, "another program"),
        (beneath, "a part of that path is a file"),
        (newer, "newer version"),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
COMMANDS = pytest.mark.parametrize(
    "command",
    [
        ("identify", "--mark", "6204"),
        ("part", "show", "6204"),
        ("part", "add", "QF-1"),
        ("source", "list"),
    ],
    ids=lambda command: " ".join(command[:2]),
)


@SPOILT
@COMMANDS
def test_unusable_store_is_exit_three_and_untouched(
    xref: Run, store: Path, spoil: Callable[[Path], Path], said: str, command: tuple[str, ...]
) -> None:
    target = spoil(store)
    before = files_in(store.parent)
    done = xref("--store", str(target), *command)
    assert (done.returncode, done.stdout) == (3, "")
    assert done.stderr.startswith("xref: ")
    assert said in done.stderr
    assert done.stderr.count("\n") in (1, 2)
    assert files_in(store.parent) == before


@SPOILT
def test_unusable_store_in_json_is_one_document_of_kind_store(
    xref: Run, store: Path, spoil: Callable[[Path], Path], said: str
) -> None:
    done = xref("--store", str(spoil(store)), "identify", "--json", "--mark", "6204")
    assert done.returncode == 3
    error = json.loads(done.stdout)["error"]
    assert error.keys() == {"kind", "message", "hint"}
    assert error["kind"] == "store"
    assert said in error["message"]
    assert error["hint"]


def test_unusable_store_is_exit_three_from_a_process_of_its_own(process: Run, store: Path) -> None:
    done = process("--store", str(prose(store)), "identify", "--mark", "6204")
    assert (done.returncode, done.stdout) == (3, "")
    assert "Traceback" not in done.stderr
    assert store.read_text() == "QW 312, jackshaft chain case\n"


def test_variable_names_the_store_where_no_option_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "by variable.xref"
    monkeypatch.setenv("XREF_STORE", str(path))
    assert main(["part", "show", "6204"]) == 0
    said = capsys.readouterr()
    assert said.out.startswith("6204, ISO 15\n")
    assert said.err == f"xref: made a new store at {path}, with the standards' tables in it\n"
    assert path.is_file()
    assert main(["part", "show", "6204"]) == 0
    assert capsys.readouterr().err == ""


def test_variable_that_names_no_store_is_exit_three(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("XREF_STORE", str(tmp_path))
    assert main(["identify", "--mark", "6204"]) == 3
    assert "is a folder" in capsys.readouterr().err


def test_decode_needs_no_store(xref: Run, store: Path) -> None:
    done = xref("--store", str(prose(store)), "decode", "6204")
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout


ODD = {
    "lone surrogate": "b\udc80",
    "half a pair": "\ud83d",
    "escape": "\x1b[31m",
    "line break": "one\ntwo",
    "nul": "a\x00b",
    "turned around": "\u202ecsv",
}


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
@pytest.mark.parametrize(
    ("args", "code"),
    [
        (("identify", "--json", "--mark", "6204", "--kind={}"), 2),
        (("identify", "--json", "--from={}"), 3),
        (("part", "list", "--json", "--kind={}"), 2),
        (("--store=STORE/{}", "source", "list", "--json"), 3),
        (("part", "show", "--json", "--no-such-{}"), 2),
        (("part", "{}", "--json"), 2),
    ],
    ids=["kind", "file", "kind of a list", "store", "option", "command"],
)
def test_what_no_encoding_can_write_is_made_visible_in_one_document(
    xref: Run, store: Path, args: tuple[str, ...], code: int, text: str
) -> None:
    done = xref(*(arg.format(text).replace("STORE", str(store)) for arg in args))
    assert done.returncode == code
    assert done.stdout.count("\n") == 1
    document = json.loads(done.stdout.encode())
    assert document["error"]["message"].isprintable()
    assert all(line.isprintable() for line in done.stderr.splitlines())
    assert done.stderr.count("\n") in (1, 2)
    assert "inside xref" not in done.stderr


@pytest.mark.parametrize("option", ["--kind", "--from"])
def test_lone_surrogate_is_one_document_from_a_process_of_its_own(
    process: Run, option: str
) -> None:
    """The byte 80 alone is no UTF-8: Python hands it on as the lone surrogate U+DC80."""
    more = () if option == "--from" else ("--mark", "6204")
    done = process("identify", "--json", *more, option, "b\udc80")
    assert done.returncode == (3 if option == "--from" else 2)
    assert "b\\xdc80" in json.loads(done.stdout)["error"]["message"]
    assert "b\\xdc80" in done.stderr


@pytest.mark.parametrize(
    ("args", "end"),
    [(("part", "shwo"), "'show'?\n"), (("part", "show", "ZZ9ZZ9ZZ9"), '"ZZ9ZZ9ZZ9".\n')],
    ids=["question", "statement"],
)
def test_message_ends_in_one_sign(xref: Run, args: tuple[str, ...], end: str) -> None:
    first = xref(*args).stderr.splitlines(keepends=True)[0]
    assert first.endswith(end)


def test_fault_of_our_own_is_one_line_and_keeps_the_store(
    xref: Run, store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fault(*_: object, **__: object) -> None:
        raise ZeroDivisionError("one\nover nothing")

    before = store.read_bytes()
    monkeypatch.setattr("xref.services.parts.part.own_part", fault)
    done = xref("part", "add", "QF-1")
    assert (done.returncode, done.stdout) == (3, "")
    assert done.stderr.startswith("xref: something went wrong inside xref (ZeroDivisionError: ")
    assert done.stderr.count("\n") == 2
    assert store.read_bytes() == before
