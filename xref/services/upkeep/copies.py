"""Back up the store and its photos to a file and a folder, and put such a copy back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from xref.domain.number import visible
from xref.domain.steps import Steps, silent
from xref.errors import FileError, StoreError
from xref.services.bench.photos import copy_missing, folder_for
from xref.settings import store_target
from xref.store.upkeep import backup


@dataclass(frozen=True, slots=True)
class Kept:
    """What was written: the file, its bytes, and how many photos to which folder beside it."""

    file: Path
    size: int
    photos: int
    folder: Path


@dataclass(frozen=True, slots=True)
class PutBack:
    """The store, where what it replaced is kept (None: nothing was there), photos brought back."""

    store: Path
    replaced: Path | None
    photos: int


def back_up(option: str | None, target: Path, steps: Steps = silent) -> Kept:
    """Copy the store to ``target`` while others may write to it, then its photos beside that.

    Raises FileError where ``target`` is there already or a photo cannot be copied, StoreError
    where the store cannot be read.
    """
    path = _file(option)
    backup.back_up(path, target, steps)
    # After the store: a photo is there before the item that names it, and no photo ever goes.
    with _photos_of(f"the store was copied to {visible(str(target), 200)}"):
        steps("copying the photos")
        photos = copy_missing(str(path), str(target))
    return Kept(target, target.stat().st_size, photos, folder_for(str(target)))


def restore(option: str | None, copy: Path, steps: Steps = silent) -> PutBack:
    """Put ``copy`` in the place of the store, and bring back the photos that the store lacks.

    Raises StoreError or FileError, with nothing changed, for a copy that fails its checks. Photos
    of the replaced store stay where they are.
    """
    path = _file(option)
    replaced = backup.restore(path, copy, steps)
    with _photos_of("the store was put back"):
        steps("copying the photos")
        photos = copy_missing(str(copy), str(path))
    return PutBack(path, replaced, photos)


@contextmanager
def _photos_of(done: str) -> Iterator[None]:
    """Say with what goes wrong inside that the store itself is done."""
    try:
        yield
    except FileError as error:
        raise FileError(f"{done}, but not all its photos: {error.message}", error.hint) from None


def _file(option: str | None) -> Path:
    target = store_target(option)
    if "://" in target:
        raise StoreError(
            "a shared store is backed up and restored by its server's own tools",
            "For PostgreSQL they are pg_dump and pg_restore.",
        )
    return Path(target).expanduser()
