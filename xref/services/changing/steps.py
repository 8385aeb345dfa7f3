"""Supersessions on record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import Any

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.domain.supersession import CHOICE, SET, Step
from xref.services.changing.fact import MOST, NOTHING, Changed, Fact, joined, kept, no_such
from xref.services.links.supersede import SUPERSEDED, WITHOUT_STEP, Told, closed_cycle, step_of
from xref.services.parts.designated import look_up
from xref.services.parts.naming import find_or_mention
from xref.services.parts.source import source_id_of
from xref.store.read.links import steps_forward
from xref.store.read.load import load_parts
from xref.store.read.sheet_links import model_names
from xref.store.write import facts
from xref.store.write.link_unit import ensure_model
from xref.store.write.unit import UnitOfWork

KIND, COMMAND = "supersession", "supersede"
WITHOUT = ("serials", "model", "with", "source", "date", "reason")
"""What can be taken from a supersession; without serials and model it holds for every machine."""


def listed(
    conn: Connection, number: str | None = None, maker: str | None = None, most: int = MOST
) -> list[Fact]:
    """The supersessions on record, oldest first: those that name one part, or all."""
    part_id = look_up(conn, number, maker).id if number else None
    return _facts(conn, facts.step_owners(conn, most, part_id))


def standing_in(conn: Connection, part_id: int) -> list[Fact]:
    """The supersessions that name a part."""
    return _facts(conn, facts.step_owners(conn, 10_000, part_id))


def _facts(conn: Connection, owners: Sequence[tuple[int, int]]) -> list[Fact]:
    by_old = steps_forward(conn, list(dict.fromkeys(old for _, old in owners)))
    wanted = {ident for ident, _ in owners}
    found = {step.id: step for steps in by_old.values() for step in steps if step.id in wanted}
    return facts_of(conn, [found[ident] for ident in sorted(found)])


def facts_of(conn: Connection, steps: Sequence[Step]) -> list[Fact]:
    """Supersessions as facts."""
    ids = {i for s in steps for i in (s.old, *(n for n, _ in s.news), *s.companions)}
    parts = {part.id: part for part in load_parts(conn, sorted(ids))}
    models = model_names(conn) if any(step.model for step in steps) else {}
    return [_fact(step, parts, models.get(step.model or 0, "")) for step in steps]


def _fact(step: Step, parts: dict[int, Part], model: str) -> Fact:
    joint = {SET: " + ", CHOICE: " or "}.get(step.kind, ", ")
    news = [f"{q:g} × {parts[i].number}" if q != 1 else parts[i].number for i, q in step.news]
    beside = ", ".join(parts[i].number for i in step.companions)
    range_ = " ".join(text for text in (model, step.condition.written) if text)
    says = joined(
        f"{'↔' if step.serves_back else '→'} {joint.join(news)}",
        f"with {beside}" if beside else "",
        f"for {range_}" if range_ else "",
        step.dated,
        step.reason,
        step.source,
    )
    values: dict[str, Any] = {
        "maker": parts[step.old].maker or None,
        "as": step.kind,
        "new": [{"number": parts[i].number, "quantity": q} for i, q in step.news],
        "with": [parts[i].number for i in step.companions],
        "serves_back": step.serves_back,
        "model": model or None,
        "serials": step.condition.written or None,
        "date": step.dated or None,
        "reason": step.reason or None,
        "source": step.source or None,
    }
    return Fact(step.id, KIND, parts[step.old].number, says, values)


def change(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    ident: int,
    *,
    news: Sequence[str] | None = None,
    kind: str | None = None,
    serves_back: bool | None = None,
    serials: str | None = None,
    model: str | None = None,
    quantity: float | None = None,
    companions: Sequence[str] | None = None,
    record_anyway: bool = False,
    source: str | None = None,
    date: str | None = None,
    reason: str | None = None,
) -> Changed:
    """Change what is given of one supersession and leave the rest (None); "" and () take it away.

    The old part stays: a supersession of another is one of its own. Raises NotFoundError for a
    number that none has, InputError for what ``supersede`` refuses.
    """
    held, old, was = _held(unit.conn, ident)
    words = (kind, serves_back, serials, model, quantity, source, date, reason, news, companions)
    if all(word is None for word in words):
        raise NOTHING
    row = facts.row_of(unit.conn, facts.STEP, ident) or {}
    model_was = str(was.values["model"] or "")
    told = Told(
        kind=_kind(kind, held, news),
        serves_back=held.serves_back if serves_back is None else serves_back,
        serials=held.condition.written if serials is None else serials,
        model=kept(model, model_was),
        quantity=held.news[0][1] if quantity is None else quantity,
        record_anyway=record_anyway or news is None,
        source=kept(source, held.source),
        date=kept(date, held.dated),
        reason=kept(reason, held.reason),
    )
    after = _parts(unit, old, news, [i for i, _ in held.news])
    beside = _parts(unit, old, companions, held.companions)
    step, _ = step_of(
        told, old, after, beside, partial(closed_cycle, unit), partial(ensure_model, unit)
    )
    if quantity is None and news is None:
        step = replace(step, news=held.news)
    if serials is None and model is None:
        step = replace(step, condition=held.condition, as_found=held.as_found)
    source_id = row["source_id"] if source is None else source_id_of(unit, source)
    facts.rewrite_step(unit, ident, step, source_id)
    also = settle(unit, old, held, step)
    return Changed(was, _held(unit.conn, ident)[2], also)


def _kind(kind: str | None, held: Step, news: Sequence[str] | None) -> str:
    """How the new ones replace the old: as it was, where that still goes with how many they are."""
    if kind is not None or news is None:
        return kind or held.kind
    return held.kind if len(news) > 1 and held.kind in (SET, CHOICE) else ""


def _parts(
    unit: UnitOfWork, old: Part, numbers: Sequence[str] | None, held: Sequence[int]
) -> list[Part]:
    if numbers is not None:
        return [find_or_mention(unit, number, None, old.own_maker).part for number in numbers]
    by_id = {part.id: part for part in load_parts(unit.conn, list(held))}
    return [by_id[i] for i in held]


def remove(unit: UnitOfWork, ident: int) -> Changed:
    """Remove one supersession; its parts stay. Raises NotFoundError for a number none has."""
    held, old, was = _held(unit.conn, ident)
    unit.delete(facts.STEP, ident)
    return Changed(was, None, settle(unit, old, held, None))


def without_part(unit: UnitOfWork, ident: int, part_id: int) -> Changed:
    """Take a part out of a supersession; one that it began, or alone followed in, goes whole."""
    held, _, was = _held(unit.conn, ident)
    news = tuple(new for new in held.news if new[0] != part_id)
    if held.old == part_id or not news:
        return remove(unit, ident)
    row = facts.row_of(unit.conn, facts.STEP, ident) or {}
    companions = tuple(i for i in held.companions if i != part_id)
    kind = held.kind if len(news) > 1 else "one"
    step = replace(held, kind=kind, news=news, companions=companions)
    facts.rewrite_step(unit, ident, step, row["source_id"])
    return Changed(was, _held(unit.conn, ident)[2])


def settle(unit: UnitOfWork, old: Part, was: Step | None, now: Step | None) -> tuple[str, ...]:
    """Bring the status of ``old`` in line with a supersession that is another now, or gone.

    A part is superseded by a step for every serial; where the last of these goes it is what it was
    before any: current, or mentioned only where nothing is known of it.
    """
    if old.is_standard:
        return ()
    steps = steps_forward(unit.conn, [old.id]).get(old.id, ())
    wholly = any(_for_all(step) for step in steps)
    if now is not None and _for_all(now) and old.status in WITHOUT_STEP:
        status = SUPERSEDED
    elif was is not None and _for_all(was) and not wholly and old.status == SUPERSEDED:
        bare = not (old.kind or old.words or old.sizes or old.marks)
        status = "mentioned" if bare else "current"
    else:
        return ()
    unit.change_part(old.id, replace(old, status=status))
    return (f"{old.number} is {'mentioned only' if status == 'mentioned' else status} now.",)


def _for_all(step: Step) -> bool:
    return not step.model and step.condition.every


def _held(conn: Connection, ident: int) -> tuple[Step, Part, Fact]:
    row = facts.row_of(conn, facts.STEP, ident)
    if row is None:
        raise no_such(KIND, ident, COMMAND)
    (old,) = load_parts(conn, [row["old_id"]])
    step = next(s for s in steps_forward(conn, [old.id])[old.id] if s.id == ident)
    return step, old, facts_of(conn, [step])[0]
