"""What can be seen of each type without a tool: what rolls, how many rows, what comes apart."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from xref.tables import Row, read_table

TRAITS = ("what rolls", "rows", "comes apart", "self-aligns")


@cache
def _types() -> dict[str, Row]:
    return {row["type"]: row for row in read_table("bearing_type")}


def traits(type_: str) -> Mapping[str, str]:
    """What each trait shows for this type; {} for a type without any, a trait left out where
    the table does not say."""
    row = _types().get(type_, {})
    return {name: row[name] for name in TRAITS if row.get(name)}


def iso492_group(type_: str) -> str:
    """Which limits of ISO 492 apply: "radial", "taper" or "" for none."""
    group = _types().get(type_, {}).get("iso492", "")
    return "" if group == "no" else group
