"""Readings that name no row of their own: a spanner, the nut and the washer of a sleeve."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from xref.designation.reading import Reading
from xref.services.decode.lookup import Found, listed
from xref.standards import spanner
from xref.standards.gauge import gauges
from xref.standards.seats import held_by


def _spanner(reading: Reading) -> tuple[Found, ...]:
    """The size across flats of a spanner, and every hexagon it serves; () for one never made."""
    nm = spanner.opening(reading.designation)
    if nm is None:
        return ()
    fits = spanner.served(nm)
    return (
        Found(
            sizes={"across-flats": nm},
            tables_agreeing=min((part.tables_agreeing for part in fits), default=0),
            notes=spanner.in_words(nm),
            type=reading.type,
        ),
    )


def _nut(reading: Reading) -> tuple[Found, ...]:
    """The nut or lock washer of the sleeves that name it; () where none does."""
    held = held_by(reading.designation)
    if held is None:
        return ()
    notes = (
        f"thread {held.thread}",
        f"with {held.mate}" if held.mate else "",
        f"holds {listed(held.sleeves)}",
    )
    return (
        Found(
            sizes=held.sizes,
            tables_agreeing=held.tables_agreeing,
            notes=tuple(note for note in notes if note),
            type=reading.type,
        ),
    )


def _gauge(reading: Reading) -> tuple[Found, ...]:
    """What a gauge number measures; one answer a system where none is named."""
    named = gauges(reading.designation)
    alone = len(named) > 1
    return tuple(
        Found(
            sizes={"thickness": gauge.nm},
            tables_agreeing=gauge.tables_agreeing,
            notes=tuple(
                text
                for text in (
                    f"{gauge.name}: sheet this thick, or wire of this diameter",
                    "no system is named, and they differ: measure it" if alone else "",
                    gauge.note,
                )
                if text
            ),
            type=f"gauge {gauge.name}",
        )
        for gauge in named
    )


HELPERS: Mapping[str, Callable[[Reading], tuple[Found, ...]]] = {
    "spanner": _spanner,
    "sleeve nut": _nut,
    "lock washer": _nut,
    "wire or sheet gauge": _gauge,
}
"""How a type without rows of its own is looked up."""
