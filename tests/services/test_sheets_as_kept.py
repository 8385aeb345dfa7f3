"""What a careful person takes from a sheet is what an import takes, or it is asked or kept."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fixtures.kept_sheets import SHEETS, Kept
from fixtures.seen import seen_xlsx
from xref.errors import FileError
from xref.services.links.facts import Facts, facts_of
from xref.services.open import OpenStore
from xref.standards.lookup import find
from xref.store.open.engine import open_engine
from xref.store.write.sheet_facts import own_ids


@pytest.fixture(scope="module")
def seeded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A store with one standard's row in it, to be copied."""
    path = tmp_path_factory.mktemp("seeded") / "store.xref"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("xref.store.open.seed.standard_parts", lambda: find("6204"))
        open_engine(path).close()
    return path


def _says(facts: Facts, field: str) -> list[str]:
    part = facts.part
    fitting = [a for a in facts.applies if a.fits]
    texts = {
        "words": [part.words],
        "kind": [part.kind],
        "maker": [part.maker],
        "model": [a.model for a in fitting],
        "serials": [f"{a.model} @ {a.serials}" for a in fitting],
        "replaced by": [n.split(":")[-1] for s in facts.steps for n in s.news],
        "interchange": [i.number.split(":")[-1] for i in facts.interchanges],
        "assembly": [a.assembly for a in fitting],
        "quantity": [f"{a.quantity:g}" for a in fitting if a.quantity],
        "price": [p.price for p in facts.prices],
        "currency": [p.currency for p in facts.prices],
    }
    kept = [(e.label, e.value) for e in facts.extras]
    if field == "kept":
        return [value for _, value in kept]
    return texts.get(field, []) + [value for label, value in kept if label == field]


def _holds(stored: dict[str, Facts], number: str, field: str, value: object) -> bool:
    if field == "absent":
        return number not in stored
    if field == "replaces":
        old = stored.get(str(value))
        return old is not None and number in _says(old, "replaced by")
    facts = stored[number]
    sizes = {name: held.value / 1e6 for name, held in facts.part.sizes.items()}
    if field.startswith("no "):
        return field[3:] not in sizes and value not in _says(facts, field[3:])
    if isinstance(value, int | float):
        return sizes.get(field) == value
    return value in _says(facts, field)


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_sheet_is_understood_as_a_careful_person_does(
    seeded: Path, tmp_path: Path, sheet: Kept
) -> None:
    path = tmp_path / "parts.csv"
    path.write_text(sheet.text, "utf-8")
    opened = OpenStore(open_engine(shutil.copy(seeded, tmp_path / "store.xref")))
    asked = [str(value) for _, field, value in sheet.facts if field == "asked"]
    if asked:
        with pytest.raises(FileError, match=asked[0]):
            opened.import_file(path)
    else:
        assert opened.import_file(path).rejected == 0
        with opened.store.reading() as conn:
            stored = {f.part.number: f for f in facts_of(conn, own_ids(conn))}
        assert [fact for fact in sheet.facts if not _holds(stored, *fact)] == []
    opened.store.close()


def test_what_is_seen_in_a_workbook_is_kept_or_said(seeded: Path, tmp_path: Path) -> None:
    path = tmp_path / "seen.xlsx"
    seen_xlsx(path)
    opened = OpenStore(open_engine(shutil.copy(seeded, tmp_path / "store.xref")))
    done = opened.import_file(path)
    with opened.store.reading() as conn:
        stored = {f.part.number: f for f in facts_of(conn, own_ids(conn))}
    assert (2, "struck through") in {(f.row, f.kind) for f in done.findings}
    assert {(f.row, f.kind) for f in done.findings} >= {(4, "formula"), (5, "hidden")}
    assert stored.keys() >= {"XL 1", "XL 3", "XL 4", "XL 5"}
    assert not stored.keys() & {"XL 2 XL 3", "XL 2", "XL 9"}
    assert [p.currency for p in stored["XL 1"].prices] == ["£"]
    assert "fits badly" in _says(stored["XL 4"], "kept")
    assert "red = to be ordered" in _says(stored["XL 5"], "kept")
    opened.store.close()
