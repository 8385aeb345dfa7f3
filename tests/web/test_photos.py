"""Photos are made safe before they are kept: what a camera adds and what an attacker hides goes."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

import pytest
from PIL import Image

from xref.errors import FileError
from xref.web.picture import LONGEST, MOST_BYTES, cleaned

UPRIGHT = 0x0112
"""The tag of TIFF 6.0 that says how a picture is turned."""


def photo(kind: str = "JPEG", size: tuple[int, int] = (60, 40), **how: object) -> bytes:
    """A photo, red on its left half and blue on its right."""
    made = Image.new("RGB", size, "blue")
    made.paste("red", (0, 0, size[0] // 2, size[1]))
    out = io.BytesIO()
    made.save(out, kind, **how)
    return out.getvalue()


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_what_phones_send_is_kept_as_a_jpeg(kind: str) -> None:
    kept = opened(cleaned(photo(kind)))
    assert (kept.format, kept.size) == ("JPEG", (60, 40))
    red, green, blue = kept.convert("RGB").getpixel((5, 20))  # type: ignore[misc]
    assert red > 200 > blue > -1 < green < 60


def test_a_photo_that_lies_on_its_side_is_turned_upright() -> None:
    turned = Image.Exif()
    turned[UPRIGHT] = 6
    kept = opened(cleaned(photo(exif=turned)))
    assert kept.size == (40, 60)
    assert not kept.getexif()


def test_position_and_comments_do_not_stay() -> None:
    where = Image.Exif()
    where.get_ifd(0x8825)[1] = "N"
    where[0x010E] = "SECRET PLACE"
    kept = cleaned(photo(exif=where, comment=b"SECRET WORDS"))
    assert b"SECRET" not in kept
    assert set(opened(kept).info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_a_large_photo_is_kept_no_longer_than_is_useful() -> None:
    assert max(opened(cleaned(photo(size=(4000, 3000)))).size) == LONGEST


def test_a_small_file_of_a_huge_picture_is_refused_before_it_is_unpacked() -> None:
    header = struct.pack(">IIBBBBB", 30_000, 30_000, 1, 0, 0, 0, 0)
    chunk = b"IHDR" + header
    bomb = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + chunk
    bomb += struct.pack(">I", zlib.crc32(chunk))
    pixels = zlib.compress(bytes(3751) * 30_000)
    bomb += struct.pack(">I", len(pixels)) + b"IDAT" + pixels
    bomb += struct.pack(">I", zlib.crc32(b"IDAT" + pixels)) + b"\0\0\0\0IEND\xaeB`\x82"
    with pytest.raises(FileError, match=r"30000 by 30000|no photo"):
        cleaned(bomb)


def zipped() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("a.txt", "a")
    return out.getvalue()


HEIC = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(500)

BAD = {
    "empty": b"",
    "a drawing": b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "a web page": b"<!doctype html><script>alert(1)</script>",
    "tiff": photo("TIFF"),
    "gif": photo("GIF"),
    "cut off": photo()[:200],
    "text": b"no photo at all" * 100,
    "a photo and an archive": photo() + zipped(),
    "a photo and a web page": photo(comment=b"<script>alert(1)</script>"),
    "too large": photo() + bytes(MOST_BYTES),
}


@pytest.mark.parametrize("data", BAD.values(), ids=BAD.keys())
def test_what_is_no_plain_photo_is_refused_in_plain_words(data: bytes) -> None:
    with pytest.raises(FileError) as told:
        cleaned(data)
    assert told.value.hint


def test_a_photo_that_few_can_show_is_refused_with_what_to_set() -> None:
    with pytest.raises(FileError) as told:
        cleaned(HEIC)
    assert "JPEG" in str(told.value.hint)
