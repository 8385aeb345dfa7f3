"""Chains, ranges, donors and what belongs, as plain text."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from xref.domain.belongs import Belongs
from xref.domain.donor import PREFIX_APART, Axis, DonorRange
from xref.domain.machine import WORKS, Machine
from xref.domain.part import Part
from xref.domain.serial_range import UNKNOWN, SerialSet
from xref.domain.supersession import Step
from xref.render.lines import cautioned, what, wrapped
from xref.services.links.donor import Donor
from xref.services.links.trace import SoldNow, Traced

MOST_STEPS = 30
MOST_WAYS = 8
LISTED_NOTE = "Listed means that a book says so, not that it will go in: compare before fitting."


def named(part: Part) -> str:
    """Number and what it is."""
    return f"{part.number}  {what(part)}".rstrip()


def trace_text(traced: Traced, width: int) -> str:
    """The answer first: what is sold now; then the chain, then what is odd about it."""
    lines = _sold_now(traced, width)
    if traced.later:
        lines += ["", "Later:", *_chain(traced.later, traced, width)]
    if traced.earlier:
        lines += ["", "Earlier:", *_chain(tuple(reversed(traced.earlier)), traced, width)]
    for finding in traced.findings:
        lines += ["", *wrapped(f"{finding.kind.capitalize()}: {finding.message}.", width)]
    return "\n".join([*lines, *cautioned(traced.cautions, width)])


def _sold_now(traced: Traced, width: int) -> list[str]:
    ends = traced.current
    if not ends:
        return [f"{traced.part.number} leads to nothing that is sold."]
    if len(ends) == 1 and ends[0].part.id == traced.part.id:
        note = f" {ends[0].note}" if ends[0].note else " is not superseded"
        return wrapped(f"{traced.part.number}{note}.", width)
    lines = [_head(traced)]
    if len(traced.ways) > 1 and any(len(way) > 1 for way in traced.ways):
        by_id = {end.part.id: end for end in ends}
        for way in traced.ways[:MOST_WAYS]:
            told = " + ".join(_end(replace(by_id[i], quantity=q)) for i, q in way)
            lines += wrapped(told, width, "      ", "  - ")
        return [*lines, *_more(len(traced.ways) - MOST_WAYS, "ways")]
    for end in ends[:MOST_STEPS]:
        lines += wrapped(_end(end), width, "      ", "  ")
    return [*lines, *_more(len(ends) - MOST_STEPS, "numbers")]


def _head(traced: Traced) -> str:
    if len(traced.current) == 1:
        return "Ask for:"
    if not traced.ways:
        return "Ask for some of these, by the choices in the chain below:"
    if len(traced.ways) == 1:
        return "Ask for all of:"
    return "Ask for any one of:"


def _more(count: int, what: str) -> list[str]:
    return [f"  … {count} more {what}"] if count > 0 else []


def _end(end: SoldNow) -> str:
    many = f"{end.quantity:g} × " if end.quantity != 1 else ""
    note = f" ({end.part.number} {end.note})" if end.note else ""
    return f"{many}{named(end.part)}{note}"


def _chain(steps: Sequence[Step], traced: Traced, width: int) -> list[str]:
    lines = []
    for step in steps[:MOST_STEPS]:
        lines += wrapped(step_text(step, traced.parts), width, "      ", "  ")
    return [*lines, *_more(len(steps) - MOST_STEPS, "steps")]


def step_text(step: Step, parts: Mapping[int, Part]) -> str:
    """One step on one line: the numbers, when and where it holds, and who says so."""
    joint = {"set": " + ", "choice": " or "}.get(step.kind, ", ")
    news = joint.join(
        f"{q:g} × {parts[i].number}" if q != 1 else parts[i].number for i, q in step.news
    )
    sign = "↔" if step.serves_back else "→"
    told = [f"{parts[step.old].number} {sign} {news}"]
    if step.companions:
        told.append(f"with {', '.join(parts[i].number for i in step.companions)}")
    if not step.condition.every:
        told.append(f"for {step.condition}")
    told += [text for text in (step.dated, step.source, step.reason) if text]
    return ", ".join(told)


def belongs_text(
    part: Part, machine: Machine, verdict: Belongs, width: int, cautions: Sequence[str] = ()
) -> str:
    """The verdict, because of what, and what else is on record."""
    works = machine.serials.get("works")
    serial = f" ({works.serial})" if works else ""
    lines = wrapped(f"{part.number} on {machine.name}{serial}: {verdict.verdict}.", width)
    lines += wrapped(f"Because {verdict.because}.", width)
    lines += wrapped(_letters(machine, verdict), width)
    side = verdict.beside(machine)
    if side:
        lines += wrapped(f"A part that is fitted all the same is likely a {side} one.", width)
    for remark in verdict.remarks:
        lines += wrapped(f"Note: {remark}.", width)
    told = [(e, "") for e in verdict.ranges] + [(e, verdict.earlier) for e in verdict.before]
    for entry, whose in told:
        detail = [
            f"{whose}: {entry.shown()}" if whose else entry.shown(),
            f"holds: {entry.holds_for(machine)}",
        ]
        detail += [text for text in (entry.assembly, entry.source) if text]
        lines += wrapped("; ".join(detail), width, "      ", "  - ")
    if verdict.verdict in ("listed", "service part"):
        lines += wrapped(LISTED_NOTE, width)
    return "\n".join([*lines, *cautioned(cautions, width)])


def _letters(machine: Machine, verdict: Belongs) -> str:
    """How to say that a book leaves out the letters of the works serials; "" where it does not."""
    own = machine.serial_of(WORKS)
    open_to = [e for e in verdict.ranges if e.holds_for(machine) == UNKNOWN]
    bare = any(e.component == WORKS and _bare(e.serials) for e in open_to)
    if verdict.verdict != UNKNOWN or machine.prefixes or own is None or not (bare and own.prefix):
        return ""
    return (
        f'Where the book leaves {own.prefix} out, say so once: xref machine add "{machine.name}" '
        f"--model {machine.model} --serial {own} --prefixes {own.prefix}"
    )


def _bare(serials: SerialSet) -> bool:
    """Whether the first end of a set has no letters before its number."""
    ends = [end for held in serials.ranges for end in (held.low, held.high) if end]
    return bool(ends) and not ends[0].prefix


def machines_text(machines: Sequence[Machine]) -> str:
    """One line a machine and one a serial."""
    if not machines:
        return "No machines."
    lines = []
    for m in machines:
        by = f" ({m.maker})" if m.maker else ""
        lines.append(f"{m.name}  {m.model}{by}")
        for component, held in m.serials.items():
            where = f", stamped on {held.stamped}" if held.stamped else ""
            lines.append(f"  {component:<10} {held.serial}{where}")
    return "\n".join(lines)


def donor_text(found: Donor, width: int) -> str:
    """The best range, who speaks for and against it, a picture, and who is left out."""
    if not found.ranges:
        lines = ["No range of serials is on record for these numbers."]
    else:
        best = found.ranges[0]
        alone = all(r.score < best.score for r in found.ranges[1:])
        lines = wrapped(f"{'Likely' if alone else 'Perhaps'} off {_range(best)}.", width)
        lines += wrapped(_support(best), width)
        lines += _inside(found, width)
        lines += ["", *_picture(found, width)]
        for other in found.ranges[1:4]:
            like = "" if other.score < best.score else "as likely, "
            lines += wrapped(f"or {like}{_range(other)}. {_support(other)}", width, "     ", "  ")
    for new, old in found.replacing:
        said = f"{new} takes the place of {old}, which is listed there: perhaps a later spare."
        lines += wrapped(said, width)
    if found.outliers:
        lines += wrapped(f"Not from there: {', '.join(found.outliers)}.", width)
    if found.silent:
        lines += wrapped(f"No range on record for: {', '.join(found.silent)}.", width)
    return "\n".join([*lines, *cautioned(found.cautions, width)])


def _range(found: DonorRange) -> str:
    low, high = found.axis.serial(found.low), found.axis.serial(found.high)
    counted = "" if found.axis.component == "works" else f" by {found.axis.component} serial"
    if low is None and high is None:
        return f"any {found.axis.model}"
    if low is None:
        return f"a {found.axis.model} up to {high}{counted}"
    if high is None:
        return f"a {found.axis.model} from {low} on{counted}"
    return f"a {found.axis.model} from {low} to {high}{counted}"


def _support(found: DonorRange) -> str:
    told = f"For it: {', '.join(found.supported_by)}."
    return told + (f" Against: {', '.join(found.against)}." if found.against else "")


def _inside(found: Donor, width: int) -> list[str]:
    if found.machine is None:
        return []
    said = {
        True: f"{found.machine.name} lies inside that range.",
        False: f"{found.machine.name} lies outside it: {_elsewhere(found)}.",
        None: f"{found.machine.name} cannot be compared with that range.",
    }
    return wrapped(said[found.machine_inside], width)


def _elsewhere(found: Donor) -> str:
    """What follows where my machine lies outside the best range."""
    if found.machine_reached:
        return "yet its numbers take the place of ones listed for it, so they may be later spares"
    return "the assembly is from another machine"


def _picture(found: Donor, width: int) -> list[str]:
    """The ranges along the serial axis, one a line, the machine marked below."""
    axis = found.ranges[0].axis
    shown = [r for r in found.ranges if r.axis == axis]
    ends = [e for r in shown for e in (r.low, r.high) if not math.isinf(e)]
    mine = _mine(found, axis)
    if mine is not None:
        ends.append(mine)
    if not ends or max(ends) - min(ends) >= PREFIX_APART / 2:
        return []
    low, high = min(ends), max(ends)
    margin = max(1.0, (high - low) * 0.1)
    low, high = low - margin, high + margin
    columns = max(20, min(60, width - 16))

    def at(value: float) -> int:
        clipped = min(max(value, low), high)
        return round((clipped - low) / (high - low) * (columns - 1))

    lines = []
    for r in shown[:4]:
        start, stop = at(r.low), at(r.high)
        bar = [" "] * columns
        for column in range(start, stop + 1):
            bar[column] = "="
        if math.isinf(r.low):
            bar[0] = "<"
        if math.isinf(r.high):
            bar[-1] = ">"
        count = len(r.supported_by)
        lines.append(f"  {count:>3} {'part ' if count == 1 else 'parts'}  |{''.join(bar)}|")
    if mine is not None:
        mark = [" "] * columns
        mark[at(mine)] = "^"
        lines.append(f"  {'':>9}  {''.join(mark)} {axis.serial(mine)}".rstrip())
    return lines


def _mine(found: Donor, axis: Axis) -> float | None:
    if found.machine is None or found.machine.model != axis.model:
        return None
    serial = found.machine.serial_of(axis.component)
    return axis.place(serial) if serial else None
