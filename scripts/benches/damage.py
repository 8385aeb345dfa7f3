"""Damage stores byte by byte or cut them short, try to write to them, and sort what becomes of it.

*refused*: one line, exit code 3, and the file is what it was. *harmless*: it was written, and
every row of every table had read as before the damage. *unseen*: it was written, and a row had
not. There must be none of the last.
"""

from __future__ import annotations

import random
import sqlite3
from collections import Counter
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from scripts.benches.command import command
from xref.store.open.engine import open_engine

Spoil = Callable[[bytearray, random.Random], None]
WORK = (
    ("part", "add", "QF-1", "--maker", "Quillfeather", "--size", "bore=20mm", "--words", "bush"),
    ("part", "add", "QF-2", "--maker", "Quillfeather", "--size", "length=30mm"),
    ("source", "add", "Whimbrel Parts Book"),
    ("mark", "add", "QF-1", "C 44", "--role", "casting"),
    ("machine", "add", "QW 312", "--model", "Whimbrel", "--serial", "QW312"),
    ("supersede", "QF-1", "QF-2"),
    ("part", "change", "QF-2", "--words", "the longer one"),
)
WRITE = ("part", "add", "QF-9")


def _flips(count: int) -> Spoil:
    def spoil(data: bytearray, chance: random.Random) -> None:
        for _ in range(count):
            data[chance.randrange(len(data))] ^= chance.randrange(1, 256)

    return spoil


def _burst(data: bytearray, chance: random.Random) -> None:
    at = chance.randrange(len(data) - 512)
    data[at : at + 512] = chance.randbytes(512)


def _cut(data: bytearray, chance: random.Random) -> None:
    del data[chance.randrange(1, len(data)) :]


SORTS: dict[str, Spoil] = {
    "1 byte": _flips(1),
    "64 bytes": _flips(64),
    "512 in a row": _burst,
    "cut short": _cut,
}


def worked_in(path: Path) -> bytes:
    """A store that somebody has worked in, made at ``path`` unless one is there, as bytes."""
    open_engine(path).close()
    for args in WORK:
        code, said = command(path, *args)
        assert code == 0, said
    return path.read_bytes()


def rows(path: Path) -> dict[str, list[tuple[object, ...]]]:
    """Every row of every table, by plain SQL that writes nothing."""
    with closing(sqlite3.connect(f"file:{path}?immutable=1", uri=True)) as conn:
        conn.text_factory = bytes
        named = conn.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {
            name.decode(): conn.execute(f'SELECT * FROM "{name.decode()}"').fetchall()
            for (name,) in named
        }


def attempt(data: bytes, path: Path, spoil: Spoil, chance: random.Random) -> tuple[str, str]:
    """Which of the three became of one damage; and what is wrong with how it was told, or ""."""
    spoilt = bytearray(data)
    spoil(spoilt, chance)
    for old in path.parent.glob(f"{path.name}*"):
        old.unlink()
    path.write_bytes(data)
    before = rows(path)
    path.write_bytes(spoilt)
    try:
        same = rows(path) == before
    except (sqlite3.Error, UnicodeDecodeError):  # what is wrong may be told in no text
        same = False
    code, said = command(path, *WRITE)
    if code == 3:
        return "refused", _told(said) or ("" if path.read_bytes() == spoilt else "it was written")
    if code != 0:
        return "unseen", f"exit code {code}: {said}"
    return ("harmless", "") if same else ("unseen", "a row reads otherwise")


def _told(said: str) -> str:
    lines = said.splitlines()
    plain = 1 <= len(lines) <= 2 and lines[0].startswith("xref: ") and "inside" not in said
    return "" if plain else f"not told plainly: {said}"


def trials(data: bytes, path: Path, sort: str, count: int, seed: int) -> Counter[str]:
    """How often each of the three came of ``count`` damages; "fault: …" for each not as it must."""
    found: Counter[str] = Counter()
    for turn in range(count):
        became, wrong = attempt(data, path, SORTS[sort], random.Random(f"{seed} {sort} {turn}"))
        found[became] += 1
        if wrong:
            found[f"fault: {sort} {seed}/{turn}: {wrong}"] += 1
    return found


def measure(folder: Path, count: int, seed: int) -> list[str]:
    """Print a line for each sort of damage; the faults."""
    folder.mkdir()
    data = worked_in(folder / "worked.xref")
    print(f"damage to a store of {len(data):,} bytes, then a write:   refused   harmless   unseen")
    faults: list[str] = []
    for sort in SORTS:
        found = trials(data, folder / "store.xref", sort, count, seed)
        faults += [told for told in found if told.startswith("fault: ")]
        figures = f"{found['refused']:9}{found['harmless']:11}{found['unseen']:9}"
        print(f"{sort:>20}, {count:4} times {figures:>51}")
    return faults
