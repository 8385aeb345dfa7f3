"""Ball bearings with an inch bore in a metric size, made when they are asked for: 6203-10.

No table has them and nobody lists them: a metric number with the bore in sixteenths behind it is
common practice, no published source. They are offered beside the rows of the store where the mark
or the measured bore says so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from xref.domain.part import Part, Spelling, StoredSize
from xref.domain.query import Query, SizeReading
from xref.domain.size import NM_PER_INCH, inch_text, short_mm
from xref.errors import InputError

SIXTEENTH = NM_PER_INCH // 16
RARER = 0.3
"""Bearings with an inch bore, as a share of those with the metric one. Judged."""
OFF = 400_000
"""A size other than the bore that lies this far (nm) from the row's is of another one. Judged."""

AS_MARKED = 0.29
"""A number with its suffixes between, as it is marked (6203-2RS-10): too rare to print. Judged."""

_MAY_BE = re.compile(r"\d[\s-]*(?:[A-Z0-9]*[\s-]+)?\d{1,2}(?!\d)|\d/\d", re.IGNORECASE)
"""A mark that is worth reading for a bore behind its number; reading costs more than this."""


def inch_read(reading: SizeReading) -> int | None:
    """The sixteenth of an inch (nm) that a measured bore is; None where it is none, or a whole
    millimetre is as near."""
    nearest = round(reading.value / SIXTEENTH) * SIXTEENTH
    metric = round(reading.value, -6)
    within = reading.error + reading.hand
    off = abs(nearest - reading.value)
    nearer_mm = reading.unit != "inch" and abs(metric - reading.value) <= min(within, off)
    return None if off > within or nearer_mm else nearest


def _bore(query: Query) -> int | None:
    return inch_read(query.sizes["bore"]) if "bore" in query.sizes else None


def asks_for_inch_bore(query: Query) -> bool:
    """Whether a mark or the measured bore may be that of an inch-bored bearing."""
    return _bore(query) is not None or any(_MAY_BE.search(mark.text) for mark in query.marks)


def without_bore(query: Query) -> Query:
    """The same by its other sizes, which find the metric bearing that was bored."""
    return replace(query, sizes={n: s for n, s in query.sizes.items() if n != "bore"})


def inch_bored(query: Query, found: Sequence[tuple[Part, ...]]) -> list[tuple[Part, ...]]:
    """The inch-bored forms of what was ``found`` that the marks or the bore of ``query`` speak of;
    [] for none. They are no rows of the store: their id is 0."""
    marked, bore = dict(_marked(query)), _bore(query)
    made: dict[str, Part] = {}
    for records in found:
        row = next((part for part in records if part.is_standard), None)
        if row is None or row.type != "deep groove ball":
            continue
        marked_bore, text = marked.get(row.number, (None, ""))
        for inches in dict.fromkeys((marked_bore, bore)):
            form = _form(row, inches, query, text) if inches else None
            if form:
                made.setdefault(form.number, form)
    return [(part,) for part in made.values()]


def _marked(query: Query) -> Iterator[tuple[str, tuple[int, str]]]:
    """The metric number of each mark with an inch bore behind it, with the bore and the mark."""
    likely = [mark.text for mark in query.marks if _MAY_BE.search(mark.text)]
    if not likely:
        return
    from xref.designation import bearing  # its patterns cost more than most answers

    for text in likely:
        try:
            readings = bearing.read(text)
        except InputError:
            continue
        yield from ((r.of, (r.sizes["bore"], text)) for r in readings if r.of)


def _form(row: Part, bore: int, query: Query, marked: str) -> Part | None:
    """``row`` with that bore, also written as it is ``marked``.

    None where the bore makes no sense or another size speaks against it.
    """
    from xref.designation.inch_bore import makes_sense, names

    inches = Fraction(bore, NM_PER_INCH)
    metric = row.sizes["bore"].value
    if not {"outside", "width"} & {*query.sizes} and not query.marks:
        return None  # any bearing of about that bore
    far = any(
        abs(query.sizes[name].value - row.sizes[name].value) > OFF
        for name in ("outside", "width")
        if name in query.sizes
    )
    if far or not makes_sense(inches, metric):
        return None
    first, *others = names(row.number, inches)
    return replace(
        row,
        id=0,
        number=first,
        group=f"{row.group} bored {bore}",
        weight=row.weight * RARER,
        words=f"{row.words}, bore {inch_text(bore)}",
        sizes={**row.sizes, "bore": StoredSize(bore)},
        spellings=(
            Spelling(first, takes_suffix=True),
            *(Spelling(text, 1.0, "alias", True) for text in others),
            *(Spelling(text, AS_MARKED, "alias") for text in [marked] if text),
        ),
        tables_agreeing=0,
        note=f"a {row.number} with the bore {inch_text(bore)} in place of {short_mm(metric)}: "
        "common practice, no published source",
    )
