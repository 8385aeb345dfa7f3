"""``part show`` prints everything that is on record of a part, each fact with its source."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from xref.render.card import card_json, card_text
from xref.services.bench import bench as benching
from xref.services.bench import wanted as wanting
from xref.services.card import Card, card
from xref.services.links import applies as applying
from xref.services.links.interchange import interchange
from xref.services.links.supersede import supersede
from xref.services.open import OpenStore, open_store
from xref.services.parts import mark as marking
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.services.question import Asked
from xref.store.write.sheet_facts import Extra, Price, write_claims, write_extras, write_prices
from xref.store.write.unit import UnitOfWork

BOOK, LETTER, LIST = "Works Book", "Yard Letters", "Stock List"


@pytest.fixture(scope="module")
def opened(small: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenStore]:
    path = shutil.copy(small, tmp_path_factory.mktemp("card") / "s.xref")
    with open_store(str(path)) as store:
        with store.store.writing("fill") as unit:
            _fill(unit)
            unit.commit()
        yield store


def _fill(unit: UnitOfWork) -> None:
    for title in (BOOK, LETTER, LIST):
        sources.add(unit, title, "", "", "")
    held = parts.add(
        unit,
        "QF-3001",
        maker="Quillfeather",
        kind="bush",
        words="bush, reverser",
        sizes={"bore": "3/4in", "holes": "2"},
        source=BOOK,
    )
    parts.change(unit, "QF-3001", order_instead="kit K-9")
    marking.add(unit, "QF-3001", "QF 2999", "casting", source=LETTER)
    applying.applies(
        unit, "QF-3001", model="Dotterel", serials="DT10-DT90", quantity=4, source=BOOK
    )
    supersede(unit, "QF-3000", ["QF-3001"], source=LETTER, maker="Quillfeather")
    supersede(unit, "QF-3001", ["QF-3002"], source=LIST, serials="DT50")
    supersede(unit, "QF-4000", ["QF-4001"], companions=["QF-3001"], maker="Quillfeather")
    interchange(unit, "QF-3001", "Dunmarrow:D 31", grade="stated", one_way=True, source=LIST)
    write_extras(unit, [(held.id, Extra("Shelf", "B 4"))])
    write_claims(unit, [(held.id, "bore", "19 mm", 3)])
    write_prices(unit, [(held.id, Price("Dunmarrow", "2.50", "GBP"))])
    label = benching.add(unit, "left axlebox", Asked(marks=("QF 3001",)))
    benching.decide(unit, label, "QF-3001")
    wanting.add(unit, "QF-3001", supplier="Dunmarrow")


def _card(opened: OpenStore, number: str) -> Card:
    with opened.store.reading() as conn:
        return card(conn, number)


def _said(opened: OpenStore, number: str) -> str:
    return card_text(_card(opened, number), 200)


@pytest.mark.parametrize(
    "line",
    [
        "what        bush, reverser",
        "bore        19.05 mm (3/4 in)",
        "holes       2",
        "mark        QF 2999 (casting) (Yard Letters)",
        "order       kit K-9",
        "source      Works Book",
        "range       Dotterel DT10-DT90, 4 a machine (Works Book)",
        "later       QF-3001 → QF-3002, for DT50-up, Stock List",
        "earlier     QF-3000 → QF-3001, Yard Letters",
        "go with     QF-4000 → QF-4001, with QF-3001",
        "interchange serves for D 31 (Dunmarrow): stated (Stock List)",
        "price       Dunmarrow, 2.50 GBP",
        "or bore     19 mm (Stock List)",
        "kept        Shelf: B 4",
        "bench       label 1, left axlebox: QF-3001, not fitted yet",
    ],
)
def test_each_sort_of_fact_is_printed_with_where_it_is_from(opened: OpenStore, line: str) -> None:
    told = [re.sub(r" \[[a-z ]+ \d+\]$", "", x) for x in _said(opened, "QF-3001").splitlines()]
    assert f"  {line}" in told


def test_what_is_wanted_of_a_part_is_printed_with_the_supplier(opened: OpenStore) -> None:
    [line] = [x for x in _said(opened, "QF-3001").splitlines() if x.startswith("  wanted")]
    assert "QF-3001" in line
    assert "Dunmarrow" in line


def test_other_side_of_a_one_way_interchange_says_which_serves(opened: OpenStore) -> None:
    assert "QF-3001 (Quillfeather) serves for it: stated (Stock List)" in _said(opened, "D 31")


def test_json_of_a_part_has_every_sort_of_fact_with_its_source(opened: OpenStore) -> None:
    told = card_json(_card(opened, "QF-3001"))
    assert told["source"] == BOOK
    assert _sources(told["marks"]) == [LETTER]
    assert _sources(told["ranges"]) == [BOOK]
    assert _sources(told["chain"]["later"]) == [LIST]
    assert _sources(told["chain"]["earlier"]) == [LETTER]
    assert _sources(told["interchange"]) == [LIST]
    assert told["interchange"][0]["direction"] == "this for that"
    assert _sources(told["claims"]) == [LIST]
    assert [item["label"] for item in told["bench"]] == [1]
    assert [line["supplier"] for line in told["wanted"]] == ["Dunmarrow"]
    assert told["chain"]["go_with"][0]["with"] == ["QF-3001"]
    assert told["order_instead"] == "kit K-9"


def _sources(rows: list[dict[str, Any]]) -> list[str]:
    return [row["source"] for row in rows]


def test_another_number_of_the_same_thing_is_named(opened: OpenStore) -> None:
    with opened.store.writing("interchange") as unit:
        interchange(unit, "Dunmarrow:D 77", "6304", grade="same")
        unit.commit()
    assert "  same part   ISO 15:6304" in _said(opened, "D 77").splitlines()


def test_long_list_of_facts_is_cut_for_the_screen_and_whole_in_json(opened: OpenStore) -> None:
    with opened.store.writing("import") as unit:
        held = parts.add(unit, "QF-9000", maker="Quillfeather")
        write_extras(unit, [(held.id, Extra(f"Column {n}", "x", n)) for n in range(40)])
        unit.commit()
    found = _card(opened, "QF-9000")
    assert "… 10 more (--json has them all)" in card_text(found, 80)
    assert len(card_json(found)["extras"]) == 40
