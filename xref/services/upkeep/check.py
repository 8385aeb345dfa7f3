"""Look at everything that must be true of a store, and say how to mend what is not."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path

from sqlalchemy import Connection

from xref.domain.number import visible
from xref.domain.serial import read_serial
from xref.domain.serial_text import from_stored
from xref.domain.steps import Steps, silent
from xref.errors import InputError, StoreError
from xref.services.bench.photos import digest_of, folder_for, intact, kept_in
from xref.standards.version import TABLES_VERSION
from xref.store.file.files import left_behind
from xref.store.upkeep import recorded
from xref.store.upkeep.checking import (
    CHECKS,
    MOST_NAMED,
    Fault,
    file_faults,
    number_of,
    seal_faults,
)
from xref.store.upkeep.checking import mend as make_anew
from xref.store.write.unit import UnitOfWork

MOST_SHOWN = 6
"""Numbers of a cycle that are named."""
AGAIN = "Record it again as a range such as QW101-QW499."


def check(conn: Connection, where: str, steps: Steps = silent) -> list[Fault]:
    """Every fault found. Of a damaged file nothing but the damage: the rest would be guesses."""
    steps("looking at the file")
    found = list(file_faults(conn))
    if found:
        return found
    looks = {
        **CHECKS,
        "ranges": _ranges,
        "supersessions": _chains,
        "standard rows": _standards,
        "photos": lambda _: _photos(conn, where),
        "files beside": lambda _: _left_over(where),
        "seal": seal_faults,
    }
    for what, look in looks.items():
        steps(f"looking at the {what}")
        found += look(conn)
    return found


def mend(unit: UnitOfWork, steps: Steps = silent) -> None:
    """Make anew what follows from the parts, unless the file itself is damaged."""
    steps("looking at the file")
    if list(file_faults(unit.conn)):
        raise StoreError(
            "the store's file is damaged, and nothing may be written to it",
            "Put back a copy with xref restore; the damaged file is kept beside it.",
        )
    make_anew(unit.conn, steps)


def _ranges(conn: Connection) -> Iterator[Fault]:
    """Ranges and serials that cannot be read."""
    for said, text in recorded.ranges(conn):
        if not _reads(from_stored, text):
            yield Fault("ranges", f'{said} for serials "{visible(text)}", which is no range', AGAIN)
    for name, text in recorded.serials(conn):
        if not _reads(read_serial, text):
            yield Fault(
                "ranges",
                f'the serial "{visible(text)}" of {name} cannot be read',
                "Add it again with xref machine add.",
            )


def _reads(read: Callable[[str], object], text: str) -> bool:
    try:
        read(text)
    except (InputError, ValueError):
        return False
    return True


def _chains(conn: Connection) -> Iterator[Fault]:
    """Supersessions that come back to where they began, or lead nowhere."""
    for nodes in cycles(recorded.followers(conn)):
        names = [number_of(conn, ident) for ident in nodes[:MOST_SHOWN]]
        more = " → …" if len(nodes) > MOST_SHOWN else ""
        yield Fault(
            "chains",
            f"{' → '.join(names)}{more} → {names[0]} supersede each other in a circle",
            f"See xref trace {names[0]}; take back the wrong step with xref undo.",
        )
    for number in recorded.empty_steps(conn):
        yield Fault(
            "chains",
            f"{number} is superseded by nothing",
            f"Record what replaced it: xref supersede {number} NEW.",
        )


def cycles(after: Mapping[int, Sequence[int]]) -> Iterator[list[int]]:
    """One cycle for each step that closes one, found in a single walk over the whole graph."""
    open_, done = 1, 2
    seen: dict[int, int] = {}
    for start in sorted(after):
        path: list[int] = []
        trail = [iter((start,))]
        while trail:
            node = next(trail[-1], None)
            if node is None:
                trail.pop()
                if path:
                    seen[path.pop()] = done
            elif seen.get(node) == open_:
                yield path[path.index(node) :]
            elif node not in seen:
                seen[node] = open_
                path.append(node)
                trail.append(iter(after.get(node, ())))


def _standards(conn: Connection) -> Iterator[Fault]:
    """Standard rows of another version than the tables that were shipped."""
    held = recorded.tables_version(conn)
    if held != TABLES_VERSION:
        yield Fault(
            "standards",
            f"the standard rows are of version {held or 'unknown'}, not of today's",
            "Open the store once with the right to write it: they are brought up to date.",
        )


def _photos(conn: Connection, where: str) -> Iterator[Fault]:
    """Photos that are not in the folder beside the store, are no longer what they were, or are
    there for no item."""
    try:
        folder = folder_for(where)
    except StoreError:
        return
    files = {digest_of(file): file for file in kept_in(where)}
    held = recorded.photos(conn)
    for label, digest, name in held:
        file = files.get(digest)
        if file is None or not intact(file):
            yield Fault(
                "photos",
                f"the photo {visible(name)} of bench item {label} "
                f"{'is not what it was' if file else 'is missing'}",
                f"xref restore of a copy that has it brings it back, or put it into {folder}.",
            )
    spare = sorted(files.keys() - {digest for _, digest, _ in held})
    if spare:
        named = ", ".join(visible(files[digest].name, 80) for digest in spare[:MOST_NAMED])
        yield Fault(
            "photos",
            f"no bench item has {len(spare)} of the files in {folder}: {named}"
            + (" …" if len(spare) > MOST_NAMED else ""),
            "Keep them for a store that was replaced or an item taken back, or delete them.",
        )


def _left_over(where: str) -> Iterator[Fault]:
    """Files that a command left in the making when it was stopped."""
    if "://" in where:
        return
    path = Path(where)
    left = left_behind(path.parent, path.name.removesuffix(".xref"))
    for file in (*left, *left_behind(Path(f"{where}.photos"))):
        yield Fault(
            "left over",
            f"{visible(file.name, 200)} was left by a command that was stopped",
            f"Delete it from {file.parent}: nothing needs it.",
        )
