"""Whether a part is listed for a machine: listed, not listed or unknown, and because of what."""

from __future__ import annotations

import pytest

from xref.domain.belongs import LISTED, NOT_KNOWN, NOT_LISTED, judge
from xref.domain.machine import TRIED, WORKS, Applicability, Machine, MachineSerial
from xref.domain.serial import read_serials

BOOK, LETTERS = "Whimbrel Parts Book 1951", "Whimbrel Service Letters 1958"


def whimbrel(serial: str = "QW312", prefixes: tuple[str, ...] = (), **others: str) -> Machine:
    serials = {WORKS: serial, **others}
    held = {component: MachineSerial(text) for component, text in serials.items()}
    return Machine("QW 312", "Whimbrel", "Quillfeather", prefixes, held)


def entry(
    serials: str,
    *,
    fits: bool = True,
    source: str = BOOK,
    model: str = "Whimbrel",
    component: str = WORKS,
) -> Applicability:
    return Applicability(1, model, component, read_serials(serials), fits, source=source)


@pytest.mark.parametrize(
    ("entries", "verdict", "because"),
    [
        (
            [entry("QW101-QW349")],
            LISTED,
            "is listed for Whimbrel QW101-QW349, by Whimbrel Parts Book 1951",
        ),
        ([entry("all")], LISTED, "is listed for Whimbrel all"),
        ([entry("QW350-up")], NOT_LISTED, "is listed only for Whimbrel QW350-up"),
        ([entry("QW101-QW349 exc. QW312")], NOT_LISTED, "is listed only for"),
        (
            [entry("QW350-QW400"), entry("QW450-up")],
            NOT_LISTED,
            "QW350-QW400, by Whimbrel Parts Book 1951; Whimbrel QW450-up",
        ),
        ([entry("QW300-QW320", fits=False)], NOT_LISTED, "on record as not fitting Whimbrel QW300"),
        ([entry("QW350-up", fits=False)], NOT_KNOWN, "nothing on record says where"),
        ([], NOT_KNOWN, "nothing on record says where QF-2214 is listed on a Whimbrel"),
        ([entry("QW101-up", model="Dotterel")], NOT_KNOWN, "nothing on record says where"),
        (
            [entry("101-349")],
            NOT_KNOWN,
            "cannot be compared with those of QW 312, the letters differ: 101-349 against QW312",
        ),
        ([entry("QX1-QX90")], NOT_KNOWN, "cannot be compared"),
        (
            [entry("E1000-up", component="engine")],
            NOT_KNOWN,
            "listed by engine serial, and QW 312 has none on record",
        ),
        ([entry("QW350-up"), entry("E1000-up", component="engine")], NOT_KNOWN, "engine serial"),
        ([entry("QW350-up"), entry("QX1-up", source=LETTERS)], NOT_KNOWN, "cannot be compared"),
        ([entry("all", component="engine")], LISTED, "is listed for Whimbrel all (engine serials)"),
    ],
)
def test_a_verdict_has_its_because(
    entries: list[Applicability], verdict: str, because: str
) -> None:
    told = judge("QF-2214", entries, whimbrel())
    assert told.verdict == verdict
    assert because in told.because


def test_each_component_is_compared_by_its_own_serial_only() -> None:
    machine = whimbrel("QW312", engine="E1187")
    assert judge("P", [entry("E1000-E1200", component="engine")], machine).verdict == LISTED
    assert judge("P", [entry("E1188-up", component="engine")], machine).verdict == NOT_LISTED
    assert judge("P", [entry("E1000-E1200")], machine).verdict == NOT_KNOWN
    assert judge("P", [entry("QW1-QW999", component="engine")], machine).verdict == NOT_KNOWN


def test_the_order_of_build_is_that_of_works_serials() -> None:
    machine = whimbrel("QW312", ("QV", "QW"), engine="QW5")
    assert judge("P", [entry("QV90-up")], machine).verdict == LISTED
    assert judge("P", [entry("to QV90")], machine).verdict == NOT_LISTED
    assert judge("P", [entry("QV90-up", component="engine")], machine).verdict == NOT_KNOWN


def test_a_bare_works_serial_has_the_models_only_prefix() -> None:
    assert judge("P", [entry("QW101-QW349")], whimbrel("312", ("QW",))).verdict == LISTED
    assert judge("P", [entry("QW101-QW349")], whimbrel("312", ("QV", "QW"))).verdict == NOT_KNOWN
    assert judge("P", [entry("QW101-QW349")], whimbrel("312")).verdict == NOT_KNOWN


def test_sources_that_contradict_each_other_are_both_kept_and_shown() -> None:
    told = judge("P", [entry("QW350-up", source=LETTERS), entry("QW101-QW349")], whimbrel())
    assert told.verdict == LISTED
    assert len(told.ranges) == 2
    (remark,) = told.remarks
    assert remark.startswith("the sources disagree")
    assert BOOK in remark
    assert LETTERS in remark


def test_sources_that_differ_are_shown_where_neither_lists_the_machine() -> None:
    told = judge("P", [entry("QW101-QW200"), entry("QW101-QW250", source=LETTERS)], whimbrel())
    assert told.verdict == NOT_LISTED
    assert any(r.startswith("the sources give different ranges") for r in told.remarks)


def test_one_source_with_two_ranges_is_no_conflict() -> None:
    assert judge("P", [entry("QW101-QW200"), entry("QW300-QW330")], whimbrel()).remarks == ()


def test_a_record_that_it_does_not_fit_is_shown_beside_the_listing() -> None:
    told = judge(
        "P", [entry("QW101-QW349"), entry("QW310-QW315", fits=False, source="")], whimbrel()
    )
    assert told.verdict == LISTED
    assert any("as not fitting" in r for r in told.remarks)


@pytest.mark.parametrize(
    ("serial", "near"), [("QW345", True), ("QW349", True), ("QW352", True), ("QW312", False)]
)
def test_near_a_break_old_stock_is_named(serial: str, near: bool) -> None:
    told = judge("P", [entry("QW101-QW349")], whimbrel(serial))
    assert any("used up old stock" in r for r in told.remarks) == near


def test_the_document_says_of_each_range_what_it_holds() -> None:
    machine = whimbrel()
    told = judge("P", [entry("QW101-QW349"), entry("QX1-up")], machine).to_json(machine)
    assert {"verdict", "because", "ranges"} <= set(told)
    assert [r["holds"] for r in told["ranges"]] == ["in", "unknown"]


@pytest.mark.parametrize(
    ("entries", "side"),
    [
        ([entry("QW350-up")], "later"),
        ([entry("to QW300"), entry("QW101-QW200")], "earlier"),
        ([entry("QW101-QW200"), entry("QW350-up")], ""),
        ([entry("QW101-QW349 exc. QW312")], ""),
        ([entry("QX1-up")], "later"),
        ([entry("QV1-QV99")], "earlier"),
        ([entry("QW350-up"), entry("QW312", fits=False)], ""),
        ([entry("QW101-up")], ""),
    ],
)
def test_a_part_that_is_not_listed_is_said_to_be_earlier_or_later_where_that_is_so(
    entries: list[Applicability], side: str
) -> None:
    machine = whimbrel(prefixes=("QV", "QW", "QX"))
    assert judge("QF-4471", entries, machine).beside(machine) == side


def test_a_misfit_that_was_tried_outranks_the_book_unless_it_fitted_as_well() -> None:
    book, misfit = entry("QW101-up"), entry("QW312", fits=False, source=TRIED)
    told = judge("QF-4471", [book, misfit], whimbrel())
    assert told.verdict == NOT_LISTED
    assert told.because.endswith("as not fitting Whimbrel QW312, tried on the bench")
    assert any("both as listed" in remark for remark in told.remarks)
    fitted = entry("QW312", source=TRIED)
    assert judge("QF-4471", [book, misfit, fitted], whimbrel()).verdict == LISTED
    assert judge("QF-4471", [book, misfit], whimbrel("QW313")).verdict == LISTED
