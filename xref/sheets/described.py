"""Sizes in the description of a round part: "Oil seal 35x52x7", "Bush 20 x 26 x 30"."""

from __future__ import annotations

import re

from xref.sheets.cells import kind_in
from xref.sheets.size_cell import read_size_cell
from xref.sheets.size_order import ROUND

_FIGURE = r"[\d.,/ \"¼½¾⅛⅜⅝⅞-]*(?:mm|in)?"
_THREE = re.compile(
    rf"(?<![\w.,/-])[(\[]?(\d{_FIGURE}\s*[xX×*]\s*[\d.]{_FIGURE}\s*[xX×*]\s*[\d.]{_FIGURE})"
    r"(?!\s*[xX×*\w])"
)


def sizes_described(words: str, unit: str, kind: str = "") -> dict[str, int]:
    """Bore, outside and width that a description ends with, in nanometres; {} where three figures
    do not stand there or what the part is does not say which is which."""
    sort = kind or kind_in(words)
    if sort not in ROUND or not (found := _THREE.search(words)):
        return {}
    read = read_size_cell(found[1].strip(" ,-"), unit, ".", sort)
    return dict(read.sizes) if {"bore", "outside"} <= read.sizes.keys() else {}
