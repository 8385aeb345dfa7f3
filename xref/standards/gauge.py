"""Wire and sheet gauges: ``16 SWG`` is 0.064 in, 1.6256 mm."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from xref.designation.lazy import whole
from xref.standards.rowreader import decimal_inch
from xref.tables import Row, read_table

_NAMES = {
    "SWG": "SWG",
    "IMPERIAL STANDARD": "SWG",
    "BWG": "BWG",
    "BIRMINGHAM": "BWG",
    "STUBS": "BWG",
    "AWG": "AWG",
    "MUSIC WIRE": "music wire",
    "PIANO WIRE": "music wire",
    "MWG": "music wire",
    "US STEEL WIRE": "US steel wire",
    "STEEL WIRE": "US steel wire",
    "STUBS STEEL": "Stubs steel wire",
}
_SYSTEM = "|".join(sorted(_NAMES, key=len, reverse=True))
_NUMBER = r"(?P<number>\d/0|0{1,6}|\d{1,2})"
_AFTER = rf"(?:NO\.?\s*|#\s*)?{_NUMBER}\s*(?:GAUGE\s*)?(?P<system>{_SYSTEM}|GAUGE|GA)(?:\s*GAUGE)?"
_BEFORE = rf"(?P<system>{_SYSTEM}|GAUGE)\s*(?:NO\.?\s*|#\s*)?{_NUMBER}"

BARE = ("SWG", "BWG", "AWG", "US steel wire")
"""What a gauge without a name may be: British wire and sheet, tube, copper wire, steel wire."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """One number of one gauge: ``nm`` its thickness or diameter, ``note`` where tables differ."""

    name: str
    nm: int
    tables_agreeing: int
    note: str


@cache
def _rows() -> dict[tuple[str, str], Row]:
    return {(row["gauge"], row["number"]): row for row in read_table("wire_gauge")}


def gauges(text: str) -> tuple[Gauge, ...]:
    """The gauges that ``text`` names, with their thickness; () where it names none.

    Several only for a number without a system ("16 gauge"): the systems differ.
    """
    shown = " ".join(text.upper().split())
    found = whole(_AFTER, shown) or whole(_BEFORE, shown)
    if found is None:
        return ()
    system = _NAMES.get(found["system"], "")
    number = re.sub(r"^(0{2,6})$", lambda m: f"{len(m[1])}/0", found["number"])
    number = number if "/" in number else str(int(number))
    made = (_gauge(name, number) for name in ((system,) if system else BARE))
    return tuple(gauge for gauge in made if gauge is not None)


def _gauge(system: str, number: str) -> Gauge | None:
    row = _rows().get((system, number))
    if row is None:
        return None
    nm = decimal_inch(row["inch"]).value
    return Gauge(f"{number} {system}", nm, int(row["tables_agreeing"]), row["table_note"])


def gauge_size(text: str) -> int | None:
    """The size in nanometres of a gauge that is named with its system; None for any other text.

    "16 gauge" alone is None: the systems differ by up to a third.
    """
    found = gauges(text)
    return found[0].nm if len(found) == 1 else None
