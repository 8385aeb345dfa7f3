"""A SQLite store as a file: told apart from any other file before anything is written to it."""

from __future__ import annotations

import os
import re
import stat
import time
from contextlib import suppress
from pathlib import Path

from xref.errors import StoreError

APPLICATION_ID = 0x78726566
"""Stands in the file's header ("xref" in ASCII); judged free, not registered with SQLite."""

LEFT_SECONDS = 3600
"""A file in the making that was not touched for so long is nobody's: on a shared folder its
process may be another machine's. Judged."""
_IN_THE_MAKING = re.compile(r"\.new-(\d{1,10})(?:-wal|-shm|-journal)?$")

_MAGIC = b"SQLite format 3\x00"
_HEAD = 100
"""Bytes of the header (SQLite file format, section 1.3)."""


def look_at(path: Path, whole: bool = True) -> bool:
    """Whether a store lies at ``path``: False where nothing does (or an empty file).

    Reads the header alone. Raises StoreError for a folder, a pipe, an unreadable file, a file that
    is no SQLite file, and one of another program; if ``whole``, for one cut short as well.
    """
    head = _head(path)
    if not head:
        return False
    if not head.startswith(_MAGIC) or len(head) < _HEAD:
        raise StoreError(
            f"{path} is not a store", "Give the path of a store, or of a file not yet there."
        )
    if int.from_bytes(head[68:72], "big") != APPLICATION_ID:
        raise StoreError(
            f"{path} is a database of another program, not a store",
            "Give the path of a store, or of a file not yet there.",
        )
    if whole and _cut_short(path, head):
        raise StoreError(
            f"the store {path} is damaged: a part of it is missing",
            "Do not write to it; put back a copy with xref restore.",
        )
    return True


def _head(path: Path) -> bytes:
    """The file's header, b"" where there is no file; StoreError where it cannot be read.

    A pipe is not opened: one waits for what may never come.
    """
    try:
        mode = path.stat().st_mode
        if not (stat.S_ISREG(mode) or stat.S_ISDIR(mode)):
            raise StoreError(f"{path} is a pipe or a device, not a store", "Give another path.")
        with path.open("rb") as stream:
            return stream.read(_HEAD)
    except FileNotFoundError:
        return b""
    except IsADirectoryError:
        raise StoreError(f"{path} is a folder, not a store", "Name a file in it.") from None
    except NotADirectoryError:
        raise StoreError(
            f"{path} cannot be: a part of that path is a file", "Give another path."
        ) from None
    except OSError as error:
        raise StoreError(
            f"{path} could not be read ({error.strerror or error})", "Check the path and rights."
        ) from None
    except ValueError:
        raise StoreError(
            "the path of the store has a character in it that no path may have",
            "Give another path.",
        ) from None


def _cut_short(path: Path, head: bytes) -> bool:
    """Whether the file has fewer pages than its header says (SQLite file format, section 1.3).

    Not said of a store whose log lies beside it: SQLite may have been stopped while it grew.
    """
    if head[24:28] != head[92:96] or log_beside(path):
        return False
    pages = int.from_bytes(head[28:32], "big")
    return path.stat().st_size < pages * page_size(head)


def page_size(head: bytes) -> int:
    """Bytes of a page by the file's header, where 65,536 is written as 1 (section 1.3.2)."""
    size = int.from_bytes(head[16:18], "big")
    return 65536 if size == 1 else size


def may_write(path: Path) -> bool:
    """Whether both the file and its folder (SQLite writes beside the file) may be written."""
    return os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)


def log_beside(path: Path) -> bool:
    """Whether a write-ahead log with something in it lies beside the file."""
    try:
        return Path(f"{path}-wal").stat().st_size > 0
    except OSError:
        return False


def put_in_place(made: Path, path: Path) -> bool:
    """Move a finished store to ``path``; False where another process was there first."""
    if path.exists() and path.stat().st_size == 0:
        path.unlink()
    try:
        os.link(made, path)
    except FileExistsError:
        return False
    except OSError:
        # A file system without links: a rename is still whole, only not exclusive.
        made.replace(path)
        return True
    finally:
        made.unlink(missing_ok=True)
    return True


def in_the_making(path: Path) -> Path:
    """The name that a file has until it is whole and can be moved to ``path``."""
    return path.with_name(f"{path.name}.new-{os.getpid()}")


def left_behind(folder: Path, stem: str = "") -> list[Path]:
    """Files in the making whose process is gone from this machine; of names that begin so."""
    found = []
    with suppress(OSError, ValueError):
        for path in sorted(folder.iterdir()):
            made = _IN_THE_MAKING.search(path.name)
            if made and path.name.startswith(stem) and not _running(int(made[1])):
                found.append(path)
    return found


def _running(pid: int) -> bool:
    if os.name != "posix":
        return True  # elsewhere there is no asking without harm
    try:
        os.kill(pid, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True


def clear_left(path: Path) -> None:
    """Delete what was left in the making beside ``path`` and not touched for ``LEFT_SECONDS``."""
    for left in left_behind(path.parent, path.name.removesuffix(".xref")):
        with suppress(OSError):
            if time.time() - left.stat().st_mtime > LEFT_SECONDS:
                left.unlink()


def sidecars(path: Path) -> tuple[Path, Path]:
    """The files that SQLite keeps beside a store in use: its log, and the index of the log."""
    return Path(f"{path}-wal"), Path(f"{path}-shm")


def move_aside(path: Path, kept: Path) -> Path:
    """Give the file another name, with what lies beside it, so that the name is free.

    The log goes too: SQLite would play it into whatever file comes to stand there.
    """
    try:
        os.link(path, kept)
    except OSError:
        path.replace(kept)
    for old, new in zip(sidecars(path), sidecars(kept), strict=True):
        with suppress(FileNotFoundError):
            old.replace(new)
    return kept


def sync_folder(folder: Path) -> None:
    """Have the disk keep the names in ``folder``; nothing where the system has no way to."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
