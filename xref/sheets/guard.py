"""Look at a file before it is opened: what it is by its content, and whether it may be opened."""

from __future__ import annotations

import re
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError
from xref.sheets.extent import locked
from xref.sheets.zipped import names_in

TEXT = "text"
XLSX = "xlsx"
XLS = "xls"
ODS = "ods"

MOST_WORKBOOK = 200_000_000
"""Bytes a workbook file may have: it is held in memory. Judged."""

_ENDINGS = {
    ".csv": TEXT,
    ".tsv": TEXT,
    ".tab": TEXT,
    ".txt": TEXT,
    ".xlsx": XLSX,
    ".xlsm": XLSX,
    ".xls": XLS,
    ".ods": ODS,
}
_CALLED = {TEXT: "text", XLSX: "an xlsx workbook", XLS: "an xls workbook", ODS: "an ods workbook"}
_ZIP = b"PK\x03\x04"
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_WEB_PAGE = re.compile(rb"(?:\xef\xbb\xbf)?\s*<(?:!doctype html|html|head|table)\b", re.IGNORECASE)
_READS = "Give a csv, tsv, xlsx, xls or ods file."


def look(path: Path) -> str:
    """What the file is: text, xlsx, xls or ods.

    Raises FileError for what is not there, is none of these, is not what its ending says, needs a
    password, or would fill the memory.
    """
    name = visible(path.name or str(path), 80)
    try:
        if not path.is_file():
            there = path.exists()
            what = "is not a file" if there else "is not there"
            raise FileError(f"{name} {what}", _READS if there else "Check its name.")
        size = path.stat().st_size
        with path.open("rb") as stream:
            head = stream.read(8)
    except OSError as error:
        raise FileError(f"{name} could not be read ({error.strerror})", "Check its name.") from None
    if size == 0:
        raise FileError(f"{name} is empty", "Save the sheet again and try that file.")
    if _is_web_page(path):
        raise FileError(
            f"{name} is a web page, whatever its ending",
            "Open it in the spreadsheet, save it as xlsx or csv and import that.",
        )
    found = _content(path, head, name)
    said = _ENDINGS.get(path.suffix.lower())
    if said and said != found:
        raise FileError(
            f"{name} is {_CALLED[found]} and not what its ending says",
            f"Rename it to end in .{'csv' if found == TEXT else found} and try again.",
        )
    if found != TEXT and size > MOST_WORKBOOK:
        raise FileError(
            f"{name} is too big for a workbook ({size // 1_000_000} MB)",
            "Save each sheet as csv and import those.",
        )
    return found


def _content(path: Path, head: bytes, name: str) -> str:
    if head.startswith(_ZIP):
        return _zipped(path, name)
    if head.startswith(_COMPOUND):
        if "EncryptedPackage".encode("utf-16-le") in path.read_bytes()[:MOST_WORKBOOK]:
            raise locked(name)
        return XLS
    if path.suffix.lower() in (".xlsx", ".xlsm", ".xls", ".ods") and _is_binary(path):
        raise FileError(f"{name} is damaged, or no workbook", _READS)
    if _is_binary(path):
        raise FileError(f"{name} is neither text nor a workbook", _READS)
    return TEXT


def _zipped(path: Path, name: str) -> str:
    names = names_in(path, name)
    if "xl/workbook.xml" in names:
        return XLSX
    if "content.xml" in names and "META-INF/manifest.xml" in names:
        return ODS
    if "encrypted-package" in names:
        # What ODF 1.5 makes of a whole ods with a password.
        raise locked(name)
    raise FileError(f"{name} is an archive, not a workbook", _READS)


def _is_web_page(path: Path) -> bool:
    """Whether this is HTML: programs and shops give it out under the ending xls."""
    with path.open("rb") as stream:
        return bool(_WEB_PAGE.match(stream.read(1024)))


def _is_binary(path: Path) -> bool:
    """Whether the beginning holds bytes that no text has. UTF-16 has zeros, but by turns."""
    with path.open("rb") as stream:
        head = stream.read(4096)
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return False
    if b"\0" in head:
        return not (wide_little(head) or wide_big(head))
    controls = sum(byte < 32 and byte not in b"\t\n\r\f\x1b" for byte in head)
    return controls > 8 + len(head) // 20


def wide_little(head: bytes) -> bool:
    """Whether this is Latin text in UTF-16 with the low byte first, without its mark."""
    return _zeros(head[1::2]) and b"\0" not in head[0:2000:2]


def wide_big(head: bytes) -> bool:
    """Whether this is Latin text in UTF-16 with the high byte first, without its mark."""
    return _zeros(head[0::2]) and b"\0" not in head[1:2000:2]


def _zeros(half: bytes) -> bool:
    return bool(half) and half.count(0) > 0.8 * len(half)
