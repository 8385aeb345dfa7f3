"""A set whose member forks by serial is never asked for in part."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tests.cli.conftest import Done

Run = Callable[..., Done]


@pytest.fixture
def forked(xref: Run) -> Run:
    """QF-300 became QF-307 and QF-308, and QF-308 another number from QW350 on."""
    xref("supersede", "QF-300", "QF-307", "QF-308", "--as", "set", "--maker", "Quillfeather")
    xref("supersede", "QF-308", "QF-309", "--from-serial", "QW350", "--maker", "Quillfeather")
    xref("supersede", "QF-308", "QF-310", "--from-serial", "to QW349", "--maker", "Quillfeather")
    for name, serial in (("QW 312", "QW312"), ("QW 360", "QW360")):
        xref("machine", "add", name, "--model", "Whimbrel", "--serial", serial)
    xref("wanted", "add", "QF-300")
    return xref


def test_without_a_machine_one_line_says_that_one_must_be_named(forked: Run) -> None:
    page = forked("wanted", "sheet").stdout
    assert "| QF-300 (name a machine first: its serial decides what to ask for) |" in page
    told = " ".join(forked("equivalents", "QF-300").stdout.split())
    assert "depends on the serial: name a machine first" in told
    assert "sold as QF-307 now" not in told


@pytest.mark.parametrize(("machine", "member"), [("QW 312", "QF-310"), ("QW 360", "QF-309")])
def test_with_a_machine_the_sheet_asks_for_the_whole_set(
    forked: Run, machine: str, member: str
) -> None:
    page = forked("wanted", "sheet", "--machine", machine).stdout
    assert f"| QF-307 + {member} |" in page
