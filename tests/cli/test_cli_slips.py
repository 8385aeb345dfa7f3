"""Slips on the command line: what is wrong in one line, and in the next what to type instead."""

from __future__ import annotations

import subprocess
from collections.abc import Callable

import pytest

Run = Callable[..., subprocess.CompletedProcess[str]]

SLIPS = {
    "identify --bore --mark 62?4": ("--bore is empty", "Write something after it"),
    "identify --marc 62?4": ("no option --marc", "--mark"),
    "identify --size bor=3mm": ('no size is called "bor"', "Did you mean bore?"),
    "identify --mark 6204 --limit none": ('not "none"', "For example 1."),
    "identify --mark 6204 --built soon": ("no year can be seen", "four digits"),
    "identify --shaft 25mm": ("no option --shaft", "--size shaft=20mm"),
    "identify --teeth 17": ("no option --teeth", "--size teeth=17"),
    "part add X1 --length 20mm": ("no option --length", "--size length=20mm"),
    "identify --bore": ("nothing follows --bore", "Write something after it"),
    "part": ("needs one more word", "add, change, claim, kept, list, price, remove, show"),
    "part shw 6204": ("shw", "--help"),
    "part add X1 -9": ("no option -9", "after --"),
    "part change 6204": ("nothing to change", "--words"),
    "trace": ("NUMBER is missing", "xref trace QF-2214"),
    "belongs 6204": ("--machine is missing", "xref belongs"),
    "belongs 6204 --machine=": ("--machine is empty", "Write something after it"),
    "equivalents 6204 --bore 20mm": ("not both", "For example 6204"),
    "donor 6204 --assembly A": ("both given", "one or the other"),
    "applies 6204 --model Whimbrel --quantity some": ("no quantity", "such as 2"),
    "applies 6204 --model Whimbrel --serials banana": ('"BANANA" is not understood', "QW312-up"),
    "machine add M --model Whimbrel --serial QW1 --component works=QW2": (
        "given twice",
        "--serial",
    ),
    "machine add M --model Whimbrel --serial QW1 --component engine": ("NAME=VALUE", "--component"),
    "machine add --model Whimbrel --serial QW1 -- ''": (
        "machine name is empty",
        "something for it",
    ),
    "wanted add X --seen 2026-13-45": ("is no date", "2026-11-25"),
    "bench show three": ("LABEL takes a whole number", "For example 1."),
    "import parts.csv --units cm": ("--units takes mm or inch", "xref import --help"),
    "import parts.csv --map bore": ("COLUMN=FIELD", "Our no.=number"),
    "--store= part list": ("--store is empty", "Write something after it"),
}


@pytest.mark.parametrize("line", SLIPS)
def test_a_slip_is_answered_with_what_to_type(xref: Run, line: str) -> None:
    done = xref(*(word.strip("'") for word in line.split()))
    wrong, instead = done.stderr.splitlines()
    assert (done.returncode, done.stdout) == (2, "")
    assert SLIPS[line][0] in wrong
    assert SLIPS[line][1] in instead


@pytest.mark.parametrize(
    ("slip", "meant"),
    [("identfy", "identify"), ("bakcup", "backup"), ("restor", "restore"), ("chek", "check")],
)
def test_a_slip_in_a_command_is_answered_with_the_nearest(xref: Run, slip: str, meant: str) -> None:
    done = xref(slip)
    assert done.returncode == 2
    assert f"Did you mean {meant}?" in done.stderr


def test_a_slip_below_a_command_or_in_a_machine_is_answered_too(xref: Run) -> None:
    assert xref("part", "add", "QF-1").returncode == 0
    assert (
        xref("machine", "add", "QW 312", "--model", "Whimbrel", "--serial", "QW312").returncode == 0
    )
    done = xref("part", "shwo", "QF-1")
    assert done.returncode == 2
    assert "show" in done.stderr
    done = xref("belongs", "QF-1", "--machine", "QW 321")
    assert done.returncode == 1
    assert "Did you mean QW 312?" in done.stderr


def test_a_page_for_a_supplier_who_has_nothing_says_so(xref: Run) -> None:
    done = xref("wanted", "sheet", "--supplier", "Dunmarrow")
    assert (done.returncode, done.stdout) == (1, "Nothing is wanted from Dunmarrow.\n")


def test_only_options_that_resemble_the_slip_are_offered(xref: Run) -> None:
    hint = xref("identify", "--boar", "20mm").stderr.splitlines()[1]
    assert "Did you mean --bore? " in hint
