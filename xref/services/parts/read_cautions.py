"""The cautions that belong to what a trade number was read as."""

from __future__ import annotations

from collections.abc import Iterable

from xref.domain.part import Part
from xref.domain.weights import ORIGIN_STANDARD
from xref.services.decode.decode import DecodedReading
from xref.services.parts.cautions import cautions

DEFER_READING = (
    "For brakes, steering, lifting, pressure or fuel go by the maker's data and ask a qualified "
    "person."
)


def read_cautions(readings: Iterable[DecodedReading]) -> tuple[str, ...]:
    """What to mind with the parts that ``readings`` name, each once, and last whose word decides;
    () for no readings."""
    said = [text for reading in readings for text in (*cautions(_part(reading)), "")]
    return (*(text for text in dict.fromkeys(said) if text), DEFER_READING) if said else ()


def _part(reading: DecodedReading) -> Part:
    """The reading as a part, to ask for its cautions."""
    return Part(
        number=reading.designation,
        maker=reading.standard,
        kind=reading.kind,
        group="",
        origin=ORIGIN_STANDARD,
        weight=0,
        words=reading.type,
    )
