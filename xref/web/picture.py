"""A photo as it is sent by a phone, made safe to keep and to show."""

from __future__ import annotations

import io
import threading
import zipfile
from functools import lru_cache
from pathlib import Path

from PIL import Image, ImageOps

from xref.errors import FileError

KINDS = {"JPEG", "PNG", "WEBP"}
MOST_BYTES = 25_000_000
MOST_PIXELS = 60_000_000
"""More than any phone's camera gives; what it takes to unpack is three bytes each. Judged."""
LONGEST, SMALL = 2400, 480
"""Pixels of the longer edge of what is kept and of its small picture: a stamp of a millimetre can
still be read in a photo of half a metre. Judged."""
QUALITY = 85

_OTHERS = (b"<svg", b"<html", b"<!doctype", b"<script", b"%pdf-", b"<?php")
"""Beginnings of what else a file may be at the same time."""
_HEIC = (b"ftypheic", b"ftypheix", b"ftyphevc", b"ftypmif1", b"ftypmsf1", b"ftypavif")
_one_at_a_time = threading.Lock()

HOW = "Send a JPEG, PNG or WebP of at most 25 MB and 60 megapixels."
JPEG_HOW = (
    "Set the camera to JPEG: on some phones it is called Most Compatible, under Camera, Formats."
)


def cleaned(data: bytes) -> bytes:
    """The photo as a JPEG of its own: upright, without position, comments or other metadata.

    Raises FileError for what is no photo, is too large, or is something else at the same time.
    One is worked on at a time, for each takes up to 200 MB while it is unpacked.
    """
    _refuse_what_is_none(data)
    try:
        with _one_at_a_time, Image.open(io.BytesIO(data), formats=sorted(KINDS)) as photo:
            if photo.width * photo.height > MOST_PIXELS:
                raise FileError(f"the photo has {photo.width} by {photo.height} pixels", HOW)
            photo.draft("RGB", (LONGEST, LONGEST))
            return _as_jpeg(ImageOps.exif_transpose(photo), LONGEST)
    except FileError:
        raise
    except Exception as error:
        raise FileError("this is no photo that can be read", HOW) from error


def _refuse_what_is_none(data: bytes) -> None:
    if not data:
        raise FileError("the photo is empty", HOW)
    if len(data) > MOST_BYTES:
        raise FileError("the photo is larger than 25 MB", HOW)
    if data[4:12] in _HEIC:
        raise FileError("the photo is of a kind that not every computer can show", JPEG_HOW)
    head = data[:65536].lower()
    if any(word in head for word in _OTHERS) or zipfile.is_zipfile(io.BytesIO(data)):
        raise FileError("the file is something else as well as a photo", HOW)


def _as_jpeg(photo: Image.Image, longest: int) -> bytes:
    plain = photo if photo.mode == "RGB" else _on_white(photo)
    plain.thumbnail((longest, longest))
    # What the library found beside the picture (a comment, a position) is written back unless
    # it is emptied.
    plain.info.clear()
    out = io.BytesIO()
    plain.save(out, "JPEG", quality=QUALITY, optimize=False)
    return out.getvalue()


def _on_white(photo: Image.Image) -> Image.Image:
    clear = photo.convert("RGBA")
    ground = Image.new("RGB", clear.size, "white")
    ground.paste(clear, mask=clear.getchannel("A"))
    return ground


@lru_cache(maxsize=64)
def small(file: Path) -> bytes:
    """A small picture of a kept photo. Raises FileError where it cannot be read."""
    try:
        with _one_at_a_time, Image.open(file) as photo:
            photo.draft("RGB", (SMALL, SMALL))
            return _as_jpeg(ImageOps.exif_transpose(photo), SMALL)
    except Exception as error:
        raise FileError("this photo cannot be shown", "The file is kept as it is.") from error
