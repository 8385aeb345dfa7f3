"""Follow a number to what is sold now, and back to what it replaced."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection

from xref.domain.machine import WORKS, Applicability, Machine
from xref.domain.part import Part
from xref.domain.serial_range import IN, OUT, UNKNOWN
from xref.domain.supersession import Step, backward
from xref.domain.trace import Allows, Trace, everything, forward
from xref.services.parts.cautioning import every_caution
from xref.services.parts.designated import look_up
from xref.store.read.links import find_machine, order_instead, steps_backward, steps_forward
from xref.store.read.load import load_parts

ENDS = {
    "discontinued": "is discontinued: nothing took its place",
    "superseded": "is superseded, but by what is not on record",
    "not-sold-separately": "is not sold separately",
    "buy-to-size": "is bought to size",
    "make-to-drawing": "is made to drawing",
}
DEAD = ("discontinued", "superseded")


@dataclass(frozen=True, slots=True)
class SoldNow:
    """What to ask for today. ``via`` are the numbers on the way there, the first one first.

    ``choice``: another of the ends would do instead. ``note`` says how it is had, "" where it is
    simply sold.
    """

    part: Part
    quantity: float
    via: tuple[str, ...]
    choice: bool
    note: str

    def to_json(self) -> dict[str, Any]:
        """As it stands in JSON."""
        return {
            "number": self.part.number,
            "maker": self.part.own_maker or None,
            "quantity": self.quantity,
            "via": list(self.via),
            "choice": self.choice,
            "status": self.part.status,
            "note": self.note or None,
        }


@dataclass(frozen=True, slots=True)
class Finding:
    """Something odd about the chain: cycle, fork, dead end, conflict, unknown number."""

    kind: str
    message: str


@dataclass(frozen=True, slots=True)
class Traced:
    """One number's chain, forward and back. ``parts`` names every part in it by id.

    ``ways``: each by itself replaces the number, all its (part id, quantity) together; one where
    there is no choice, () where there are too many to list.
    """

    part: Part
    current: tuple[SoldNow, ...]
    later: tuple[Step, ...]
    earlier: tuple[Step, ...]
    findings: tuple[Finding, ...]
    parts: dict[int, Part]
    machine: Machine | None = None
    ways: tuple[tuple[tuple[int, float], ...], ...] = ()
    cautions: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """The JSON document of ``trace``."""
        return {
            "number": self.part.number,
            "maker": self.part.own_maker or None,
            "current": [end.to_json() for end in self.current],
            "later": [step_json(step, self.parts) for step in self.later],
            "earlier": [step_json(step, self.parts) for step in self.earlier],
            "findings": [{"kind": f.kind, "message": f.message} for f in self.findings],
            "cautions": list(self.cautions),
        }


def step_json(step: Step, parts: Mapping[int, Part]) -> dict[str, Any]:
    """One step as JSON; ``parts`` has every part of it by id."""
    return {
        "id": step.id,
        "old": parts[step.old].number,
        "new": [
            {"number": parts[i].number, "maker": parts[i].own_maker or None, "quantity": q}
            for i, q in step.news
        ],
        "as": step.kind,
        "serves_back": step.serves_back,
        "with": [parts[i].number for i in step.companions],
        "serials": None if step.condition.every else str(step.condition),
        "date": step.dated or None,
        "source": step.source or None,
        "reason": step.reason or None,
    }


def trace(
    conn: Connection, number: str, maker: str | None = None, machine: str | None = None
) -> Traced:
    """The chain of ``number``; with a machine, steps for other serials are left out.

    Raises NotFoundError for a number or machine that is not there.
    """
    part = look_up(conn, number, maker)
    traced = trace_part(conn, part, find_machine(conn, machine) if machine else None)
    named = [part, *(end.part for end in traced.current if end.part.id != part.id)]
    return replace(traced, cautions=every_caution(conn, named))


def trace_part(conn: Connection, part: Part, machine: Machine | None = None) -> Traced:
    """The chain of a part that is already found."""
    ahead = forward(part.id, steps_forward(conn, [part.id]), allowed(machine))
    behind = backward(part.id, steps_backward(conn, [part.id]))
    parts = _named(conn, part, ahead, behind)
    current = tuple(
        SoldNow(
            parts[end.node],
            end.quantity,
            tuple(parts[node].number for node in end.via),
            end.choice,
            _note(conn, parts[end.node]),
        )
        for end in ahead.current
    )
    findings = (
        *_told(ahead, parts, machine),
        *_by_serial(ahead.steps, parts, machine),
        *_ends(current),
    )
    return Traced(part, current, ahead.steps, behind, findings, parts, machine, ahead.ways)


def allowed(machine: Machine | None) -> Allows:
    """The rule that leaves out steps which do not hold for the machine; all hold for none."""
    if machine is None:
        return everything

    def holds(step: Step) -> bool:
        return step_holds(step, machine) != OUT

    return holds


def step_holds(step: Step, machine: Machine | None) -> str:
    """``in``, ``out`` or ``unknown``: whether a step holds for the machine; unknown for none."""
    if machine is None:
        return IN if step.condition.every and not step.model else UNKNOWN
    if step.model not in (None, machine.model_id):
        return OUT
    if step.condition.every:
        return IN
    entry = Applicability(0, machine.model, WORKS, step.condition)
    return entry.holds_for(machine)


def _named(conn: Connection, part: Part, ahead: Trace, behind: Sequence[Step]) -> dict[int, Part]:
    ids = {part.id: None}
    for step in (*ahead.steps, *behind):
        ids |= dict.fromkeys((step.old, *(i for i, _ in step.news), *step.companions))
    return {p.id: p for p in load_parts(conn, list(ids))}


def _note(conn: Connection, part: Part) -> str:
    if part.status not in ENDS:
        return ""
    instead = order_instead(conn, part.id)
    return f"{ENDS[part.status]}{f': order {instead}' if instead else ''}"


def _told(ahead: Trace, parts: Mapping[int, Part], machine: Machine | None) -> Iterable[Finding]:
    by_serial = {step.old for step in ahead.steps if step_holds(step, machine) == UNKNOWN}
    for item in ahead.findings:
        names = [parts[node].number for node in item.nodes]
        if item.kind == "cycle":
            yield Finding("cycle", f"the chain runs in a circle: {' → '.join(names)}")
        elif item.kind == "conflict":
            yield Finding(
                "conflict",
                f"sources disagree on what superseded {names[0]}: {', '.join(names[1:])}",
            )
        elif item.nodes[0] not in by_serial:
            yield Finding(
                "fork",
                f"{names[0]} was superseded more than once, and nothing says which holds: "
                f"{', '.join(names[1:])}",
            )


def _by_serial(
    steps: Sequence[Step], parts: Mapping[int, Part], machine: Machine | None
) -> Iterable[Finding]:
    """Steps of which only the serial says whether they hold, where that is not known."""
    for step in steps:
        if step_holds(step, machine) != UNKNOWN:
            continue
        news = ", ".join(parts[node].number for node, _ in step.news)
        why = f"{machine.name}'s does not say" if machine else "name a machine to know"
        held = "one model" if step.condition.every else f"serials {step.condition}"
        yield Finding("fork", f"{parts[step.old].number} became {news} only for {held}: {why}")


def _ends(current: Sequence[SoldNow]) -> Iterable[Finding]:
    for end in current:
        if end.part.status in DEAD:
            yield Finding("dead end", f"{end.part.number} {end.note}")
        elif end.part.status == "mentioned":
            yield Finding(
                "unknown number",
                f"{end.part.number} is only mentioned: nothing else is known of it",
            )
