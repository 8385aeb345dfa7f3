"""Threads as they stand in a cell: "M8x1.25x30", "3/8 BSF x 1-1/4", with the length behind."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from xref.domain.size import parse_length
from xref.errors import InputError

FIGURE = (
    r"(?:\d+\s*-\s*\d+/\d+|\d+\s+\d+/\d+|\d+/\d+|\d*[.,]\d+|\d+)"
    r"(?:\s*(?:mm|cm|inches|inch|ins?\b|thou|zoll|\"|''|″|”))?"
)
_METRIC = re.compile(
    r"[Mm]\s?(?P<d>\d+(?:[.,]\d+)?)(?:\s*[xX×*-]\s*(?P<p>\d+(?:[.,]\d+)?))?"
    r"(?:\s*[xX×*]\s*(?P<l>\d+(?:[.,]\d+)?)\s*(?:mm)?(?:\s*(?:lg|long|lang)\.?)?)?\s*(?:mm)?"
)
_STANDARD = (
    r"bsf|bsw|bspp|bspt|bsp|unf|unc|unef|npt|nptf|whit(?:worth)?\.?|ba|bsb|bsc|cei|cycle|anf|anc|sae|"
    r"uns|bsc|model eng(?:ineer)?|me"
)
_INCH_THREAD = re.compile(
    rf"(?P<t>(?:\d+\s*-\s*\d+/\d+|\d+\s+\d+/\d+|\d+/\d+|\d+|#\d+)\s*(?:\"|in\b|inch)?\s*"
    rf"(?:[-x]\s*\d+\s*(?:tpi\s*)?)?\s*(?:{_STANDARD})|(?:\d+/\d+|\d)\s*(?:\"|in\b)?\s*-\s*\d{{2}}|[GR]\s?\d+/\d+"
    rf"|\d+/\d+\s*[x×]\s*\d+\s*tpi)(?:\s*[x×*]\s*(?P<l>{FIGURE})(?:\s*(?:lg|long|u/h)\.?)?)?\.?",
    re.IGNORECASE,
)


@dataclass(slots=True)
class SizesRead:
    """What a cell says: sizes in nanometres, a thread as written. ``why`` it was not taken is ""
    where it was; ``plain``: no word in it says which size is which."""

    sizes: dict[str, int] = field(default_factory=dict)
    thread: str = ""
    why: str = ""


def thread_in(flat: str) -> SizesRead | None:
    found = _METRIC.fullmatch(flat)
    if found:
        return _metric(flat, found)
    found = _INCH_THREAD.fullmatch(flat)
    if found is None:
        return None
    sizes = {"length": parse_length(found["l"], "inch").nm} if found["l"] else {}
    return SizesRead(sizes, " ".join(found["t"].split()))


def _metric(flat: str, found: re.Match[str]) -> SizesRead:
    size, second, third = (found[n] for n in ("d", "p", "l"))
    diameter = float(size.replace(",", "."))
    if diameter > 200:
        raise InputError(f'"{flat[:40]}" is no metric thread')
    step = float(second.replace(",", ".")) if second else 0.0
    if second and third is None and (step > 6 or step > diameter / 2):
        return SizesRead({"length": parse_length(second, "mm").nm}, f"M{size}")
    thread = f"M{size}x{second}" if second else f"M{size}"
    return SizesRead({"length": parse_length(third, "mm").nm} if third else {}, thread)
