"""A basic bearing number before its suffixes, and the reading made of both."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from xref.designation.reading import Feature, Reading
from xref.designation.suffix import Tail, read_tail, synonyms
from xref.domain.number import plain

_SIGNS = str.maketrans(
    {"_": "-", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "‒": "-", "×": "X", "⁄": "/"}
)

SEP = r"[ \-.:]*"
"""What may stand between the pieces of a number without changing it."""

END = r"(?![0-9]|[ ]*X[ ]*[0-9]|[.,][0-9]+(?![0-9A-Z]))"
"""Where a number has ended: no digit, no decimal and no further size follows."""


def cleaned(text: str) -> str:
    """``text`` in upper case with plain digits, dashes and single spaces.

    Raises InputError for empty, over-long or unprintable text.
    """
    return " ".join(plain(text).translate(_SIGNS).split())


def pattern(expression: str) -> re.Pattern[str]:
    """A compiled expression over ASCII digits only; other scripts' digits are not read."""
    return re.compile(expression, re.ASCII | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Basic:
    """A basic number as one grammar reads it. ``tail`` is the text after it, not yet understood.

    ``sizes`` are nanometres. ``also`` are other writings of the basic number. ``given`` are features
    the number itself carries, with no suffix. ``own_closed`` names the number of closed bearings
    that are wider than the open one ("" where closing changes no size).
    """

    designation: str
    type: str
    standard: str
    tail: str = ""
    numbering: str = "ISO"
    sizes: Mapping[str, int] = field(default_factory=dict)
    dimension_series: str = ""
    also: tuple[str, ...] = ()
    given: tuple[Feature, ...] = ()
    own_closed: str = ""
    note: str = ""
    decided_by: str = ""
    needs_table: bool = False


_SEALS = ("2RS", "2RZ")


def _closed(basic: Basic, tail: Tail) -> tuple[str, str]:
    """The row closed bearings have of their own, and a word on it; ("", "") where they have none."""
    closures = [code for code in tail.codes if code.group == "closure"]
    if not closures or not basic.own_closed:
        return "", ""
    same = closures[0].same_as or closures[0].code
    if same == "2Z" or same in _SEALS:
        word = "2Z" if same == "2Z" else "2RS"
        return f"{basic.own_closed}-{word}", "closed bearings of this series are wider than open"
    return "", "closed on one side it may be wider than the open one: measure the width"


def _other_tails(tail: Tail) -> tuple[str, ...]:
    """The tail with each closure equal in use in the closure's place."""
    closure = next((code for code in tail.codes if code.group == "closure"), None)
    if closure is None:
        return ()
    written, lead = tail.written, f"-{closure.code}"
    return tuple(written.replace(lead, f"-{code}", 1) for code in synonyms(closure.code))


def reading_of(basic: Basic, before: tuple[Feature, ...] = (), unread: str = "") -> Reading:
    """The whole reading: ``before`` are features of a prefix, ``unread`` a prefix not understood."""
    tail = read_tail(basic.tail, basic.type)
    named, word = _closed(basic, tail)
    base = basic.own_closed if named else basic.designation
    lead = "".join(feature.code for feature in before)
    given = tuple(f for f in basic.given if f.code not in {c.code for c in tail.codes})
    inside = "".join(f"-{f.code}" for f in given)
    written = f"{lead}{base}{inside}{tail.written}"
    others = [f"{lead}{base}{inside}{other}" for other in _other_tails(tail)]
    others += [f"{lead}{other}{inside}{tail.written}" for other in basic.also]
    return Reading(
        designation=named or basic.designation,
        kind="bearing",
        type=basic.type,
        numbering=basic.numbering,
        standard=basic.standard,
        sizes=basic.sizes,
        dimension_series="" if named else basic.dimension_series,
        features=(*before, *given, *tail.features),
        canonical=written,
        also_written=tuple(dict.fromkeys(o for o in others if o != written)),
        unknown=((unread,) if unread else ()) + tail.unknown,
        note="; ".join(text for text in (basic.note, word) if text),
        decided_by=basic.decided_by,
        needs_table=basic.needs_table,
    )
