"""A part of the user's own put right: its number, its maker, its source, a size it has not."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from xref.domain.line import one_line
from xref.domain.number import key, visible
from xref.domain.part import Part
from xref.errors import InputError
from xref.services.changing.fact import kept
from xref.services.changing.pairs import regroup
from xref.services.parts.part import change, own, own_part
from xref.services.parts.source import source_id_of
from xref.store.read.load import load_parts
from xref.store.read.queries import resolve
from xref.store.write import facts
from xref.store.write.unit import UnitOfWork, standard_name

WITHOUT = ("kind", "words", "maker", "source", "order-instead", "note")
"""What can be taken from a part, besides any of its sizes by name."""


@dataclass(frozen=True, slots=True)
class Corrected:
    """A part before and after."""

    before: Part
    after: Part


def correct(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    number: str,
    *,
    maker: str | None = None,
    new_number: str | None = None,
    new_maker: str | None = None,
    kind: str | None = None,
    words: str | None = None,
    status: str | None = None,
    sizes: Mapping[str, str] | None = None,
    order_instead: str | None = None,
    source: str | None = None,
    without: Collection[str] = (),
) -> Corrected:
    """Change what is given of a part, and take away what ``without`` names (WITHOUT, a size).

    All that names the part follows it to its new number. Raises NotFoundError for a part that is
    not there, InputError for a standard's row, for a number that its maker has already, and for
    what ``part add`` refuses.
    """
    before = own(resolve(unit.conn, number, maker))
    _known(before, without)
    if any(word is not None for word in (kind, words, status, order_instead)) or sizes:
        change(
            unit,
            number,
            maker=maker,
            kind=kind,
            words=words,
            status=status,
            sizes=sizes,
            order_instead=order_instead,
        )
    if "order-instead" in without:
        change(unit, number, maker=maker, order_instead="")
    _take_away(unit, before.id, without)
    if source is not None or "source" in without:
        found = source_id_of(unit, source or "")
        unit.update(facts.PART, before.id, {"source_id": found})
    if new_number is not None or new_maker is not None or "maker" in without:
        held = _part(unit.conn, before.id)
        whose = "" if "maker" in without else kept(new_maker, held.maker)
        _rename(unit, held, kept(new_number, held.number), whose)
    return Corrected(before, _part(unit.conn, before.id))


def _part(conn: Connection, ident: int) -> Part:
    return load_parts(conn, [ident])[0]


def _known(part: Part, without: Collection[str]) -> None:
    for name in without:
        if name not in (*WITHOUT, *part.sizes):
            raise InputError(
                f'{part.number} has no "{visible(name)}" to take away',
                f"Use {', '.join((*WITHOUT, *part.sizes))}.",
            )


def _take_away(unit: UnitOfWork, ident: int, without: Collection[str]) -> None:
    held = _part(unit.conn, ident)
    now = replace(
        held,
        kind="" if "kind" in without else held.kind,
        words="" if "words" in without else held.words,
        note="" if "note" in without else held.note,
        sizes={name: size for name, size in held.sizes.items() if name not in without},
    )
    if now != held:
        unit.change_part(ident, now)


def _rename(unit: UnitOfWork, held: Part, number: str, maker: str) -> None:
    """Give a part another number or maker; what it is the same thing as is worked out anew."""
    shown, whose = number.strip(), one_line(maker)
    fresh = own_part(shown, whose, held.kind)
    standard, there = facts.whose(unit.conn, key(whose) if whose else "", key(shown))
    if standard:
        raise standard_name(whose)
    if there is not None and there != held.id:
        raise InputError(
            f"{f'{whose} ' if whose else ''}{visible(shown)} is on record already",
            "If the two are one, write that down: xref interchange A B --grade same.",
        )
    was = own_part(held.number, held.maker, held.kind)
    type_ = fresh.type if held.type == was.type else held.type
    spelled = tuple(s for s in held.spellings if s.role != "number")
    now = replace(
        held, number=shown, maker=whose, type=type_, spellings=(*fresh.spellings, *spelled)
    )
    unit.change_part(held.id, now)
    regroup(unit, now)
