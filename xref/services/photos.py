"""Photos, kept in a folder beside the store under the hash of their content."""

from __future__ import annotations

import hashlib
import os
import shutil
from pathlib import Path

from xref.domain.number import visible
from xref.errors import FileError, StoreError

MOST_BYTES = 50_000_000
"""A photo larger than 50 MB is refused: it is no photo of a part. Judged."""
_CHUNK = 1 << 20


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
    folder = folder_for(where)
    kept = folder / f"{digest}{photo.suffix.lower()[:8]}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if not kept.exists():
            part = folder / f"{kept.name}.new-{os.getpid()}"
            shutil.copyfile(photo, part)
            part.replace(kept)
    except OSError as error:
        raise FileError(
            f"the photo could not be kept in {folder} ({error.strerror})", "Check the folder."
        ) from None
    return digest, photo.name[:200]


def _hash(photo: Path) -> str:
    shown = visible(str(photo), 80)
    digest = hashlib.sha256()
    try:
        if photo.stat().st_size > MOST_BYTES:
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
