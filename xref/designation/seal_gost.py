"""Shaft seals by GOST 8752: ``1.2-35x58-1`` is type 1, design 2, shaft, housing bore, rubber."""

from __future__ import annotations

from dataclasses import replace

from xref.designation.callout import TIMES, length, reading
from xref.designation.lazy import whole
from xref.designation.reading import COMMON, Feature, Reading
from xref.designation.three_sizes import like_a_seal, size_name
from xref.domain.number import plain
from xref.domain.size import NM_PER_MM

_MM = r"\d{1,3}(?:[.,]\d)?"
_CALL = (
    rf"(?P<type>[12])[.,](?P<design>[12])-(?P<shaft>{_MM})(?:{TIMES}|-)(?P<bore>{_MM})"
    rf"(?:(?:{TIMES})(?P<width>{_MM}))?(?:-(?P<rubber>[1-9]))?"
    r"\s*(?:[/,]?\s*(?:GOST|ГОСТ)[ -]*8752(?:-\d+)?)?(?P<rest>(?![0-9.,/X]).*)"
)
_TYPES = {"1": "one lip", "2": "one lip and a dust lip"}
_DESIGNS = {"1": "edge worked by cutting", "2": "edge as moulded"}
"""GOST 8752-79, from memory."""


def _features(kind: str, design: str, rubber: str | None) -> tuple[Feature, ...]:
    said = [
        Feature(f"{kind}.", f"{_TYPES[kind]} (from memory)", COMMON),
        Feature(f".{design}", f"{_DESIGNS[design]} (from memory)", COMMON),
    ]
    if rubber:
        said.append(Feature(f"-{rubber}", f"rubber group {rubber} of GOST 8752", COMMON))
    return tuple(said)


def read(text: str) -> tuple[Reading, ...]:
    """The seal that ``text`` names; () where none. The number gives no width unless it is written.

    Raises InputError as ``plain`` does.
    """
    shown = plain(text)
    if not shown.startswith(("1.", "2.", "1,", "2,")):
        return ()
    found = whole(_CALL, shown)
    if found is None:
        return ()
    names = {"bore": "shaft", "outside": "bore", "width": "width"}
    sizes = {n: length(found[g].replace(",", ".")) or 0 for n, g in names.items() if found[g]}
    if not like_a_seal(sizes["bore"], sizes["outside"], sizes.get("width", 4 * NM_PER_MM)):
        return ()
    note = "nominal shaft and housing bore: measure those, not the seal's own lip and rim"
    what = ("shaft seal", "rotary shaft seal", "GOST 8752-79")
    made = reading(size_name(*sizes.values()), what, found["rest"], sizes=sizes, note=note)
    return (replace(made, features=_features(found["type"], found["design"], found["rubber"])),)
