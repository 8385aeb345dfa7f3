"""Wire and sheet gauges by their number: ``16 SWG``, ``AWG 12``, ``18 gauge``."""

from __future__ import annotations

from xref.designation.callout import reading
from xref.designation.lazy import says
from xref.designation.reading import Reading
from xref.domain.number import plain

TYPE = "wire or sheet gauge"


def read(text: str) -> tuple[Reading, ...]:
    """The gauge that ``text`` may name, whose size the table gives; () where none.

    Raises InputError as ``plain`` does.
    """
    shown = plain(text)
    words = ("SWG", "BWG", "AWG", "MWG", "GAUGE", " GA", "WIRE", "BIRMINGHAM", "STUBS", "IMPERIAL")
    if not says(shown, *words):
        return ()
    return (reading(shown, ("other", TYPE, ""), certain=False),)
