"""What is wanted: to order, at what price, and what was got."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from sqlalchemy import Connection

from xref.domain.line import needed_line, one_line, optional_line
from xref.domain.machine import Machine
from xref.domain.number import visible
from xref.domain.order import Order
from xref.domain.part import Part
from xref.errors import InputError, NotFoundError
from xref.services.fit.counter import orders
from xref.services.parts.cautioning import cautions_of
from xref.services.parts.cautions import caution_text, dangers
from xref.store.notes import bench
from xref.store.notes.bench import Wanted
from xref.store.read.links import find_machine
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.write.unit import UnitOfWork

_PRICE = re.compile(r"(?P<before>[^\d.,-]*)(?P<amount>\d{1,12}(?:[.,]\d{1,4})?)(?P<after>[^\d.,]*)")
_DATE = re.compile(r"\d{4}(?:-\d{2}(?:-\d{2})?)?")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing wanted with its part and what to ask for; both None for a bare description."""

    wanted: Wanted
    part: Part | None
    order: Order | None
    cautions: tuple[str, ...] = ()

    @property
    def ask(self) -> str:
        """What to ask for: a number, a whole set or choice of them, or the need in words."""
        return self.order.ask if self.order else self.wanted.need


def add(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    need: str,
    *,
    quantity: float = 1.0,
    supplier: str = "",
    price: str = "",
    seen: str = "",
    note: str = "",
    machine: str = "",
) -> int:
    """Write down something to get: a number in the store, or a need in words, perhaps for one
    machine, whose serial may decide what to ask for.

    Raises InputError for a price or quantity that is none, NotFoundError for a machine that is not
    there.
    """
    row = row_of(unit.conn, need, quantity, supplier, price, seen, note, machine)
    return bench.add_want(unit, row)


def row_of(  # noqa: PLR0913 (one word of the command each)
    conn: Connection,
    need: str,
    quantity: float,
    supplier: str,
    price: str,
    seen: str,
    note: str,
    machine: str,
) -> dict[str, Any]:
    """What is written down of something to get. Raises InputError as ``add`` does."""
    wanted_ = needed_line(need, 200, "need")
    if not 0 < quantity <= 100_000:
        raise InputError(f"{quantity:g} is no quantity", "Give how many, such as 2.")
    amount, currency = _price(price)
    _date(seen)
    try:
        part: Part | None = resolve(conn, need)
    except NotFoundError:
        part = None
    return {
        "part_id": part.id if part else None,
        "machine_id": find_machine(conn, machine).id if machine else None,
        "need": wanted_,
        "quantity": quantity,
        "supplier": optional_line(supplier, 120, "supplier"),
        "price": amount,
        "currency": currency,
        "seen": seen.strip(),
        "note": optional_line(note, 300, "note"),
    }


def _price(text: str) -> tuple[str, str]:
    """The amount with a point, and the currency as written; "" for no price."""
    if not text.strip():
        return "", ""
    found = _PRICE.fullmatch(text.strip())
    if found is None:
        raise InputError(f'"{visible(text)}" is no price', "Write it as 12.50 or 12.50 EUR.")
    currency = (found["before"].strip() or found["after"].strip())[:10]
    return found["amount"].replace(",", "."), currency


def _date(text: str) -> None:
    """Refuse what is no day, month or year: 2026-11-25, 2026-11, 2026; "" is none."""
    written = text.strip()
    whole = written + "2000-01-01"[len(written) :]
    try:
        if text and (_DATE.fullmatch(written) is None or not date.fromisoformat(whole)):
            raise ValueError
    except ValueError:
        raise InputError(f'"{visible(text)}" is no date', "Write it as 2026-11-25.") from None


def lines(
    conn: Connection,
    supplier: str = "",
    done: bool = False,
    part_id: int | None = None,
    machine: str = "",
    ident: int | None = None,
) -> list[Line]:
    """What is wanted, each with what to ask for today on the machine it is for.

    ``machine`` leaves out what is for another, and stands for the one that is not named; ``ident``
    leaves out all but one.
    """
    held = find_machine(conn, machine) if machine else None
    rows = bench.wants(conn, one_line(supplier), done, part_id)
    rows = [row for row in rows if ident in (None, row.id)]
    rows = [row for row in rows if held is None or row.machine in ("", held.name)]
    ids = [row.part_id for row in rows if row.part_id is not None]
    parts = {part.id: part for part in load_parts(conn, ids)}
    told = _orders(conn, rows, parts, held)
    mind = dict(zip(parts, cautions_of(conn, list(parts.values())), strict=True))
    return [
        Line(row, parts.get(row.part_id or 0), told.get(row.id), _mind(row, mind)) for row in rows
    ]


def _orders(
    conn: Connection, rows: Sequence[Wanted], parts: Mapping[int, Part], held: Machine | None
) -> dict[int, Order]:
    """What to ask for by the number of what is wanted: the same for all of one machine."""
    found: dict[int, Order] = {}
    for name in dict.fromkeys(row.machine for row in rows):
        on = find_machine(conn, name) if name else held
        here = [row for row in rows if row.machine == name and row.part_id in parts]
        asked = orders(conn, [parts[row.part_id or 0] for row in here], on)
        found |= {row.id: order for row, order in zip(here, asked, strict=True)}
    return found


def _mind(row: Wanted, of_parts: Mapping[int, tuple[str, ...]]) -> tuple[str, ...]:
    """The cautions of what is wanted: its part's, and those of a need in words."""
    if row.part_id is not None:
        return of_parts.get(row.part_id, ())
    return tuple(caution_text(name) for name in dangers(row.need))


def done(unit: UnitOfWork, ident: int) -> Wanted:
    """Note that it was got. Raises NotFoundError for a number that is not there."""
    row = bench.want(unit.conn, ident)
    if row.done_at:
        raise InputError(f"number {ident} was got already", "See xref wanted list.")
    bench.done_want(unit, ident)
    return row


def totals(rows: Sequence[Line]) -> dict[str, Decimal]:
    """The sum by currency over what has a price, exact."""
    found: dict[str, Decimal] = defaultdict(Decimal)
    for line in rows:
        try:
            each = Decimal(line.wanted.price)
        except InvalidOperation:
            continue
        found[line.wanted.currency] += each * Decimal(f"{line.wanted.quantity:g}")
    return dict(found)
