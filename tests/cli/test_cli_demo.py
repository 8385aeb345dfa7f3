"""The demo walks the main job in a store of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from xref.cli.app import main
from xref.services.demo import walk


def test_the_demo_walks_every_step_and_leaves_the_users_store_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own.xref"
    monkeypatch.setenv("XREF_STORE", str(own))
    assert main(["demo"]) == 0
    said = capsys.readouterr().out
    assert said.count("$ xref ") == len(walk())
    assert not own.exists()


def test_the_demo_finds_the_chain_case_that_the_book_does_not_list(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["demo"]) == 0
    said = capsys.readouterr().out
    assert "It is QF-4471" in said
    assert "Cast in 1958, after the machine was built in 1952: a later part." in said
    assert "62O62R5 against 6206" in said
    assert "1204" in said
    assert "Not offered on size alone (shear pin, jackshaft drive)" in said
    assert "30206" in said
