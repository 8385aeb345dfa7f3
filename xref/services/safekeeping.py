"""Back up the store to a file, and put such a file back."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from xref.errors import StoreError
from xref.services.photos import folder_for
from xref.settings import store_target
from xref.store import backup


@dataclass(frozen=True, slots=True)
class Kept:
    """What was written: the file, its bytes, and the folder of photos that no copy holds."""

    file: Path
    size: int
    photos: Path | None


def back_up(option: str | None, target: Path) -> Kept:
    """Copy the store to ``target`` while others may write to it.

    Raises FileError where ``target`` is there already, StoreError where the store cannot be read.
    """
    path = _file(option)
    backup.back_up(path, target)
    photos = folder_for(str(path))
    return Kept(target, target.stat().st_size, photos if photos.is_dir() else None)


def restore(option: str | None, copy: Path) -> tuple[Path, Path | None]:
    """Put ``copy`` in the place of the store; the store, and where what it replaced is kept.

    Raises StoreError or FileError, with nothing changed, for a copy that fails its checks.
    """
    path = _file(option)
    return path, backup.restore(path, copy)


def _file(option: str | None) -> Path:
    target = store_target(option)
    if "://" in target:
        raise StoreError(
            "a shared store is backed up and restored by its server's own tools",
            "For PostgreSQL they are pg_dump and pg_restore.",
        )
    return Path(target).expanduser()
