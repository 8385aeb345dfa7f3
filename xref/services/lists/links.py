"""What a row says of other numbers and of machines, and what of it belongs to nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from xref.services.lists.draft import PRICE_MOST
from xref.sheets.fields import INTERCHANGE_NOTE, MODELS, ORDER_INSTEAD, PRICE, RANGE, STEP
from xref.sheets.part_row import PartRow

_TOLD = (*MODELS, *RANGE, *STEP, INTERCHANGE_NOTE, ORDER_INSTEAD, "status")
_BY_ITSELF = frozenset({*MODELS, ORDER_INSTEAD})
_LOOSE = frozenset({*RANGE, *STEP, INTERCHANGE_NOTE, *PRICE, "claim"})
_SERIALS = ("serial from", "serial to", "serials")


@dataclass(slots=True)
class LinkRow:
    """One row's links. ``part_id`` is 0 until its part is written; ``outcome`` is what became of
    the row without them; ``sourced``: the row itself names its source, or that there is
    none. ``beside`` are cells that mean nothing to the tool, under their headings."""

    sheet: str
    line: int
    number: str
    outcome: str
    source: str
    sourced: bool
    told: dict[str, str]
    lists: dict[str, list[str]]
    beside: tuple[tuple[str, str], ...] = ()
    part_id: int = 0


def links_of(row: PartRow, sheet: str, outcome: str, source: str) -> LinkRow | None:
    """The links in a row; None where it has none."""
    told = row.told
    if not row.lists and _BY_ITSELF.isdisjoint(told):
        return None
    kept = {name: told[name] for name in _TOLD if name in told}
    beside = tuple((label, text) for label, text, _ in row.extras)
    sourced, lists = "source" in told, row.lists or {}
    return LinkRow(
        sheet, row.line, row.number, outcome, source, sourced, kept, lists, beside=beside
    )


def loose_cells(row: PartRow) -> list[tuple[str, str, str]]:
    """Field, text and message ("" for none) of cells that belong to something the row does not
    name, or that hold more than their place: to be kept with the part as they stand."""
    told = row.told
    if _LOOSE.isdisjoint(told):
        return []
    lists = row.lists or {}
    found: list[tuple[str, str, str]] = []
    if told.keys().isdisjoint(MODELS):
        found += _given(told, RANGE, "a range is given and no model", _SERIALS)
    if lists.keys().isdisjoint(("replaces", "replaced by")):
        found += _given(told, STEP, "a supersession is described and no number given", STEP)
    if "interchange" not in lists:
        found += _given(told, (INTERCHANGE_NOTE,), "", ())
    if "price" not in told and "supplier" not in told:
        found += _given(told, PRICE, "", ())
    found += [
        (name, told[name], f"only {most} characters of it have a place")
        for name, most in zip(PRICE, PRICE_MOST, strict=True)
        if len(told.get(name, "")) > most
    ]
    if "claim" in told and "=" not in told["claim"]:
        found.append(("claim", told["claim"], "a claim is written field=value"))
    return found


def _given(
    told: dict[str, str], names: Sequence[str], why: str, said_of: Sequence[str]
) -> list[tuple[str, str, str]]:
    return [(name, told[name], why if name in said_of else "") for name in names if name in told]
