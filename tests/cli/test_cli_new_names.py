"""What the terminal says of a model, a component or a source that was not on record."""

from __future__ import annotations

import subprocess
from collections.abc import Callable

Run = Callable[..., subprocess.CompletedProcess[str]]


def test_the_near_model_and_source_are_named_beside_the_answer(xref: Run) -> None:
    words = ("--serials", "1-9")
    xref("applies", "Q-1", "--model", "Dotterel", *words, "--source", "Book of 1950")
    done = xref("applies", "Q-1", "--model", "Doterel", *words, "--source", "Bok of 1950")
    assert done.returncode == 0
    assert 'the model "Doterel" is new; near it on record: Dotterel.' in done.stderr
    assert 'the source "Bok of 1950" is new; near it on record: Book of 1950.' in done.stderr
    assert "new" not in done.stdout


def test_nothing_is_said_to_be_new_where_all_is_on_record(xref: Run) -> None:
    same = ("applies", "Q-1", "--model", "Dotterel", "--counts", "engine", "--serials", "1-9")
    assert "is new" in xref(*same).stderr
    assert "is new" not in xref(*same).stderr
