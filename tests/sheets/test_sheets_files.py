"""Files with faults, written by a script or a real library: what is read of each, literally."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from fixtures import hostile, locked, workbooks
from xref.errors import FileError, NotFoundError
from xref.sheets.finding import MOST_OF_A_KIND, Findings
from xref.sheets.part_row import PartRow
from xref.sheets.reading import read_tables
from xref.sheets.rows import RowReader
from xref.sheets.sheet import Cell
from xref.sheets.text import TextRows, encoding_of, separator_of
from xref.sheets.workbook import fill_merged
from xref.sheets.zipped import has_error_cells


def read(path: Path, sheet: str = "") -> tuple[list[PartRow], Findings]:
    findings = Findings(path.name)
    tables = read_tables(path, sheet, {}, findings)
    rows = [row for table in tables for row in RowReader(table, "mm", findings).rows()]
    return rows, findings


def said(findings: Findings) -> list[tuple[int, str]]:
    return [(found.row, found.kind) for found in findings.listed()]


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252", "latin-1"]
)
def test_messy_text_is_read_in_every_encoding(
    tmp_path: Path, encoding: str, separator: str
) -> None:
    path = tmp_path / "parts.csv"
    workbooks.messy_text(path, encoding, separator)
    rows, findings = read(path)
    assert [(r.line, r.number, r.told.get("words"), r.sizes["bore"]) for r in rows] == [
        (4, "00123", "Büchse", 12_700_000),
        (7, "1E5", "Lüfternabe", 1_250_000),
        (9, "3-4", "NA", 25_000_000),
    ]
    assert [r.extras for r in rows] == [[("Fach", x, 4)] for x in ("A1", "A2", "TRUE")]
    assert said(findings) == [(6, "section"), (8, "repeated heading"), (10, "total")]


def test_letters_that_only_latin1_has_are_read_as_latin1(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    path.write_bytes(b"Part No.,Description\nQF-1,b\xfcchse \x81\n")
    assert TextRows(path).encoding == "latin-1"


@pytest.mark.parametrize(
    ("lines", "sign"),
    [
        (["a;b", "1,5;2,5", "3;4"], ";"),
        (["a,b", "1,2"], ","),
        (["a\tb,c", "1\t2"], "\t"),
        (["a|b", "1|2"], "|"),
        (["alone", "x"], ","),
        (["title, of a list", "a;b", "1;2"], ";"),
        (["part no,maker,note", "1,,2;3", "4,,5;6", "7;8"], ","),
        (["a,b", "|,|,|"], ","),
    ],
)
def test_separator_is_the_one_that_parts_most_lines_alike(lines: list[str], sign: str) -> None:
    assert separator_of([f"{line}\n" for line in lines]) == sign


def test_quoted_cells_keep_separators_and_lines(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    path.write_text('Part No.,Shelf\n"QF,1","A\nB"\nQF-2,C\n', encoding="utf-8")
    rows, _ = read(path)
    assert [(r.line, r.key, r.extras[0][1]) for r in rows] == [
        (2, "QF-1", "A\nB"),
        (4, "QF-2", "C"),
    ]


def test_spreadsheet_numbers_are_recovered_or_said(tmp_path: Path) -> None:
    path = tmp_path / "typed.xlsx"
    workbooks.typed_xlsx(path)
    rows, findings = read(path)
    assert [(r.number, bool(r.reason)) for r in rows] == [
        ("00471", False),
        ("471", False),
        ("100000", False),
        ("", True),
        ("TRUE", False),
        ("0815", False),
        ("0031-704", False),
        ("", True),
    ]
    assert said(findings) == [
        (4, "exponent"),
        (5, "rejected"),
        (6, "truth value"),
        (9, "rejected"),
        (0, "number"),
    ]
    assert "3-4" in rows[3].reason
    assert "#REF!" in rows[7].reason


def test_sheets_that_are_lists_are_read_and_merged_makers_filled(tmp_path: Path) -> None:
    path = tmp_path / "sheets.xlsx"
    workbooks.sheets_xlsx(path)
    rows, findings = read(path)
    assert [(r.number, r.told.get("maker")) for r in rows] == [
        ("QF-2214", "Quillfeather"),
        ("QF-2215", "Quillfeather"),
        ("DM 881", "Dunmarrow"),
        ("W21-0387-2", "Dunmarrow"),
    ]
    assert rows[3].sizes == {"bore": 31_750_000}
    assert [(f.sheet, f.kind) for f in findings.listed()] == [
        ("Notes", "sheet passed over"),
        ("Whimbrel", "sheet name"),
    ]


def test_maker_merged_downward_in_an_ods_is_filled(tmp_path: Path) -> None:
    path = tmp_path / "merged.ods"
    workbooks.merged_ods(path)
    assert [(r.number, r.told.get("maker")) for r in read(path)[0]] == [
        ("QF-2214", "Quillfeather"),
        ("QF-2215", "Quillfeather"),
        ("DM 881", None),
    ]


def test_cells_said_to_be_merged_over_each_other_are_filled_in_bounded_time() -> None:
    rows: list[list[Cell]] = [["a"]]
    rows += [[""] for _ in range(2_000)]
    fill_merged(rows, [((0, 0), (2_000_000_000, 0))] * 500_000)
    assert rows == [["a"]] * 2_001


def test_one_sheet_is_chosen_by_name(tmp_path: Path) -> None:
    path = tmp_path / "sheets.xlsx"
    workbooks.sheets_xlsx(path)
    assert [r.number for r in read(path, "spares")[0]] == ["W21-0387-2"]
    with pytest.raises(NotFoundError, match="no sheet"):
        read(path, "Stock")


@pytest.mark.parametrize(
    ("name", "write", "numbers", "kinds"),
    [
        ("old.xls", workbooks.old_xls, ["471", "100000"], [(3, "exponent"), (0, "number")]),
        ("open.ods", workbooks.open_ods, ["471", "", "00815"], [(3, "rejected"), (0, "number")]),
    ],
)
def test_other_workbooks_say_what_cannot_be_recovered(
    tmp_path: Path,
    name: str,
    write: Callable[[Path], None],
    numbers: list[str],
    kinds: list[tuple[int, str]],
) -> None:
    write(tmp_path / name)
    rows, findings = read(tmp_path / name)
    assert [r.number for r in rows] == numbers
    assert said(findings) == kinds


@pytest.mark.parametrize(
    ("name", "write"), [("errors.xls", workbooks.errors_xls), ("errors.ods", workbooks.errors_ods)]
)
def test_error_cells_are_findings_that_say_what_they_may_have_been(
    tmp_path: Path, name: str, write: Callable[[Path], None]
) -> None:
    write(tmp_path / name)
    rows, findings = read(tmp_path / name)
    assert [(r.number, r.sizes.get("bore"), r.told.get("words")) for r in rows] == [
        ("QF-2214", 20_000_000, "chain case"),
        ("QF-2215", None, None),
        ("", None, None),
    ]
    assert [(f.row, f.column, f.kind) for f in findings.listed()] == [
        (3, "Description", "error"),
        (3, "Bore", "error"),
        (4, "Part No.", "rejected"),
    ]
    said = [f.message for f in findings.listed()]
    assert ["-2RS" in said[0], "divided" in said[1], "deleted" in said[2]] == [True, True, True]
    assert all("may have been" in message for message in said)


@pytest.mark.parametrize("name", hostile.HOSTILE)
def test_hostile_file_is_refused_in_one_line(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    hostile.HOSTILE[name](path)
    with pytest.raises(FileError) as refused:
        read(path)
    assert name in refused.value.message
    assert "\n" not in refused.value.message
    assert refused.value.hint


@pytest.mark.parametrize("name", [n for n in hostile.HOSTILE if n.startswith(("lock", "wrap"))])
def test_encrypted_workbook_is_said_to_have_a_password(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    hostile.HOSTILE[name](path)
    with pytest.raises(FileError) as refused:
        read(path)
    assert refused.value.message == f"{name} is protected by a password"


def test_the_encrypted_xlsx_is_the_list_to_who_has_the_password(tmp_path: Path) -> None:
    import msoffcrypto

    path, plain = tmp_path / "locked.xlsx", tmp_path / "plain.xlsx"
    locked.locked_xlsx(path)
    with path.open("rb") as stream, plain.open("wb") as out:
        held = msoffcrypto.OfficeFile(stream)
        held.load_key(password=locked.PASSWORD)
        held.decrypt(out)
    workbooks.sheets_xlsx(path)
    assert [r.number for r in read(plain)[0]] == [r.number for r in read(path)[0]]


def test_extent_that_a_workbook_only_claims_is_not_believed(tmp_path: Path) -> None:
    honest, claims = tmp_path / "honest.xlsx", tmp_path / "claims.xlsx"
    workbooks.typed_xlsx(honest)
    workbooks.declared_xlsx(claims)
    assert [r.number for r in read(claims)[0]] == [r.number for r in read(honest)[0]]
    assert said(read(claims)[1]) == said(read(honest)[1])


@pytest.mark.parametrize("repeat", ["1048576", "16384"])
def test_ods_that_spreads_out_is_refused(tmp_path: Path, repeat: str) -> None:
    import zipfile

    good, path = tmp_path / "good.ods", tmp_path / "spread.ods"
    workbooks.open_ods(good)
    with zipfile.ZipFile(good) as source, zipfile.ZipFile(path, "w") as target:
        for entry in source.infolist():
            data = source.read(entry)
            if entry.filename == "content.xml":
                spread = b'<table:table-cell table:number-columns-repeated="%s" '
                data = data.replace(b"<table:table-cell ", spread % repeat.encode(), 1)
            target.writestr(entry, data)
    with pytest.raises(FileError, match="columns"):
        read(path)


def test_quote_that_never_closes_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    path.write_text('Part No.,Shelf\nQF-1,"A\n' + "QF-2,B\n" * 300_000, encoding="utf-8")
    with pytest.raises(FileError, match="line 2"):
        read(path)


def test_findings_of_a_kind_are_listed_so_far_and_then_counted() -> None:
    findings = Findings("parts.csv")
    for line in range(MOST_OF_A_KIND + 5):
        findings.add("", line, "", "size", "unreadable")
    assert len(findings.listed()) == MOST_OF_A_KIND + 1
    assert findings.listed()[-1].message == "and 5 more of this kind"
    assert findings.counts["size"] == MOST_OF_A_KIND + 5


def test_archive_that_unpacks_to_more_than_any_list_is_refused_however_well_it_packs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("xref.sheets.zipped.MOST_UNPACKED", 10_000)
    path = tmp_path / "sheets.xlsx"
    workbooks.sheets_xlsx(path)
    with pytest.raises(FileError, match="unpacks to far more"):
        read(path)


def test_letter_behind_a_line_too_long_to_read_does_not_matter(tmp_path: Path) -> None:
    path = tmp_path / "parts.csv"
    path.write_bytes(b"Part No.\n" + b"x" * 6_000_000 + b"\n\xfc\n")
    assert encoding_of(path) == "utf-8"
    path.write_bytes(b"Part No.\n" + (b"x" * 999 + b"\n") * 6_000 + b"\xfc\n")
    assert encoding_of(path) == "cp1252"


@pytest.mark.parametrize("size", [1, 2, 3, 5, 1 << 20])
def test_an_error_is_seen_wherever_the_sheet_is_cut_into_pieces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: int
) -> None:
    plain, wrong = tmp_path / "plain.xlsx", tmp_path / "wrong.xlsx"
    workbooks.sheets_xlsx(plain)
    workbooks.typed_xlsx(wrong)
    monkeypatch.setattr("xref.sheets.zipped._PIECE", size)
    assert has_error_cells(wrong)
    assert not has_error_cells(plain)
