"""What is wanted, as plain text and JSON."""

from __future__ import annotations

from collections.abc import Sequence
from shlex import quote
from typing import Any

from xref.render.lines import what
from xref.services.bench.wanted import Line, totals


def wanted_text(rows: Sequence[Line]) -> str:
    """One line a thing, then the totals by currency."""
    if not rows:
        return "Nothing is wanted."
    return "\n".join([*map(line_text, rows), *total_line(rows), *open_lines(rows)])


def open_lines(rows: Sequence[Line]) -> list[str]:
    """How the machine is named, for each thing of which nothing can be asked for without."""
    return [_how(line) for line in rows if line.order and line.order.open]


def _how(line: Line) -> str:
    w = line.wanted
    if w.machine:
        chain = f"xref trace {quote(w.need)} --machine {quote(w.machine)}"
        return f"{w.id} depends on a serial that {w.machine} does not say: see {chain}"
    return (
        f"{w.id} needs its machine named: xref wanted change {w.id} --machine NAME "
        f"(a new one: xref wanted add {quote(w.need)} --machine NAME)"
    )


def line_text(line: Line) -> str:
    """One thing wanted: its number, how many of what, from whom and for how much."""
    w = line.wanted
    told = [f"{w.id:>3}  {w.quantity:g} × {line.ask}"]
    if line.part is not None:
        told.append(what(line.part))
    if line.ask != w.need:
        told.append(f"for {w.need}")
    if w.machine:
        told.append(f"on {w.machine}")
    told += [text for text in (w.supplier, f"{w.price} {w.currency}".strip(), w.seen) if text]
    if w.done_at:
        told.append("got")
    return "  ".join(text for text in told if text)


def total_line(rows: Sequence[Line]) -> list[str]:
    """The line with the totals; none where nothing has a price."""
    sums = [f"{amount} {currency}".strip() for currency, amount in totals(rows).items()]
    return [f"Total of what has a price: {', '.join(sums)}"] if sums else []


def wanted_json(rows: Sequence[Line]) -> dict[str, Any]:
    """What is wanted as JSON; one piece's price and the totals as plain numbers."""
    return {
        "wanted": [line_json(line) for line in rows],
        "totals": {currency: float(amount) for currency, amount in totals(rows).items()},
    }


def line_json(line: Line) -> dict[str, Any]:
    """One thing wanted as JSON."""
    return {
        "id": line.wanted.id,
        "need": line.wanted.need,
        "quantity": line.wanted.quantity,
        "order": line.order.to_json() if line.order else None,
        "supplier": line.wanted.supplier or None,
        "price": float(line.wanted.price) if line.wanted.price else None,
        "currency": line.wanted.currency or None,
        "seen": line.wanted.seen or None,
        "note": line.wanted.note or None,
        "machine": line.wanted.machine or None,
        "done": bool(line.wanted.done_at),
        "cautions": list(line.cautions),
    }
