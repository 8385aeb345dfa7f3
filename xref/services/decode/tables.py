"""The sizes behind a reading: the table's row, else its ISO 15 dimension series, else digits."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from xref.designation.reading import PRACTICE, Reading
from xref.domain.number import key
from xref.domain.part import Part
from xref.domain.size import mm_text
from xref.domain.weights import OTHER_SYSTEM
from xref.services.decode.helpers import HELPERS
from xref.services.decode.lookup import Found, listed
from xref.standards import families, lookup

_ROUNDED = 6_000
"""An O-ring size written to 0.01 mm may stand this far (nm) from the inch size behind it."""

_TWIN = 150_000
"""Two O-rings this close (nm) in both sizes are easily taken for each other. Judged."""

_BEYOND = "beyond"
"""In the name of what a row is from: sizes numbered after a standard that does not list them."""

_HALVES = {"cone": ("bore", "cone-width", "cup"), "cup": ("outside", "cup-width", "cone")}
"""A taper's bore belongs to its cone and its outside diameter to its cup; then the other half."""


_NOT_WRITTEN = re.compile(r"[\s\-_]+")


def _exact(number: str) -> str:
    """A number as it must agree here: without spaces and dashes, but with "/" and ".".

    Folding is for searching only: 62/26 is not 6226, and P12.5 is not P125.
    """
    return _NOT_WRITTEN.sub("", number).upper()


def _plain_sizes(part: Part) -> dict[str, int]:
    return {name: size.value for name, size in part.sizes.items()}


def _agreement(part: Part) -> str:
    if part.tables_agreeing == 1:
        return f"sizes from the {part.maker} table; only one printed table, so measure to be sure"
    return f"sizes from the {part.maker} table, {part.tables_agreeing} tables agree"


def _disagreement(reading: Reading, part: Part) -> tuple[str, ...]:
    """Where the digits of the number say otherwise than the table's row does."""
    table = _plain_sizes(part)
    return tuple(
        f"the number itself says {name} {mm_text(value)}, the table {mm_text(table[name])}"
        for name, value in reading.sizes.items()
        if name in table and abs(table[name] - value) > _ROUNDED
    )


def _row(reading: Reading, part: Part, *more: str) -> Found:
    # Other numbers of the row stand for the bare bearing, not for one with these suffixes.
    bare = reading.kind != "bearing" or reading.canonical == reading.designation
    spellings = [s for s in part.spellings if bare and s.weight > OTHER_SYSTEM]
    # A number that the trade formed after a standard's is not that standard's.
    unlisted = part.kind == "o-ring" and _BEYOND in part.maker
    notes = (_agreement(part), part.note, *_disagreement(reading, part), *more)
    return Found(
        sizes={**reading.sizes, **_plain_sizes(part)},
        tables_agreeing=part.tables_agreeing,
        notes=tuple(note for note in notes if note),
        also_written=(
            part.number,
            *(
                s.text
                for s in spellings
                if s.role in ("number", "alias")
                and not (unlisted and _exact(s.text) == _exact(reading.designation))
            ),
        ),
        type=part.type,
        standard="" if part.type == reading.type and not unlisted else part.maker,
        number=part.number if unlisted else "",
    )


def _shared(parts: Sequence[Part], names: Iterable[str]) -> dict[str, int]:
    """The sizes among ``names`` on which every one of ``parts`` agrees."""
    found = {}
    for name in names:
        values = {part.sizes[name].value for part in parts if name in part.sizes}
        if len(values) == 1 and all(name in part.sizes for part in parts):
            found[name] = values.pop()
    return found


def _half(pairs: Sequence[Part], role: str) -> Found:
    """One half of a taper: its own sizes, and the halves it goes with."""
    *own, other = _HALVES[role]
    mates = [s.text for part in pairs for s in part.spellings if s.role == other]
    numbers = listed(part.number for part in pairs)
    # A half stands in as many tables as the best attested of its pairs.
    best = max(pairs, key=lambda part: part.tables_agreeing)
    notes = [
        f"the {role} alone; it goes with {other} {listed(mates)} (pairs {numbers})",
        _agreement(best),
        *dict.fromkeys(part.note for part in pairs if part.note),
    ]
    return Found(
        sizes=_shared(pairs, own),
        tables_agreeing=best.tables_agreeing,
        notes=tuple(notes),
        type=pairs[0].type,
        half=role,
    )


def _with_role(parts: Iterable[Part], number: str, roles: Sequence[str]) -> list[Part]:
    wanted = _exact(number)
    return [
        part
        for part in parts
        if any(s.role in roles and _exact(s.text) == wanted for s in part.spellings)
    ]


def _best_row(reading: Reading, rows: Sequence[Part]) -> Part:
    """The row meant: its own number before an alias, its own type, the most tables.

    The dash counts where two numbers differ by nothing else (R1-4 and R14).
    """
    wanted = _exact(reading.designation)
    return max(
        rows,
        key=lambda part: (
            key(part.number) == key(reading.designation),
            _exact(part.number) == wanted,
            part.type == reading.type,
            part.tables_agreeing,
        ),
    )


def _named(reading: Reading) -> tuple[Found, ...]:
    """What the tables have under the reading's own designation.

    A bearing of another type that is only written alike is not it: a taper half 214 is no ball
    bearing 214, and a thread of 11/16 in none of 1 1/16. The readers' types for bushes are guesses
    by the wall, so the row's type counts.
    """
    rows = [
        part
        for part in lookup.find(reading.designation)
        if part.kind == reading.kind
        and (part.kind != "bearing" or part.type == reading.type)
        and (part.kind != "thread" or not _disagreement(reading, part))
    ]
    whole = _with_role(rows, reading.designation, ("number", "alias"))
    if whole:
        return (_row(reading, _best_row(reading, whole)),)
    halves = ((role, _with_role(rows, reading.designation, (role,))) for role in _HALVES)
    return tuple(_half(pairs, role) for role, pairs in halves if pairs)


def _off(part: Part, sizes: Mapping[str, int]) -> int:
    """The largest difference (nm) between a part and ``sizes``."""
    return max(abs(part.sizes[name].value - value) for name, value in sizes.items())


def _by_size(reading: Reading) -> tuple[Found, ...]:
    """O-rings with the sizes as written, and those so near that they are taken for it."""
    rings = [
        (off, part)
        for part in families.standard_parts()
        if part.kind == reading.kind and (off := _off(part, reading.sizes)) <= _TWIN
    ]
    rings.sort(key=lambda pair: pair[0])
    same = [part for off, part in rings if off <= _ROUNDED]
    groups = {part.group for part in same}
    near = [part for _, part in rings if part.group not in groups]
    twins = listed(
        f"{part.number} ({' × '.join(mm_text(part.sizes[n].value)[:-3] for n in reading.sizes)} mm)"
        for part in near
    )
    warning = f"easily taken for it, and not the same ring: {twins}" if near else ""
    if same:
        best = max(same, key=lambda part: part.tables_agreeing)
        named = _row(reading, best, f"it is {listed(p.number for p in same)}", warning)
        return (
            Found(
                sizes=reading.sizes,
                tables_agreeing=named.tables_agreeing,
                notes=tuple(note for note in named.notes if note),
                also_written=tuple(part.number for part in same),
                type=best.type,
            ),
        )
    if reading.needs_table:
        return ()
    only = "not in our tables; only what is written"
    return (Found(reading.sizes, notes=tuple(n for n in (only, warning) if n)),)


def _by_series(reading: Reading) -> Found | None:
    """Outside diameter and width of the other bearings in the same ISO 15 dimension series."""
    bore = reading.sizes.get("bore")
    if not (reading.dimension_series and bore):
        return None
    rows = lookup.by_dimension_series(reading.dimension_series, bore)
    shared = _shared(rows, ("outside", "width")) if rows else {}
    if not shared:
        return None
    numbers = listed(part.number for part in rows)
    notes = [
        f"not in our tables; sizes of ISO 15 dimension series {reading.dimension_series}, bore "
        f"{mm_text(bore)}, shared by {numbers}"
    ]
    if len(shared) < 2:
        notes.append("these do not agree on the rest")
    return Found({**reading.sizes, **shared}, notes=tuple(notes))


def _digits_only(reading: Reading) -> Found:
    """What the number itself says; a seal code that gives no width is told those of the table."""
    only = "only what the number itself says" if reading.sizes else "it gives no size"
    notes = [f"not in our tables; {only}"]
    if reading.kind == "shaft seal" and "width" not in reading.sizes:
        widths = [
            mm_text(part.sizes["width"].value)
            for part in families.standard_parts()
            if part.kind == reading.kind and _off(part, reading.sizes) == 0
        ]
        if widths:
            notes.append(f"the table has this shaft and bore with width {listed(widths)}")
    begun = [
        part.number
        for part in families.standard_parts()
        if part.number.startswith(f"{reading.designation}x") and part.kind == reading.kind
    ]
    if begun and not reading.sizes:
        notes = [f"one size more names it: {listed(begun)}"]
    return Found(reading.sizes, notes=tuple(notes))


def _bored(reading: Reading) -> tuple[Found, ...]:
    """The row of the metric number with the bore that is written behind it, or the row that has
    other letters for the same; () where no table has that number."""
    found = _named(replace(reading, designation=reading.of, of=""))
    if not found:
        return ()
    row = found[0]
    sizes = {**row.sizes, **reading.sizes}
    if not reading.designation.startswith(reading.of):
        # Other letters for the same bearing: all its sizes are the row's.
        said = f"other letters for {reading.of}, {PRACTICE}: measure it"
        return (replace(row, also_written=(reading.of,), notes=(*row.notes, said), standard=""),)
    said = (
        f"outside diameter and width are those of {reading.of}; an inch bore behind a metric "
        f"number is {PRACTICE}: measure it"
    )
    # Other numbers of the row have its metric bore.
    return (replace(row, sizes=sizes, also_written=(), notes=(said,), standard=""),)


def look_up(reading: Reading) -> tuple[Found, ...]:
    """What is known of the sizes of ``reading``: one answer, or two for a number that is both a
    cone and a cup. () where the reading is only worth showing when a table has it and none does.
    """
    if {"inside", "section"} <= reading.sizes.keys():
        return _by_size(reading)
    if reading.of:
        return _bored(reading) or (() if reading.needs_table else (_digits_only(reading),))
    if reading.type in HELPERS:
        return HELPERS[reading.type](reading)
    found = _named(reading)
    if found or reading.needs_table:
        return found
    return (_by_series(reading) or _digits_only(reading),)
