"""O-rings: dash numbers (``2-214``, ``AS568-214``), ISO 3601-1, JIS ``P25``, ``24.99x3.53``."""

from __future__ import annotations

import re
from dataclasses import replace

from xref.designation.oring_gost import gost_call
from xref.designation.oring_number import Call, dash_call, iso_call, jis_call, own_size_call
from xref.designation.oring_size import size_calls
from xref.designation.reading import Feature, Reading
from xref.designation.rubber import take_rubber, words
from xref.domain.number import plain

_NAMED = re.compile(r"\bO[ -]?RINGS?\b[ -]*(?=[^ -]|$)|\bOR[ -]+(?=[0-9])")
_OTHER_THING = re.compile(r"BUSH|SEAL|CHAIN|BELT|(?:DIN|ISO)[ -]?(?:3760|6194|3547|4379)")


def _reading(call: Call) -> Reading:
    rubber, rest = take_rubber(call.rest)
    features = (*call.features, *rubber)
    return Reading(
        designation=call.designation,
        kind="o-ring",
        type="o-ring",
        numbering=call.numbering,
        standard=call.standard,
        sizes=call.sizes,
        dimension_series="",
        features=features,
        canonical=" ".join((call.canonical or call.designation, *(f.code for f in rubber))),
        also_written=call.also_written,
        unknown=words(rest),
        note=call.note,
        decided_by=call.decided_by,
        needs_table=not call.certain,
    )


def _calls(text: str, *, named: bool) -> tuple[Call, ...]:
    gost = gost_call(text, named=named)
    if gost:
        return (gost,)
    one = iso_call(text) or dash_call(text, named=named) or jis_call(text, named=named)
    one = one or own_size_call(text)
    return (one,) if one else size_calls(text, named=named)


def read(text: str) -> tuple[Reading, ...]:
    """The O-rings that ``text`` may name; () where none. Sizes only where they are written.

    A bare three-digit number or a bare JIS size is a weak reading, worth showing only where a table
    has it. Raises InputError for empty, over-long or unprintable text.
    """
    shown = plain(text)
    if _OTHER_THING.search(shown):
        return ()
    bare = _NAMED.sub("", shown).strip()
    named = len(bare) < len(shown)
    calls = _calls(bare, named=named)
    if not calls:
        rubber, rest = take_rubber(bare)
        again = _calls(" ".join(rest.split()), named=named) if rubber else ()
        return tuple(_with_rubber(_reading(call), rubber) for call in again)
    return tuple(_reading(call) for call in calls)


def _with_rubber(reading: Reading, rubber: tuple[Feature, ...]) -> Reading:
    """``reading`` with the rubber that stood before the number."""
    codes = " ".join(feature.code for feature in rubber)
    return replace(
        reading, features=(*reading.features, *rubber), canonical=f"{reading.canonical} {codes}"
    )
