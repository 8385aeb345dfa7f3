"""A part of the user's own removed, alone or with the links it stands in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.errors import InputError
from xref.services.changing import items, pairs, steps, wants
from xref.services.changing.fact import Changed, Fact
from xref.services.parts.part import own
from xref.store.read.queries import resolve
from xref.store.write import facts
from xref.store.write.unit import UnitOfWork

SHOWN = 4
"""Links that are named where a part is not removed for them."""


@dataclass(frozen=True, slots=True)
class Gone:
    """A part that was removed, and what became of each link that it stood in."""

    part: Part
    links: tuple[Changed, ...] = ()


def remove(
    unit: UnitOfWork, number: str, maker: str | None = None, with_links: bool = False
) -> Gone:
    """Remove a part of the user's own and what hangs on it. A standard's row cannot be removed.

    One that stands in a chain of numbers, or in the bench book, is removed ``with_links`` alone: a
    supersession goes where nothing is left of it, an interchange goes, what is wanted stays in
    words, and what was decided on the bench is undecided again.
    """
    old = own(resolve(unit.conn, number, maker))
    links = _links(unit.conn, old.id)
    labels = facts.bench_labels(unit.conn, None, old.id)
    if (links or labels) and not with_links:
        raise _refusal(old, links, labels)
    gone: list[Changed] = []
    for link in links:
        gone += _without(unit, link, old.id)
    gone += [items.undecide(unit, label) for label in labels]
    unit.remove_part(old.id)
    return Gone(old, tuple(gone))


def _links(conn: Connection, part_id: int) -> list[Fact]:
    return [
        *steps.standing_in(conn, part_id),
        *pairs.standing_in(conn, part_id),
        *wants.naming(conn, part_id),
    ]


def _without(unit: UnitOfWork, link: Fact, part_id: int) -> list[Changed]:
    if link.kind == steps.KIND:
        return [steps.without_part(unit, link.id, part_id)]
    if link.kind == pairs.KIND:
        return [pairs.remove(unit, link.id)]
    return [wants.in_words(unit, link.id)]


def _refusal(old: Part, links: Sequence[Fact], labels: Sequence[int]) -> InputError:
    told = [f"{link.kind} {link.id} ({link.of} {link.says})".replace("( ", "(") for link in links]
    told += [f"label {label} of the bench book" for label in labels]
    more = f" and {len(told) - SHOWN} more" if len(told) > SHOWN else ""
    return InputError(
        f"{old.number} stands in {'; '.join(told[:SHOWN])}{more}",
        "Remove or change those first, or all at once: xref part remove "
        f"{old.number} --with-links.",
    )
