"""Newer tables bring the standards' rows up to date and leave the user's own as they are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import func, select

from xref.domain.part import Part, PartMark, Spelling, StoredSize
from xref.errors import NotFoundError
from xref.store.index.tally import stored_tally, tally_of
from xref.store.open.engine import open_engine
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.tables.tables import boundary, part, spelling

MM = 1_000_000
Tables = Callable[[list[Part], str], None]


def row(number: str, width: int = 14, maker: str = "ISO 15") -> Part:
    """A small table's row."""
    sizes = {
        name: StoredSize(v * MM) for name, v in (("bore", 20), ("outside", 47), ("width", width))
    }
    return Part(
        number,
        maker,
        "bearing",
        f"bearing {number}",
        "standard",
        1.0,
        type="deep groove ball",
        words="deep groove ball bearing",
        sizes=sizes,
        spellings=(Spelling(number, takes_suffix=True),),
        tables_agreeing=3,
    )


OWN = Part(
    "QF-7",
    "Quillfeather",
    "bearing",
    "bearing 6204",
    "store",
    4.0,
    words="jackshaft bearing",
    sizes={"bore": StoredSize(20 * MM)},
    spellings=(Spelling("QF-7"),),
)


def test_refresh_changes_the_figures_and_keeps_ids_and_own_rows(
    tmp_path: Path, tables: Tables
) -> None:
    path = tmp_path / "store.xref"
    tables([row("6204"), row("6205"), row("6206")], "1")
    store = open_engine(path)
    with store.writing("add") as unit:
        own = unit.add_part(OWN)
        linked = resolve(unit.conn, "6206").id
        unit.add_mark(linked, PartMark("QW 312", "number"))
        unit.commit()
    with store.reading() as conn:
        first = resolve(conn, "6204").id
        (own_before,) = load_parts(conn, [own])
    store.close()

    tables([row("6204", width=16), row("6207")], "2")
    store = open_engine(path)
    assert any("up to date" in notice for notice in store.notices)
    with store.reading() as conn:
        changed = resolve(conn, "6204", "ISO 15")
        assert (changed.id, changed.sizes["width"].value) == (first, 16 * MM)
        assert resolve(conn, "6207").is_standard
        with pytest.raises(NotFoundError):
            resolve(conn, "6205")
        kept = resolve(conn, "6206")
        assert (kept.id, kept.status) == (linked, "mentioned")
        assert resolve(conn, "QW312").id == linked
        assert load_parts(conn, [own]) == [own_before]
        every = load_parts(conn, list(conn.scalars(select(part.c.id))))
        whole = {figure: float(n) for figure, n in tally_of(every).items() if abs(n) > 1e-9}
        assert stored_tally(conn) == pytest.approx(whole)
        assert conn.scalar(select(func.count()).select_from(spelling)) == 5
    store.close()
    assert open_engine(path).notices == []


def test_row_that_comes_back_is_current_again_under_its_old_id(
    tmp_path: Path, tables: Tables
) -> None:
    path = tmp_path / "store.xref"
    tables([row("6204"), row("6205")], "1")
    store = open_engine(path)
    with store.writing("mark") as unit:
        ident = resolve(unit.conn, "6205").id
        unit.add_mark(ident, PartMark("C 1187", "casting"))
        unit.commit()
    store.close()
    for version, parts, status in (
        ("2", [row("6204")], "mentioned"),
        ("3", [row("6205")], "current"),
    ):
        tables(parts, version)
        store = open_engine(path)
        with store.reading() as conn:
            found = resolve(conn, "6205")
        assert (found.id, found.status, found.marks) == (
            ident,
            status,
            (PartMark("C 1187", "casting"),),
        )
        store.close()


def test_new_standard_that_is_named_as_a_users_maker_never_displaces_the_users_part(
    tmp_path: Path, tables: Tables
) -> None:
    path = tmp_path / "store.xref"
    tables([row("6204")], "1")
    store = open_engine(path)
    with store.writing("add") as unit:
        own = unit.add_part(replace(OWN, number="6300", maker="iso  999", group="own:x"))
        unit.commit()
    store.close()
    tables([row("6204"), row("6300", maker="ISO 999"), row("6301", maker="ISO 999")], "2")
    store = open_engine(path)
    with store.reading() as conn:
        assert resolve(conn, "6300").id == own
        assert resolve(conn, "6301").is_standard
    store.close()


def test_boundary_dimensions_that_nothing_has_any_more_are_dropped(
    tmp_path: Path, tables: Tables
) -> None:
    path = tmp_path / "store.xref"
    for version, width in (("1", 14), ("2", 16)):
        tables([row("6204", width=width)], version)
        store = open_engine(path)
        with store.reading() as conn:
            assert list(conn.scalars(select(boundary.c.width))) == [width * MM]
        store.close()


def test_refresh_of_all_shipped_rows_says_so_and_keeps_their_ids(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def rows() -> tuple[list[tuple[int, str]], list[str]]:
        store = open_engine(path)
        with store.reading() as conn:
            found = conn.execute(select(part.c.id, part.c.number).order_by(part.c.id)).all()
        store.close()
        return [(ident, number) for ident, number in found], store.notices

    before, quiet = rows()
    monkeypatch.setattr("xref.standards.version.TABLES_VERSION", "another")
    monkeypatch.setattr("xref.store.open.seed.TABLES_VERSION", "another")
    after, said = rows()
    assert quiet == []
    assert any("up to date" in notice for notice in said)
    assert len(before) > 1000
    assert after == before
