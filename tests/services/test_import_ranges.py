"""Ranges of serials that a list gives beside a model: read, counted, or asked about."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from xref.domain.machine import Applicability
from xref.services.links import machine as machines
from xref.services.links.belongs import belongs
from xref.services.lists.imported import Imported
from xref.services.open import OpenStore
from xref.store.read.links import applicabilities
from xref.store.read.queries import resolve


def brought(opened: OpenStore, folder: Path, **cells: str) -> tuple[Imported, Applicability]:
    """What the import of one row says, and its one range."""
    path = folder / "list.csv"
    heading = {"Part no": "KR-100", "Model": "Dotterel", **cells}
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows([heading.keys(), heading.values()])
    done = opened.import_file(path)
    with opened.store.reading() as conn:
        (entry,) = applicabilities(conn, [resolve(conn, "KR-100").id])
    return done, entry


def verdict(opened: OpenStore, serial: str) -> str:
    with opened.store.writing("machine add") as unit:
        machines.add(unit, "Mine", model="Dotterel", serial=serial)
        unit.commit()
    with opened.store.reading() as conn:
        return belongs(conn, "KR-100", "Mine")[2].verdict


@pytest.mark.parametrize(
    "cells",
    [
        {"From": "the first", "To": "QD 9 or so"},
        {"Serials": "grey ones from 45??"},
        {"Masch.-Nr.": "etwa 4512"},
        {"Engine No": "see letter 45"},
    ],
    ids=str,
)
def test_a_range_that_was_not_understood_is_never_every_serial(
    bare: OpenStore, tmp_path: Path, cells: dict[str, str]
) -> None:
    done, entry = brought(bare, tmp_path, **cells)
    assert not entry.serials.every
    assert entry.serials.unread
    assert "serials" in {finding.kind for finding in done.findings}
    assert verdict(bare, "9999") == "unknown"


def test_the_two_ends_of_a_range_in_two_columns_are_read(bare: OpenStore, tmp_path: Path) -> None:
    _, entry = brought(bare, tmp_path, **{"Serial from": "100", "Serial to": "349"})
    assert str(entry.serials) == "100-349"
    assert verdict(bare, "9999") == "not listed"


def test_a_range_under_the_engines_number_counts_engines(bare: OpenStore, tmp_path: Path) -> None:
    done, entry = brought(bare, tmp_path, **{"Engine No": "4512 on"})
    assert (entry.component, str(entry.serials)) == ("engine", "4512-up")
    assert "serials" not in {finding.kind for finding in done.findings}
    assert verdict(bare, "9999") == "unknown"


def test_one_number_under_the_engines_number_may_be_anything_and_is_asked(
    bare: OpenStore, tmp_path: Path
) -> None:
    _, entry = brought(bare, tmp_path, **{"Engine No": "4512"})
    assert (entry.component, bool(entry.serials.unread)) == ("works", True)
