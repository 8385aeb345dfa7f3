"""Small and inch ball bearings that are wider when closed, and then a row of their own."""

from __future__ import annotations

from xref.tables import read_table

_METAL = ("2Z", "ZZ", "2ZR")
_RUBBER = ("RS", "DD", "LL", "VV", "RZ", "RU", "RD", "PP")


def _wider() -> frozenset[str]:
    return frozenset(row["closed"] for row in read_table("bearing_closed"))


def closed_form(names: tuple[str, ...], codes: tuple[str, ...]) -> str:
    """The designation of the closed bearing for one of its ``names`` and its suffix ``codes``.

    "" where both sides are not closed, or closing does not change the width. Where only the
    shielded form is known it serves for the sealed one too, and the other way round.
    """
    metal = any(code in _METAL for code in codes)
    rubber = any(any(part in code for part in _RUBBER) for code in codes if len(code) > 2)
    if not metal and not (rubber or "PP" in codes or "VV" in codes):
        return ""
    known = _wider()
    order = ("2Z", "2RS") if metal else ("2RS", "2Z")
    return next(
        (f"{name}-{end}" for name in names for end in order if f"{name}-{end}" in known), ""
    )
