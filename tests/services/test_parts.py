"""The user's own parts and sources, as the commands use them."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xref.domain.part import Part, StoredSize
from xref.errors import AmbiguousError, InputError, NotFoundError
from xref.services.changing.parts import remove as remove_part
from xref.services.open import open_store
from xref.services.parts import part as parts
from xref.services.parts import source as sources
from xref.settings import FILE_NAME, VARIABLE, store_target
from xref.standards.lookup import find
from xref.store.open.engine import Store, open_engine
from xref.store.read.links import order_instead
from xref.store.read.queries import list_parts, resolve
from xref.store.write.unit import UnitOfWork

MM = 1_000_000


@pytest.fixture(scope="module")
def shared(seeded_path: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """One seeded store; every test here leaves its unit of work uncommitted."""
    store = open_engine(shutil.copy(seeded_path, tmp_path_factory.mktemp("parts") / "store.xref"))
    yield store
    store.close()


@pytest.fixture
def unit(shared: Store) -> Iterator[UnitOfWork]:
    """A unit of work that is rolled back at the end of the test."""
    with shared.writing("test") as opened:
        yield opened


def shown(unit: UnitOfWork, number: str, maker: str | None = None) -> Part:
    """The part as ``part show`` finds it."""
    return parts.show(unit.conn, number, maker)


def test_added_part_is_shown_as_it_was_typed(unit: UnitOfWork) -> None:
    added = parts.add(
        unit,
        " QF-2214 ",
        maker="Quillfeather",
        kind="cast",
        words="chain  case, left",
        sizes={"bore": "1-3/8in", "teeth": "17", "section": "3.53mm"},
    )
    found = shown(unit, "qf 2214")
    assert found == added
    assert (found.number, found.maker, found.kind) == ("QF-2214", "Quillfeather", "casting")
    assert found.words == "chain case, left"
    assert found.group == "own:QUILLFEATHER:QF-2214"
    assert found.sizes == {
        "bore": StoredSize(34_925_000),  # 1.375 × 25.4 mm
        "teeth": StoredSize(17),
        "section": StoredSize(3_530_000),
    }
    assert not found.is_standard


def test_json_of_a_part_is_in_millimetres_and_counts_as_they_are(unit: UnitOfWork) -> None:
    part = parts.add(unit, "QF-1", sizes={"bore": "1/2in", "teeth": "17"})
    document = parts.to_json(part)
    assert document["sizes"] == {"bore": 12.7, "teeth": 17}
    assert document["from"] == "store"
    assert document["number"] == "QF-1"


@pytest.mark.parametrize(
    ("number", "maker", "shared_group"),
    [
        ("6204", "", "bearing 6204"),
        ("62 04", "", "bearing 6204"),
        ("6204", "Quillfeather", None),
        ("6204X9", "", None),
        ("62040", "", None),
    ],
)
def test_only_a_bare_standard_number_shares_the_standards_group(
    unit: UnitOfWork, number: str, maker: str, shared_group: str | None
) -> None:
    added = parts.add(unit, number, maker=maker)
    standard = resolve(unit.conn, "6204", "").group if shared_group else ""
    assert (added.group == standard) is (shared_group is not None)
    assert added.group.startswith("own:") is (shared_group is None)
    if shared_group:
        assert added.kind == "bearing"
        assert added.type == "deep groove ball"


@pytest.mark.parametrize(
    ("number", "row"),
    [
        ("NU 204", "NU204"),
        ("62/22", "62/22"),
        ("6222", "6222"),
        ("M10", "M10"),
        ("R-8", "R8"),
        ("LM11949-LM11910", "LM11949/LM11910"),
    ],
)
def test_a_designation_is_the_row_of_its_key_or_a_bearing_spaced_otherwise(
    unit: UnitOfWork, number: str, row: str
) -> None:
    (standard,) = (p for p in find(row) if p.number == row)
    assert parts.add(unit, number).group == standard.group


@pytest.mark.parametrize("number", ["M-1", "A-38", "P-25", "S-2", "2-214", "51-104", "302-06"])
def test_a_makers_number_is_no_standard_row_because_they_fold_alike(
    unit: UnitOfWork, number: str
) -> None:
    added = parts.add(unit, number, words="pump")
    assert (added.kind, added.type, added.group) == ("", "", f"own::{number}")


def test_user_who_says_another_kind_means_another_thing(unit: UnitOfWork) -> None:
    assert parts.add(unit, "6204", kind="casting").group == "own::6204"


def test_own_part_that_shares_a_group_can_be_changed_and_removed(unit: UnitOfWork) -> None:
    parts.add(unit, "6204", words="jackshaft, drive side")
    changed = parts.change(unit, "6204", words="jackshaft")
    assert changed.words == "jackshaft"
    remove_part(unit, "6204")
    assert shown(unit, "6204").is_standard


def test_change_leaves_what_is_not_given(unit: UnitOfWork) -> None:
    parts.add(unit, "QF-1", kind="gear", words="chain wheel", sizes={"bore": "20mm", "teeth": "17"})
    parts.change(unit, "QF-1", status="superseded", sizes={"bore": "21mm"})
    found = shown(unit, "QF-1")
    assert (found.kind, found.words, found.status) == ("gear", "chain wheel", "superseded")
    assert found.sizes == {"bore": StoredSize(21 * MM), "teeth": StoredSize(17)}


@pytest.mark.parametrize("status", parts.STATUSES)
def test_every_status_can_be_set(unit: UnitOfWork, status: str) -> None:
    parts.add(unit, "QF-1")
    assert parts.change(unit, "QF-1", status=status).status == shown(unit, "QF-1").status == status


@pytest.mark.parametrize(
    "given",
    [
        {"status": "lost"},
        {"kind": "locomotive"},
        {"sizes": {"boar": "20mm"}},
        {"sizes": {"bore": "-20mm"}},
        {"sizes": {"bore": "nan"}},
        {"sizes": {"teeth": "17.5"}},
        {"words": "x" * 10_000},
        {"words": "chain\0case"},
    ],
    ids=str,
)
def test_what_cannot_be_kept_is_refused(
    unit: UnitOfWork, given: dict[str, str | dict[str, str]]
) -> None:
    parts.add(unit, "QF-1")
    with pytest.raises(InputError):
        parts.change(unit, "QF-1", **given)  # type: ignore[arg-type]


@pytest.mark.parametrize("number", ["", " ", "-", "QF\x00", "9" * 200, "\ud800"])
def test_what_is_no_number_cannot_be_added(unit: UnitOfWork, number: str) -> None:
    with pytest.raises(InputError):
        parts.add(unit, number)


@pytest.mark.parametrize("maker", ["Quill\0feather", "Q" * 500, "---"])
def test_what_is_no_name_cannot_be_a_maker(unit: UnitOfWork, maker: str) -> None:
    with pytest.raises(InputError):
        parts.add(unit, "QF-1", maker=maker)


def test_what_to_order_instead_is_kept_whole_or_refused(unit: UnitOfWork) -> None:
    parts.add(unit, "QF-1")
    longest = "kit QF-77 " + "x" * (parts.MOST_INSTEAD - 10)
    part = parts.change(unit, "QF-1", order_instead=longest)
    assert order_instead(unit.conn, part.id) == longest
    with pytest.raises(InputError, match="assembly or kit"):
        parts.change(unit, "QF-1", order_instead=longest + "x")


def test_second_part_of_the_same_key_is_refused(unit: UnitOfWork) -> None:
    parts.add(unit, "QF-1", maker="Quillfeather")
    with pytest.raises(InputError, match="already"):
        parts.add(unit, "qf 1", maker="QUILLFEATHER")
    parts.add(unit, "QF-1", maker="Dunmarrow")
    with pytest.raises(AmbiguousError):
        shown(unit, "QF-1")
    assert shown(unit, "QF-1", "Dunmarrow").maker == "Dunmarrow"


def test_standards_rows_cannot_be_changed_or_removed(unit: UnitOfWork) -> None:
    with pytest.raises(InputError, match="is a row of"):
        parts.change(unit, "6204", words="mine")
    with pytest.raises(InputError, match="is a row of"):
        remove_part(unit, "6204")


def test_part_that_is_not_there_is_not_found(unit: UnitOfWork) -> None:
    with pytest.raises(NotFoundError):
        shown(unit, "QW-NOTHING-LIKE-IT")


def test_sources_are_listed_by_title_and_kept_once(unit: UnitOfWork) -> None:
    assert (
        sources.add(unit, " Whimbrel  parts book ", "1951", "parts book", "")
        == "Whimbrel parts book 1951"
    )
    sources.add(unit, "Whimbrel parts book", "1938", "parts book", "")
    sources.add(unit, "Dunmarrow list", "", "", "spares")
    rows = sources.every(unit.conn)
    assert [row[1:3] for row in rows] == [
        ("Dunmarrow list", ""),
        ("Whimbrel parts book", "1938"),
        ("Whimbrel parts book", "1951"),
    ]
    assert sources.to_json(rows)["sources"][0]["note"] == "spares"
    with pytest.raises(InputError, match="already"):
        sources.add(unit, "Whimbrel parts book", "1951", "", "")


def test_part_names_a_source_and_one_that_is_not_there_is_made_and_said_to_be_new(
    unit: UnitOfWork,
) -> None:
    sources.add(unit, "Whimbrel parts book", "1951", "", "")
    parts.add(unit, "QF-1", source="Whimbrel parts book 1951")
    parts.add(unit, "QF-2", source="Lost book")
    assert any("Lost book" in str(news) for news in unit.news)


def test_title_in_two_editions_must_say_which(unit: UnitOfWork) -> None:
    sources.add(unit, "Whimbrel parts book", "1951", "", "")
    sources.add(unit, "Whimbrel parts book", "1938", "", "")
    with pytest.raises(AmbiguousError, match="2 editions"):
        parts.add(unit, "QF-2", source="Whimbrel parts book")


def test_units_left_open_above_left_nothing(shared: Store) -> None:
    with shared.reading() as conn:
        assert list_parts(conn) == []
        assert sources.every(conn) == []


def test_store_is_the_option_then_the_variable_then_the_data_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv(VARIABLE, "from-variable.xref")
    assert store_target("given.xref") == "given.xref"
    assert store_target(None) == "from-variable.xref"
    monkeypatch.delenv(VARIABLE)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert store_target(None).endswith(FILE_NAME)


def test_open_store_makes_it_says_so_and_shuts_it(tmp_path: Path) -> None:
    path = tmp_path / "store.xref"
    with open_store(str(path)) as opened:
        assert any("made a new store" in notice for notice in opened.notices)
    with open_store(str(path)) as opened:
        assert opened.notices == ()
    assert [p.name for p in tmp_path.iterdir()] == ["store.xref"]
