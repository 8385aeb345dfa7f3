"""What tells colliding readings of one number apart: a size with its values, or what it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from xref.domain.size import mm_text

_ORDER = (
    "outside",
    "width",
    "bore",
    "section",
    "inside",
    "cup-width",
    "cone-width",
    "across-flats",
)
"""The easiest to measure first: an outside diameter takes any jaws. Judged."""

_WHAT_IT_IS = {
    "bearing": "a rolling bearing",
    "bush": "a plain bush, metal or hard plastic with no lip",
    "shaft seal": "a ring with a rubber lip",
    "o-ring": "a plain ring of rubber",
    "washer": "a flat ring of metal or fibre",
    "thread": "on the bolt or in a list of threads",
    "spanner": "on a spanner",
}
"""By the type where it says more than the kind, else by the kind."""


_ALIKE = "no size tells these readings apart"


class Reading(Protocol):
    """What is needed of a reading to tell it from another; sizes are in nanometres."""

    @property
    def designation(self) -> str: ...
    @property
    def kind(self) -> str: ...
    @property
    def type(self) -> str: ...
    @property
    def sizes(self) -> Mapping[str, int]: ...
    @property
    def measure(self) -> str: ...
    @property
    def decided_by(self) -> str: ...


def label(reading: Reading) -> str:
    """The type in short and the designation, "angular contact ball 7206"; inch bearings and the
    halves of a taper say so.
    """
    short, *finer = (reading.type or reading.kind).split(", ")
    finer = [word for word in finer if word in ("inch", "cone", "cup")]
    words = short.split(" ")
    if len(words) > 1 and reading.designation.startswith(words[-1]):
        short = " ".join(words[:-1])
    return " ".join((short, *finer, reading.designation))


def _by_kind(readings: Sequence[Reading]) -> str:
    kinds: dict[str, list[str]] = {}
    for reading in readings:
        by_type = reading.type in _WHAT_IT_IS or reading.kind == "other"
        what = reading.type if by_type else reading.kind
        kinds.setdefault(what, []).append(reading.designation)
    return "; ".join(
        f"{_WHAT_IT_IS.get(kind, kind)}: {' or '.join(numbers)}" for kind, numbers in kinds.items()
    )


def _by_own_sizes(readings: Sequence[Reading]) -> str:
    """The first size of each reading, where they have none in common (a cone and a cup)."""
    firsts = [(r, next((n for n in _ORDER if n in r.sizes), "")) for r in readings]
    return "; ".join(f"{name} {mm_text(r.sizes[name])}: {label(r)}" for r, name in firsts if name)


def _by_size(readings: Sequence[Reading]) -> str:
    """The one size with the most different values over readings that all have it."""
    shared = [n for n in _ORDER if all(n in reading.sizes for reading in readings)]
    if not shared:
        return _by_own_sizes(readings)
    name = max(shared, key=lambda n: len({reading.sizes[n] for reading in readings}))
    values: dict[int, list[str]] = {}
    for reading in readings:
        values.setdefault(reading.sizes[name], []).append(label(reading))
    if len(values) == 1:
        return ""
    return f"{name} " + "; ".join(
        f"{mm_text(value)}: {' or '.join(labels)}" for value, labels in values.items()
    )


def _unmeasured(reading: Reading) -> str:
    """What a reader says decides, where no sizes of the tables say it better."""
    measure = f"measure {reading.measure}" if reading.measure else ""
    return ", and ".join(text for text in (measure, reading.decided_by) if text)


def decided_by(readings: Sequence[Reading]) -> str:
    """What tells ``readings`` apart, in one line; "" where there are fewer than two.

    Says so where no size of theirs differs.
    """
    if len(readings) < 2:
        return ""
    pieces = []
    if len({reading.kind for reading in readings}) > 1:
        pieces.append(_by_kind(readings))
    for kind in dict.fromkeys(reading.kind for reading in readings):
        alike = [reading for reading in readings if reading.kind == kind]
        if len(alike) > 1:
            measured = _by_size(alike)
            said = [r.decided_by if measured else _unmeasured(r) for r in alike]
            pieces += [text for text in (measured, *said) if text]
    return "; ".join(dict.fromkeys(pieces)) or _ALIKE
