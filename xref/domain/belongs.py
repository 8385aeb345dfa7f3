"""Whether a part is listed for a machine, by what the books give for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from xref.domain.machine import TRIED, Applicability, Machine
from xref.domain.serial_range import IN, OUT, UNKNOWN

LISTED, SERVICE, NOT_LISTED, NOT_KNOWN = "listed", "service part", "not listed", "unknown"


@dataclass(frozen=True, slots=True)
class Belongs:
    """Whether a part is listed for a machine. Listed never means that it will go in.

    ``because`` says why in a sentence; ``remarks`` what else to know (a near break, sources that
    contradict each other); ``ranges`` are the part's own entries for this model, ``before`` those
    of the part whose place it takes by supersession, ``earlier``, where that one is listed.
    ``decisive`` is the entry that decided, None where the verdict is unknown.
    """

    verdict: str
    because: str
    remarks: tuple[str, ...]
    ranges: tuple[Applicability, ...]
    decisive: Applicability | None = None
    earlier: str = ""
    before: tuple[Applicability, ...] = ()

    def beside(self, machine: Machine) -> str:
        """``later`` or ``earlier`` where every book lists a part that is not listed so; else ""."""
        if (
            self.verdict != NOT_LISTED
            or self.before
            or not all(entry.fits for entry in self.ranges)
        ):
            return ""
        sides = {entry.beside(machine) for entry in self.ranges}
        return sides.pop() if len(sides) == 1 else ""

    def to_json(self, machine: Machine) -> dict[str, Any]:
        """The JSON document of ``belongs``."""
        return {
            "verdict": self.verdict,
            "because": self.because,
            "remarks": list(self.remarks),
            "ranges": [
                *({**entry.to_json(machine), "of": None} for entry in self.ranges),
                *({**entry.to_json(machine), "of": self.earlier} for entry in self.before),
            ],
        }


def judge(number: str, entries: Sequence[Applicability], machine: Machine) -> Belongs:
    """What the books say of ``number`` on ``machine``, supersession left aside.

    Unknown is never told as not listed: a part is not listed where every entry for this model can
    be compared with the machine and none covers it, or where one says that it does not fit there.
    A misfit that was tried outranks what a book lists, unless it was tried and fitted as well.
    """
    here = [e for e in entries if e.model == machine.model]
    said = [(e, e.holds_for(machine)) for e in here]
    fits = [e for e, holds in said if holds == IN and e.fits]
    not_fits = [e for e, holds in said if holds == IN and not e.fits]
    outside = [e for e, holds in said if holds == OUT and e.fits]
    open_to = [e for e, holds in said if holds == UNKNOWN and e.fits]
    remarks, ranges = _remarks(fits, not_fits, outside, here, machine), tuple(here)
    tried = {e.fits for e in (*fits, *not_fits) if e.source == TRIED}
    if fits and tried != {False}:
        because = f"{number} is listed for {fits[0].shown()}{_of(fits[0])}"
        return Belongs(LISTED, because, remarks, ranges, fits[0])
    if not_fits:
        entry = next((e for e in not_fits if e.source == TRIED), not_fits[0])
        because = f"{number} is on record as not fitting {entry.model} {entry.serials}"
        return Belongs(NOT_LISTED, because + _of(entry), remarks, ranges, entry)
    if outside and not open_to:
        because = f"{number} is listed only for {_each(outside)}"
        return Belongs(NOT_LISTED, because, remarks, ranges, outside[0])
    return Belongs(NOT_KNOWN, _why_unknown(number, here, open_to, machine), remarks, ranges)


def through_chain(own: Belongs, number: str, earlier: str, listed: Belongs, named: bool) -> Belongs:
    """What ``own``, the part's own entries, and its place in a chain say together.

    ``listed`` is the verdict on ``earlier``, whose place ``number`` takes. Its own entries come
    first: where they leave the machine out it is not listed, and the chain is told after them,
    unless the chain itself is on record for this machine's serials (``named``). Where they are
    silent or cannot be compared, it is a service part.
    """
    chain = f"{number} takes the place of {earlier}; {listed.because}"
    remarks = tuple(dict.fromkeys((*own.remarks, *listed.remarks)))
    together = replace(own, earlier=earlier, before=listed.ranges, remarks=remarks)
    if own.verdict == NOT_LISTED and not named:
        told = f"{own.because}; yet {chain}, so that it may be the spare for it: compare the two"
        return replace(together, because=told)
    because = f"{own.because}; {chain}" if any(e.fits for e in own.ranges) else chain
    return replace(together, verdict=SERVICE, because=because, decisive=listed.decisive)


def _each(entries: Sequence[Applicability], most: int = 4) -> str:
    told = [f"{e.shown()}{_of(e)}" for e in entries[:most]]
    return "; ".join(told) + ("; …" if len(entries) > most else "")


def _of(entry: Applicability) -> str:
    if entry.source == TRIED:
        return ", tried on the bench"
    return f", by {entry.source}" if entry.source else ""


def _why_unknown(
    number: str, here: Sequence[Applicability], open_to: Sequence[Applicability], machine: Machine
) -> str:
    if not any(e.fits for e in here):
        return f"nothing on record says where {number} is listed on a {machine.model}"
    unread = [e for e in open_to if e.serials.unread]
    if unread:
        told = "; ".join(f'"{e.serials.unread}"{_of(e)}' for e in unread[:2])
        return f"the serials on which {number} is listed were not understood: {told}"
    missing = {e.component for e in open_to if e.component not in machine.serials}
    if missing:
        counted = ", ".join(sorted(missing))
        return f"{number} is listed by {counted} serial, and {machine.name} has none on record"
    against = {f"{e.serials} against {machine.serials[e.component].serial}": None for e in open_to}
    return (
        f"the serials on record for {number} cannot be compared with those of {machine.name}, "
        f"the letters differ: {'; '.join(list(against)[:2])}"
    )


def _remarks(
    fits: Sequence[Applicability],
    not_fits: Sequence[Applicability],
    outside: Sequence[Applicability],
    here: Sequence[Applicability],
    machine: Machine,
) -> tuple[str, ...]:
    told = []
    if fits and not_fits:
        told.append(
            f"on record both as listed ({fits[0].shown()}{_of(fits[0])}) and as not fitting "
            f"({not_fits[0].model} {not_fits[0].serials}{_of(not_fits[0])})"
        )
    against = [e for e in outside if fits and e.source != fits[0].source]
    if against:
        told.append(
            f"the sources disagree: {fits[0].shown()}{_of(fits[0])}, but "
            f"{against[0].shown()}{_of(against[0])}"
        )
    if not fits and len({e.source for e in outside}) > 1 and len({e.serials for e in outside}) > 1:
        told.append(f"the sources give different ranges: {_each(outside)}")
    unread = [e for e in here if e.serials.unread and not e.fits]
    if unread:
        told.append(
            f"it is on record as not fitting some, and which was not understood: "
            f'"{unread[0].serials.unread}"{_of(unread[0])}'
        )
    for entry in here:
        end = entry.near_break(machine) if entry.source != TRIED else ""
        if end:
            told.append(
                f"near the break at {end}: makers used up old stock, so either may be found "
                "(common practice, no published source)"
            )
            break
    return tuple(told)
