"""The user's own parts: add, show, change, remove, list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection

from xref.designation import bearing
from xref.domain.kinds import kind_from
from xref.domain.line import one_line, optional_line
from xref.domain.number import folded, key, searchable, visible
from xref.domain.part import Part, Spelling, StoredSize, is_plain_number
from xref.domain.size import NM_PER_MM, parse_count, parse_length
from xref.domain.weights import ORIGIN_STORE, part_weight
from xref.errors import AmbiguousError, InputError
from xref.services.parts.designated import look_up
from xref.services.parts.source import source_id_of
from xref.services.question import MOST_WORDS, named_sizes
from xref.standards.lookup import find
from xref.store.notes.bare_unit import default_unit
from xref.store.read.queries import find_part, resolve
from xref.store.write.link_unit import set_order_instead
from xref.store.write.unit import UnitOfWork

STATUSES = (
    "current",
    "superseded",
    "not-sold-separately",
    "buy-to-size",
    "make-to-drawing",
    "discontinued",
    "mentioned",
)
MOST_INSTEAD = 120
"""Characters of what is ordered in place of a part."""


def own_part(
    number: str,
    maker: str = "",
    kind: str = "",
    words: str = "",
    sizes: Mapping[str, StoredSize] | None = None,
) -> Part:
    """A part of the user's own, ready to be added.

    A number with no maker that is a standard designation is the same physical thing as that
    standard's row, and shares its group; any other is a thing of its own.
    """
    shown = number.strip()
    number_key = key(shown)
    searchable(shown)
    maker_name = one_line(maker)
    named = kind_from(kind) if kind else ""
    group = f"own:{key(maker_name) if maker_name else ''}:{number_key}"
    type_ = ""
    twin = _standard_twin(shown, named) if not maker_name else None
    if twin is not None:
        group, type_, named = twin.group, twin.type, named or twin.kind
    return Part(
        number=shown,
        maker=maker_name,
        kind=named,
        group=group,
        origin=ORIGIN_STORE,
        weight=part_weight(ORIGIN_STORE, 0),
        type=type_,
        words=plain_words(words),
        sizes=dict(sizes or {}),
        spellings=(Spelling(shown, takes_suffix=takes_suffix(shown)),),
    )


def takes_suffix(number: str) -> bool:
    """Whether trade suffixes may follow: a bearing's bare designation that a table knows."""
    return bool(find(number)) and any(
        read.kind == "bearing" and not read.features and not read.unknown
        for read in bearing.read(number)
        if folded(read.designation) == folded(number)
    )


def _standard_twin(number: str, kind: str) -> Part | None:
    """The standard row that ``number`` is; None where it is none, or may be several.

    Its very key, or a bearing's designation spaced otherwise ("NU 204"). Other designations are
    short: "M-1" and "P-25" are rather some maker's numbers than a thread and an O-ring.
    """
    rows = [p for p in find(number) if not kind or p.kind == kind]
    same = [p for p in rows if key(p.number) == key(number)] or [
        p for p in rows if p.kind == "bearing" and _reads_as(number, p.number)
    ]
    return same[0] if len({p.group for p in same}) == 1 else None


def _reads_as(number: str, designation: str) -> bool:
    """Whether ``number`` is a bearing's designation and nothing more, whatever its separators."""
    return folded(number) == folded(designation) and any(
        read.designation == designation and not read.unknown for read in bearing.read(number)
    )


def plain_words(words: str) -> str:
    """A description as it is kept: its own case, spaces made single."""
    return optional_line(words, MOST_WORDS, "description")


def plain_instead(text: str) -> str:
    """What to order in place of a part, as it is kept; InputError where it is too long."""
    return optional_line(text, MOST_INSTEAD, "assembly or kit")


def read_sizes(sizes: Mapping[str, str], unit: str) -> dict[str, StoredSize]:
    """Nominal sizes as typed, exact."""
    held = {}
    for known, text in named_sizes(sizes).items():
        held[known] = StoredSize(
            parse_count(text) if is_plain_number(known) else parse_length(text, unit).nm
        )
    return held


def namesake(conn: Connection, number: str) -> Part | None:
    """A part of the user's own that has this number already, whoever's it is; None for none."""
    try:
        found = find_part(conn, number)
    except AmbiguousError:
        return None
    same = found is not None and not found.is_standard and key(found.number) == key(number)
    return found if same else None


def add(
    unit: UnitOfWork,
    number: str,
    *,
    maker: str = "",
    kind: str = "",
    words: str = "",
    sizes: Mapping[str, str] | None = None,
    source: str = "",
) -> Part:
    """Add a part of the user's own. Raises InputError where it is there already."""
    held = read_sizes(sizes or {}, default_unit(unit.conn))
    part = own_part(number, maker, kind, words, held)
    ident = unit.add_part(part, source_id_of(unit, source))
    return replace(part, id=ident)


def show(conn: Connection, number: str, maker: str | None = None) -> Part:
    """The part that ``number`` names. Raises NotFoundError or AmbiguousError."""
    return look_up(conn, number, maker)


def change(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    number: str,
    *,
    maker: str | None = None,
    kind: str | None = None,
    words: str | None = None,
    status: str | None = None,
    sizes: Mapping[str, str] | None = None,
    order_instead: str | None = None,
) -> Part:
    """Change what is given and leave the rest. A standard's row cannot be changed.

    ``order_instead`` names the assembly or kit to order where it is not sold separately.
    """
    old = own(resolve(unit.conn, number, maker))
    if status is not None and status not in STATUSES:
        raise InputError(f'no status is called "{visible(status)}"', f"Use {', '.join(STATUSES)}.")
    held = {**old.sizes, **read_sizes(sizes or {}, default_unit(unit.conn))}
    new = replace(
        old,
        kind=kind_from(kind) if kind else old.kind,
        words=plain_words(words) if words is not None else old.words,
        status=status or old.status,
        sizes=held,
    )
    unit.change_part(old.id, new)
    if order_instead is not None:
        set_order_instead(unit, old.id, plain_instead(order_instead))
    return new


def own(part: Part) -> Part:
    if part.is_standard:
        raise InputError(
            f"{part.number} is a row of {part.maker}, not a part of yours",
            "Add a part of your own, or note a mark on it with xref mark add.",
        )
    return part


def to_json(part: Part) -> dict[str, Any]:
    """A part as one JSON document; sizes in millimetres, counts as they are."""
    return {
        "number": part.number,
        "maker": part.own_maker or None,
        "standard": part.maker if part.is_standard else None,
        "kind": part.kind or None,
        "type": part.type or None,
        "description": part.words,
        "status": part.status,
        "from": part.origin,
        "sizes": {
            name: held.value if is_plain_number(name) else held.value / NM_PER_MM
            for name, held in part.sizes.items()
        },
        "also": [s.text for s in part.spellings if s.text != part.number],
        "marks": [{"text": m.text, "role": m.role} for m in part.marks],
        "tables_agreeing": part.tables_agreeing if part.is_standard else None,
        "note": part.note or None,
    }


def many_to_json(parts: Sequence[Part]) -> dict[str, Any]:
    """A list of parts as one JSON document."""
    return {"parts": [to_json(part) for part in parts]}
