"""Questions about machines, ranges, supersessions and interchanges."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import CTE, Connection, Select, literal, or_, select

from xref.domain.machine import WORKS, Applicability, Machine, MachineSerial
from xref.domain.number import key, visible
from xref.domain.supersession import Step
from xref.errors import NotFoundError
from xref.store.read.load import pieces
from xref.store.read.serial_rows import prefixes_seen, serials_from
from xref.store.tables.links import (
    NEW,
    WITH,
    applicability,
    interchange,
    machine,
    machine_serial,
    model,
    ordering,
    supersession,
    supersession_part,
)
from xref.store.tables.tables import maker, part, source, source_title


@dataclass(frozen=True, slots=True)
class InterchangeRow:
    """``part_id`` serves for ``other_id``; ``both_ways``: and the other for it."""

    id: int
    part_id: int
    other_id: int
    grade: str
    both_ways: bool
    note: str
    source: str


@dataclass(frozen=True, slots=True)
class ModelRow:
    """A model by name, with its serial prefixes in order of build.

    ``seen`` are components with a prefix that a serial of theirs has on a machine of this model.
    """

    id: int
    name: str
    maker: str
    prefixes: tuple[str, ...]
    seen: frozenset[tuple[str, str]] = frozenset()

    def known(self, component: str) -> frozenset[str]:
        """The prefixes that serials of ``component`` are known to have on this model."""
        own = self.prefixes if component == WORKS else ()
        return frozenset((*own, *(prefix for of, prefix in self.seen if of == component)))


def find_model(conn: Connection, name: str) -> ModelRow | None:
    """The model called ``name``; None where there is none."""
    query = _models().where(model.c.key == key(name))
    row = conn.execute(query).first()
    if row is None:
        return None
    return ModelRow(row[0], row[1], row[2], tuple(row[3].split()), prefixes_seen(conn, row[0]))


def _models() -> Select[int, str, str, str]:
    columns = (model.c.id, model.c.name, maker.c.name, model.c.prefixes)
    return select(*columns).join(maker, maker.c.id == model.c.maker_id)


def machines(conn: Connection) -> list[Machine]:
    """Every machine in order of name."""
    query = (
        select(
            machine.c.id,
            machine.c.name,
            machine.c.model_id,
            model.c.name,
            maker.c.name,
            model.c.prefixes,
        )
        .join(model, model.c.id == machine.c.model_id)
        .join(maker, maker.c.id == model.c.maker_id)
        .order_by(machine.c.key)
    )
    serials: dict[int, dict[str, MachineSerial]] = defaultdict(dict)
    columns = (
        machine_serial.c.machine_id,
        machine_serial.c.component,
        machine_serial.c.serial,
        machine_serial.c.stamped,
    )
    for owner, component, serial, stamped in conn.execute(
        select(*columns).order_by(machine_serial.c.id)
    ):
        serials[owner][component] = MachineSerial(serial, stamped)
    return [
        Machine(name, of, by, tuple(prefixes.split()), serials[ident], ident, model_id)
        for ident, name, model_id, of, by, prefixes in conn.execute(query)
    ]


def find_machine(conn: Connection, name: str) -> Machine:
    """The machine called ``name``, or the only one with that serial, of whatever component.

    Raises NotFoundError naming the nearest where there is none.
    """
    every = machines(conn)
    wanted = key(name)
    for found in every:
        if key(found.name) == wanted:
            return found
    by_serial = [m for m in every if any(key(s.serial) == wanted for s in m.serials.values())]
    if len(by_serial) == 1:
        return by_serial[0]
    import difflib

    near = difflib.get_close_matches(name, [m.name for m in every], n=1, cutoff=0.4)
    hint = f"Did you mean {near[0]}?" if near else "Add it with xref machine add."
    raise NotFoundError(f'no machine is called "{visible(name)}"', hint)


def applicabilities(conn: Connection, part_ids: Sequence[int]) -> list[Applicability]:
    """Every entry for these parts, in the order they were written down."""
    found = []
    for some in pieces(part_ids):
        query = _entries().where(applicability.c.part_id.in_(some))
        found += [_entry(row) for row in conn.execute(query.order_by(applicability.c.id))]
    return found


def _entries() -> Select[Any]:
    a = applicability.c
    return (
        select(
            a.id,
            a.part_id,
            model.c.name,
            a.component,
            a.serials,
            a.fits,
            a.assembly,
            a.quantity,
            source_title,
            a.note,
            a.as_found,
        )
        .join(model, model.c.id == a.model_id)
        .outerjoin(source, source.c.id == a.source_id)
    )


def _entry(row: Sequence[object]) -> Applicability:
    ident, part_id, of, component, serials, fits, assembly, quantity, title, note, written = row
    return Applicability(
        part_id=int(str(part_id)),
        model=str(of),
        component=str(component),
        serials=serials_from(str(serials), str(written)),
        fits=bool(fits),
        assembly=str(assembly),
        quantity=None if quantity is None else float(str(quantity)),
        source=str(title or "").strip(),
        note=str(note),
        id=int(str(ident)),
        as_found=str(written),
    )


def steps_forward(conn: Connection, part_ids: Sequence[int]) -> dict[int, list[Step]]:
    """Every step that can be reached from these parts, by old number."""
    reach = _reach(part_ids, forward=True)
    return _by_old(_steps(conn, select(reach.c.id)))


def steps_backward(conn: Connection, part_ids: Sequence[int]) -> dict[int, list[Step]]:
    """Every step that leads to these parts, by new number."""
    reach = _reach(part_ids, forward=False)
    by_new: dict[int, list[Step]] = defaultdict(list)
    for step in _steps(conn, select(reach.c.id)):
        for new, _ in step.news:
            by_new[new].append(step)
    return by_new


def steps_beside(conn: Connection, part_id: int) -> list[Step]:
    """Every step of other numbers with which this part must be changed together."""
    s, p = supersession.c, supersession_part.c
    olds = (
        select(s.old_id)
        .join(supersession_part, p.supersession_id == s.id)
        .where(p.role == WITH, p.part_id == part_id)
    )
    return [step for step in _steps(conn, olds) if part_id in step.companions]


def _reach(part_ids: Sequence[int], forward: bool) -> CTE:
    """The ids reached along supersessions; UNION keeps each once, so that a cycle ends."""
    start = select(part.c.id.label("id")).where(part.c.id.in_(list(part_ids)))
    reach = start.cte("reach", recursive=True)
    s, p = supersession.c, supersession_part.c
    ends = (s.old_id, p.part_id) if forward else (p.part_id, s.old_id)
    step = (
        select(ends[1])
        .select_from(supersession.join(supersession_part, p.supersession_id == s.id))
        .join(reach, reach.c.id == ends[0])
        .where(p.role == literal(NEW))
    )
    return reach.union(step)


def _steps(conn: Connection, ids: Select[int]) -> list[Step]:
    s, p = supersession.c, supersession_part.c
    rows = conn.execute(
        select(
            s.id,
            s.old_id,
            s.kind,
            s.serves_back,
            s.model_id,
            s.serials,
            s.dated,
            s.reason,
            source_title,
            s.as_found,
            p.part_id,
            p.role,
            p.quantity,
        )
        .join(supersession_part, p.supersession_id == s.id)
        .outerjoin(source, source.c.id == s.source_id)
        .where(s.old_id.in_(ids))
        .order_by(s.id, p.id)
    )
    gathered: dict[int, tuple[Sequence[object], list[tuple[int, float]], list[int]]] = {}
    for row in rows:
        _, news, companions = gathered.setdefault(row[0], (row, [], []))
        if row[11] == NEW:
            news.append((row[10], float(row[12])))
        else:
            companions.append(row[10])
    return [_step(row, tuple(news), tuple(with_)) for row, news, with_ in gathered.values()]


def _step(
    row: Sequence[object], news: tuple[tuple[int, float], ...], companions: tuple[int, ...]
) -> Step:
    ident, old, kind, back, of, serials, dated, reason, title, written = row[:10]
    return Step(
        id=int(str(ident)),
        old=int(str(old)),
        kind=str(kind),
        news=news,
        companions=companions,
        serves_back=bool(back),
        model=None if of is None else int(str(of)),
        condition=serials_from(str(serials), str(written)),
        dated=str(dated),
        reason=str(reason),
        source=str(title or "").strip(),
        as_found=str(written),
    )


def _by_old(steps: Iterable[Step]) -> dict[int, list[Step]]:
    found: dict[int, list[Step]] = defaultdict(list)
    for step in steps:
        found[step.old].append(step)
    return found


def interchanges(conn: Connection, part_ids: Sequence[int]) -> list[InterchangeRow]:
    """Every interchange that one of these parts stands in, oldest first."""
    i = interchange.c
    found: dict[int, InterchangeRow] = {}
    for some in pieces(part_ids):
        rows = conn.execute(
            select(i.id, i.part_id, i.other_id, i.grade, i.both_ways, i.note, source_title)
            .outerjoin(source, source.c.id == i.source_id)
            .where(or_(i.part_id.in_(some), i.other_id.in_(some)))
            .order_by(i.id)
        )
        for row in rows:
            found[row[0]] = InterchangeRow(*row[:6], (row[6] or "").strip())
    return list(found.values())


def order_instead(conn: Connection, part_id: int) -> str:
    """What to order in place of a part that is not sold separately; "" where not on record."""
    query = select(ordering.c.order_instead).where(ordering.c.part_id == part_id)
    return str(conn.scalar(query) or "")
