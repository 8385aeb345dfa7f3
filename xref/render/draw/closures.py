"""What a bearing's own number says of its closures, as a drawing shows them."""

from __future__ import annotations

from xref.designation.suffix import SUFFIXES
from xref.errors import InputError

_CLOSURES = {s.code: s.meaning for s in SUFFIXES if s.group == "closure"}


def closed_of(number: str) -> str:
    """``shield`` or ``seal``, with 1 behind it for one side; "" where the number says nothing."""
    from xref.designation import bearing  # its patterns cost more than the drawing

    try:
        readings = bearing.read(number)
    except InputError:
        return ""
    codes = [feature.code for reading in readings[:1] for feature in reading.features]
    said = next((_CLOSURES[code] for code in codes if code in _CLOSURES), "")
    if not said:
        return ""
    word = "shield" if "shield" in said else "seal"
    return f"{word}1" if "one side" in said else word
