"""The bench book as plain text and JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from xref.render.identify import odds_text
from xref.render.lines import wrapped
from xref.services.bench.bench import Open
from xref.store.notes.bench import BenchItem


def list_text(
    items: Sequence[BenchItem], still: Sequence[Open], names: Mapping[int, str], width: int
) -> str:
    """One paragraph an item; an undecided one with its best answer and next check."""
    if not items:
        return "Nothing lies on the bench."
    by_id = {found.item.id: found for found in still}
    lines: list[str] = []
    for item in items:
        lines += wrapped(f"{item.id:>3}  {item.place}: {state_text(item, names)}", width, "     ")
        found = by_id.get(item.id)
        if found is not None:
            lines += _open(found, width)
    return "\n".join(lines)


def state_text(item: BenchItem, names: Mapping[int, str]) -> str:
    """What an item was decided to be and how that turned out; ``names`` has numbers by part id."""
    if item.part_id is None:
        return "undecided"
    said = f"{names.get(item.part_id, '?')}"
    return f"{said}, {item.outcome}" if item.outcome else f"{said}, not fitted yet"


def _open(found: Open, width: int) -> list[str]:
    lines = []
    best = found.answer.candidates[:1]
    if best and found.answer.verdict != "none":
        text = f"best: {best[0].part.number}, {odds_text(best[0].probability)}"
        lines += wrapped(text, width, "       ", "     ")
    if found.check is not None:
        lines += wrapped(f"next: {found.check.check}", width, "       ", "     ")
    return lines


def item_text(item: BenchItem, names: Mapping[int, str], width: int) -> str:
    """Everything kept of one item."""
    lines = wrapped(f"Label {item.id}: {item.place}", width, "    ")
    lines.append(f"  {state_text(item, names)}")
    if item.odds is not None:
        lines.append(f"  its odds then: {odds_text(item.odds)}")
    if item.why:
        lines += wrapped(f"because: {item.why}", width, "    ", "  ")
    told = {"machine": item.machine, "assembly": item.assembly, **item.found, "note": item.note}
    for name, value in (*_asked(item.asked), *told.items()):
        if value:
            lines += wrapped(f"{name:<12} {value}", width, " " * 15, "  ")
    for digest, name in item.photos:
        lines.append(f"  photo        {name} ({digest[:12]}…)")
    return "\n".join(lines)


def _asked(asked: Mapping[str, Any]) -> list[tuple[str, str]]:
    told = []
    for name, value in asked.items():
        if name == "machine":
            continue
        if isinstance(value, Mapping):
            told += [(size, str(text)) for size, text in value.items()]
        elif isinstance(value, list):
            told.append((name.rstrip("s"), ", ".join(map(str, value))))
        else:
            told.append((name, str(value)))
    return told


def item_json(item: BenchItem, names: Mapping[int, str]) -> dict[str, Any]:
    """One item as JSON."""
    return {
        "label": item.id,
        "at": item.at,
        "place": item.place,
        "machine": item.machine or None,
        "assembly": item.assembly or None,
        "asked": dict(item.asked),
        "found": dict(item.found),
        "note": item.note or None,
        "decided": names.get(item.part_id) if item.part_id is not None else None,
        "odds_then": item.odds,
        "outcome": item.outcome or None,
        "why": item.why or None,
        "photos": [{"sha256": digest, "name": name} for digest, name in item.photos],
    }


def list_json(
    items: Sequence[BenchItem],
    still: Sequence[Open],
    names: Mapping[int, str],
    cautions: Mapping[int, Sequence[str]],
) -> dict[str, Any]:
    """The bench as JSON; undecided items with their next check."""
    by_id = {found.item.id: found for found in still}
    told = []
    for item in items:
        row = {**item_json(item, names), "cautions": list(cautions[item.id])}
        found = by_id.get(item.id)
        if found is not None:
            row["verdict"] = found.answer.verdict
            row["next_check"] = found.check.check if found.check else None
        told.append(row)
    return {"items": told}
