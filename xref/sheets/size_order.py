"""Which sizes figures in a row are, by the kind of part and by which order is possible."""

from __future__ import annotations

from collections.abc import Sequence

ROUND = frozenset({"bearing", "bush", "shaft seal", "washer", "retaining ring", "boot"})
"""Kinds of part with a bore and an outside."""

_SHIMS = frozenset(
    {"shim", "shims", "passscheibe", "beilage", "cale", "cales", "vulplaatje", "vulplaatjes"}
    | {"spessore", "spessori", "suplemento", "mellanlägg", "mellemlæg"}
)
"""What a shim is called (memory): it is no kind of its own, and one size of it is its thickness."""

SOLID = frozenset({"pin", "thread"})
"""Kinds of part that are sold by diameter and length."""


def names_in_order(values: Sequence[int], kind: str) -> tuple[str, ...]:
    """The size that each figure is; () where that may be more than one thing."""
    if len(values) == 3:
        return _three(values, kind)
    if len(values) == 2:
        return _two(values, kind)
    if len(values) == 1 and kind in ("shim", "strip"):
        return ("thickness",)
    return ()


def _three(values: Sequence[int], kind: str) -> tuple[str, ...]:
    first, second, _ = values
    if kind == "key":
        return ("width", "height", "length")
    if kind in SOLID or kind in ("strip", "gasket", "belt", "chain", "o-ring"):
        return ()
    if first < second:
        return ("bore", "outside", "width")
    if first > second and kind in ROUND:
        return ("outside", "bore", "width")
    return ()


def _two(values: Sequence[int], kind: str) -> tuple[str, ...]:
    first, second = values
    if kind in SOLID:
        return ("diameter", "length") if first <= second else ()
    if kind == "o-ring" and first > second:
        return ("inside", "section")
    if kind == "belt":
        return ("width", "length") if first < second else ()
    if kind in ROUND and first != second:
        return ("bore", "outside") if first < second else ("outside", "bore")
    return ()


def shim_in(words: str) -> str:
    """Give "shim" where a description begins or ends with a word for one; "" else."""
    tokens = words.casefold().replace(",", " ").split()
    return "shim" if tokens and {tokens[0], tokens[-1]} & _SHIMS else ""
