"""Photos, kept in a folder beside the store under the hash of their content."""

from __future__ import annotations

import hashlib
import os
import shutil
from contextlib import suppress
from pathlib import Path
from stat import S_ISREG

from xref.domain.number import visible
from xref.errors import FileError, StoreError

MOST_BYTES = 50_000_000
"""A photo larger than 50 MB is refused: it is no photo of a part. Judged."""
_CHUNK = 1 << 20
_HASH = 64
"""Characters of a SHA-256, with which the name of a kept photo begins."""


def folder_for(where: str) -> Path:
    """The folder of the store at ``where``; StoreError for a shared store, which has none."""
    if "://" in where or not where or not Path(where).name:
        raise StoreError("a shared store keeps no photos", "Keep them in a store of your own.")
    return Path(f"{where}.photos")


def keep(where: str, photo: Path) -> tuple[str, str]:
    """Copy ``photo`` beside the store; its hash and its name.

    Raises FileError for a file that is not there, is no plain file, or is too large.
    """
    digest = _hash(photo)
    kept = folder_for(where) / f"{digest}{photo.suffix.lower()[:8]}"
    if not kept.exists():
        _put(photo, kept)
    return digest, photo.name[:200]


def kept_in(where: str) -> list[Path]:
    """The photos beside the store at ``where``, by name; none where there is no folder."""
    try:
        folder = folder_for(where)
        return sorted(p for p in folder.iterdir() if ".new-" not in p.name and p.is_file())
    except (OSError, StoreError):
        return []


def digest_of(file: Path) -> str:
    """The hash that a kept photo has its name by."""
    return file.name[:_HASH]


def intact(file: Path) -> bool:
    """Whether a kept photo is there and still what it was."""
    with suppress(OSError), file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest() == digest_of(file)
    return False


def copy_missing(source: str, target: str) -> int:
    """Copy the photos of the store at ``source`` that the one at ``target`` lacks; how many.

    One that is there but no longer what it was is put right. Raises FileError.
    """
    folder, copied = folder_for(target), 0
    for photo in kept_in(source):
        if not intact(folder / photo.name):
            _put(photo, folder / photo.name)
            copied += 1
    return copied


def _put(photo: Path, kept: Path) -> None:
    """Copy a photo to its name in the folder, whole or not at all."""
    part = kept.with_name(f"{kept.name}.new-{os.getpid()}")
    try:
        kept.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(photo, part)
        part.replace(kept)
    except OSError as error:
        with suppress(OSError):
            part.unlink()
        raise FileError(
            f"the photo could not be kept in {kept.parent} ({error.strerror})", "Check the folder."
        ) from None


def _hash(photo: Path) -> str:
    shown = visible(str(photo), 80)
    digest = hashlib.sha256()
    try:
        about = photo.stat()
        if not S_ISREG(about.st_mode):
            # A pipe that nobody writes to would be waited for, and all others with it.
            raise FileError(f"{shown} is not a file", "Name the file of the photo.")
        if about.st_size > MOST_BYTES:
            raise FileError(f"{shown} is larger than 50 MB", "Make the photo smaller.")
        with photo.open("rb") as stream:
            while piece := stream.read(_CHUNK):
                digest.update(piece)
    except FileNotFoundError:
        raise FileError(f"there is no file {shown}", "Check its name.") from None
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or "not a file name"
        raise FileError(f"{shown} could not be read ({said})", "Check the file.") from None
    return digest.hexdigest()
