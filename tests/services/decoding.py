"""What the tests of ``decode`` share."""

from __future__ import annotations

from xref.designation.reading import Reading
from xref.services.decode.decode import DecodedReading, decode

MM = 1_000_000

MOST_READINGS = 4
"""More readings than these help nobody at the bench. Judged."""


def only(text: str) -> DecodedReading:
    """The one reading of ``text``."""
    (reading,) = decode(text).readings
    return reading


def made(designation: str, **fields: object) -> Reading:
    """A reading as the grammar might give it, with ``fields`` of its own."""
    plain: dict[str, object] = {
        "designation": designation,
        "kind": "bearing",
        "type": "deep groove ball",
        "numbering": "ISO",
        "standard": "DIN 623-1",
        "sizes": {},
        "dimension_series": "",
        "features": (),
        "canonical": designation,
        "also_written": (),
        "unknown": (),
        "note": "",
        "decided_by": "",
        "needs_table": False,
    }
    return Reading(**{**plain, **fields})  # type: ignore[arg-type]
