"""Write down that one number took the place of another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from xref.domain.line import optional_line
from xref.domain.number import visible
from xref.domain.part import Part
from xref.domain.serial import WORKS, read_serials
from xref.domain.serial_range import EVERY_SERIAL, SerialRange, SerialSet
from xref.domain.supersession import CHOICE, KINDS, ONE, SET, Step, path_between
from xref.errors import InputError
from xref.services.parts.cautioning import every_caution
from xref.services.parts.naming import find_or_mention, maker_beside, mention_beside
from xref.services.parts.source import source_id_of
from xref.store.read.links import ModelRow, steps_forward
from xref.store.read.load import load_parts
from xref.store.write.link_unit import add_step, ensure_model, step_on_record
from xref.store.write.unit import UnitOfWork

MOST_NEW = 200
MOST_DATE, MOST_REASON = 40, 300
"""Characters of a date, and of a reason."""
SUPERSEDED = "superseded"
WITHOUT_STEP = ("current", "mentioned")
"""A part of this status becomes superseded by a step that holds for every serial."""


@dataclass(frozen=True, slots=True)
class Told:
    """A step as it is told, without its parts: the words of ``supersede``."""

    kind: str
    serves_back: bool
    serials: str
    model: str
    quantity: float
    record_anyway: bool
    source: str
    date: str
    reason: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """What was written down: the parts of the step, and the numbers made for it. ``known``: it was
    on record already, with nothing different, and was not written down again."""

    old: Part
    news: tuple[Part, ...]
    companions: tuple[Part, ...]
    made: tuple[str, ...]
    cycle: tuple[str, ...] = ()
    known: bool = False
    cautions: tuple[str, ...] = ()


def supersede(  # noqa: PLR0913 (one word of the command each)
    unit: UnitOfWork,
    old: str,
    news: Sequence[str],
    *,
    kind: str = "",
    serves_back: bool = False,
    serials: str = "",
    model: str = "",
    quantity: float = 1.0,
    companions: Sequence[str] = (),
    record_anyway: bool = False,
    source: str = "",
    date: str = "",
    reason: str = "",
    maker: str | None = None,
) -> Recorded:
    """Write down that ``old`` is superseded by ``news``.

    ``kind`` is one, set (all of them) or choice (any of them); "" is one for one number and refuses
    several. Numbers that are not there are made as mentioned only; a step that is on record is not
    written down twice. Raises InputError for a step that would close a cycle, with the path, unless
    ``record_anyway``.
    """
    whose = maker_beside(unit.conn, news[0]) if news else ""
    first = mention_beside(unit, old, maker, whose)
    beside_maker = first.part.own_maker
    named = [find_or_mention(unit, number, maker, beside_maker) for number in news]
    beside = [find_or_mention(unit, number, maker, beside_maker) for number in companions]
    told = Told(kind, serves_back, serials, model, quantity, record_anyway, source, date, reason)
    after, with_ = [n.part for n in named], [n.part for n in beside]
    step, cycle = step_of(
        told, first.part, after, with_, partial(closed_cycle, unit), partial(ensure_model, unit)
    )
    source_id = source_id_of(unit, source)
    known = step_on_record(unit.conn, step, source_id)
    if not known:
        add_step(unit, step, source_id)
    if replaced_wholly(first.part, serials, model):
        unit.change_part(first.part.id, replace(first.part, status=SUPERSEDED))
    made = tuple(n.part.number for n in (first, *named, *beside) if n.made)
    mind = every_caution(unit.conn, [first.part, *after])
    return Recorded(first.part, tuple(after), tuple(with_), made, cycle, known, mind)


def step_of(
    told: Told,
    old: Part,
    news: Sequence[Part],
    companions: Sequence[Part],
    cycle_by: Callable[[Part, Sequence[int]], tuple[str, ...]],
    model_named: Callable[[str, str], ModelRow],
) -> tuple[Step, tuple[str, ...]]:
    """The step that is told of these parts, and the cycle that it closes (() for none).

    ``cycle_by`` finds the numbers along the cycle that a step from a part to others would close,
    ``model_named`` the model of a name, made for a maker where it is not there. Raises InputError.
    """
    how = _kind(told.kind, news)
    if not 0 < told.quantity <= 10_000:
        raise InputError(
            f"{told.quantity:g} is no quantity", "Give how many replace one, such as 2."
        )
    ids = _others(old, news)
    cycle = cycle_by(old, ids)
    if cycle and not told.record_anyway:
        raise InputError(
            f"that would close a cycle: {' → '.join(cycle)}",
            "Look again at the book; --record-anyway writes it down as it stands there.",
        )
    model = model_named(told.model, old.own_maker) if told.model else None
    step = Step(
        id=0,
        old=old.id,
        kind=how,
        news=tuple((ident, float(told.quantity)) for ident in ids),
        companions=tuple(dict.fromkeys(part.id for part in companions)),
        serves_back=told.serves_back,
        model=model.id if model else None,
        condition=condition(told.serials, model),
        as_found=told.serials.strip(),
        dated=optional_line(told.date, MOST_DATE, "date"),
        reason=optional_line(told.reason, MOST_REASON, "reason"),
        source=told.source,
    )
    return step, cycle


def replaced_wholly(old: Part, serials: str, model: str) -> bool:
    """Whether a part becomes superseded by a step from it that is told for these serials of this
    model; "" for all."""
    return not (serials or model) and old.status in WITHOUT_STEP and not old.is_standard


def _kind(kind: str, news: Sequence[Part]) -> str:
    if not news:
        raise InputError("no new number is named", "Name what took its place.")
    if len(news) > MOST_NEW:
        raise InputError(f"{len(news)} new numbers are named; the most is {MOST_NEW}")
    if kind and kind not in KINDS:
        raise InputError(f'"{visible(kind)}" is no way to supersede', f"Use {', '.join(KINDS)}.")
    if len(news) == 1:
        return kind or ONE
    if kind in ("", ONE):
        raise InputError(
            f"{len(news)} new numbers are named", f"Say --as {SET} (all of them) or --as {CHOICE}."
        )
    return kind


def _others(old: Part, news: Sequence[Part]) -> list[int]:
    """Ids of the new parts. Raises InputError for ``old`` among them, and for one named twice."""
    ids = [part.id for part in news]
    if old.id in ids:
        raise InputError(f"{old.number} cannot supersede itself", "Name the new number.")
    if len(set(ids)) < len(ids):
        raise InputError("the same new number is named twice", "Use --quantity for more than one.")
    return ids


def condition(serials: str, model: ModelRow | None) -> SerialSet:
    """The serials of a condition; a bare serial means from that serial on.

    A range without a prefix takes the model's, where it has just one. Raises InputError.
    """
    if not serials.strip():
        return EVERY_SERIAL
    wanted = read_serials(serials, model.known(WORKS) if model else ())
    if model and len(model.prefixes) == 1:
        wanted = wanted.with_prefix(model.prefixes[0])
    only = wanted.ranges[0]
    if len(wanted.ranges) == 1 and not wanted.exceptions and only.low == only.high and only.low:
        return SerialSet((SerialRange(only.low, None),))
    return wanted


def closed_cycle(unit: UnitOfWork, old: Part, news: Sequence[int]) -> tuple[str, ...]:
    """The numbers along the cycle that a step from ``old`` would close; () for none."""
    steps = steps_forward(unit.conn, news)
    for ident in news:
        path = path_between(ident, old.id, steps)
        if path:
            parts = {p.id: p.number for p in load_parts(unit.conn, list(path))}
            return (old.number, *(parts[node] for node in path))
    return ()
