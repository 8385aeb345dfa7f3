"""Several numbers or models in one cell are parted, and one that only looks like it is not."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest

from xref.services.lists import Imported
from xref.services.lists.export import export_file
from xref.services.lists.link_book import LinkBook
from xref.services.lists.machines_named import MachinesNamed
from xref.services.lists.several import numbers_in
from xref.services.open import OpenStore
from xref.sheets.machine_cell import Fit
from xref.standards.lookup import find
from xref.store.open.engine import open_engine
from xref.store.read.links import applicabilities, interchanges, steps_forward
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.write.bulk import BulkWriter


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[OpenStore]:
    """A store with one standard's row in it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("xref.store.open.seed.standard_parts", lambda: find("6204"))
        store = open_engine(tmp_path / "store.xref")
    yield OpenStore(store)
    store.close()


def bring(opened: OpenStore, folder: Path, *rows: Sequence[str]) -> Imported:
    path = folder / "parts.csv"
    with path.open("w", encoding="utf-8", newline="") as stream:
        csv.writer(stream).writerows(rows)
    return opened.import_file(path)


@contextmanager
def held(opened: OpenStore) -> Iterator[LinkBook]:
    """What the cells of a list are parted by."""
    with opened.store.writing("import") as unit:
        yield LinkBook(BulkWriter(unit), ())


@pytest.mark.parametrize(
    ("cell", "names", "together"),
    [
        ("QF-1; QF-2", ("QF-1", "QF-2"), False),
        ("QF-1, QF-2", ("QF-1", "QF-2"), False),
        ("QF-1 or QF-2", ("QF-1", "QF-2"), False),
        ("QF-1\nQF-2", ("QF-1", "QF-2"), False),
        ("QF-1 und QF-2", ("QF-1", "QF-2"), True),
        ("QF-1 + QF-2", ("QF-1", "QF-2"), True),
        ("QF-1 oder QF-2", ("QF-1", "QF-2"), False),
        ("QF-1; QF-1", ("QF-1",), False),
        ("QF-1;", ("QF-1",), False),
        (" ; ", (), False),
        ("QF-1 [with-work, one way]", ("QF-1 [with-work, one way]",), False),
        ("QF-1 [same]; QF-2", ("QF-1 [same]", "QF-2"), False),
        ("1,250", ("1,250",), False),
        ("QF 1+2", ("QF 1+2",), False),
    ],
)
def test_numbers_in_a_cell_are_parted(
    opened: OpenStore, cell: str, names: tuple[str, ...], together: bool
) -> None:
    with held(opened) as book:
        assert numbers_in(book.names, [cell]) == (names, together)


@pytest.mark.parametrize(
    ("cell", "names"),
    [
        ("QF 1;2", ("QF 1;2",)),
        ("Quillfeather:QF 1;2", ("Quillfeather:QF 1;2",)),
        ("QF 1;2 [same]", ("QF 1;2 [same]",)),
        ("QF 1;2 | QF-3", ("QF 1;2", "QF-3")),
        ("QF 1;2 and QF-3; QF-4", ("QF 1;2", "QF-3", "QF-4")),
        ("QF 1;3", ("QF 1", "3")),
        ("QF1; 2", ("QF1", "2")),
    ],
)
def test_known_number_with_such_a_sign_in_it_is_left_whole(
    opened: OpenStore, tmp_path: Path, cell: str, names: tuple[str, ...]
) -> None:
    bring(opened, tmp_path, ("Part No.", "Maker"), ("QF 1;2", "Quillfeather"))
    with held(opened) as book:
        assert numbers_in(book.names, [cell]).names == names


def test_number_that_stands_in_a_later_row_is_known_too(opened: OpenStore, tmp_path: Path) -> None:
    bring(opened, tmp_path, ("Part No.", "Replaced by"), ("QF-9", "QF 1;2"), ("QF 1;2", ""))
    with opened.store.reading() as conn:
        old = resolve(conn, "QF-9")
        [step] = steps_forward(conn, [old.id])[old.id]
        assert [p.number for p in load_parts(conn, [i for i, _ in step.news])] == ["QF 1;2"]


def test_models_in_a_cell_each_get_the_range(opened: OpenStore, tmp_path: Path) -> None:
    heading = ("Part No.", "Model", "Serial from", "Qty")
    bring(opened, tmp_path, heading, ("QF-9", "Whimbrel; Garganey", "QW101", "2"))
    with opened.store.reading() as conn:
        found = applicabilities(conn, [resolve(conn, "QF-9").id])
    assert {(a.model, str(a.serials), a.quantity) for a in found} == {
        ("Whimbrel", "QW101-up", 2.0),
        ("Garganey", "QW101-up", 2.0),
    }
    again = bring(opened, tmp_path, heading, ("QF-9", "Whimbrel\nGarganey", "QW101", "2"))
    assert again.unchanged == 1


def test_known_model_with_such_a_sign_in_it_is_left_whole(opened: OpenStore) -> None:
    with opened.store.writing("machine add") as unit:
        from xref.store.write.link_unit import ensure_model

        ensure_model(unit, "Whimbrel; narrow")
        unit.commit()
    with held(opened) as book:
        machines = MachinesNamed(book.links)
        assert machines.read("Whimbrel; narrow").fits == [Fit("Whimbrel; narrow")]
        assert machines.read("Whimbrel; Garganey").fits == [Fit("Whimbrel"), Fit("Garganey")]


def test_interchange_one_way_comes_back_from_an_export(opened: OpenStore, tmp_path: Path) -> None:
    cell = "Dunmarrow:DM 881 [with-work, one way]"
    heading = ("Part No.", "Maker", "Interchange")
    bring(opened, tmp_path, heading, ("QF-9", "Quillfeather", cell))
    out = tmp_path / "out.csv"
    with opened.store.reading() as conn:
        [row] = interchanges(conn, [resolve(conn, "QF-9").id])
        exported = export_file(conn, out)
    assert (row.grade, row.both_ways) == ("with-work", False)
    again = opened.import_file(out)
    assert (again.unchanged, again.read) == (exported.rows, exported.rows)
