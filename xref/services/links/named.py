"""Supersessions and interchanges by the numbers of the parts they lead to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from xref.domain.part import Part
from xref.domain.supersession import Step
from xref.sheets.fields import ONE_WAY, OTHER_WAY
from xref.store.read.links import InterchangeRow, interchanges, steps_forward
from xref.store.read.load import load_parts, pieces
from xref.store.read.sheet_links import model_names, shared_numbers


@dataclass(frozen=True, slots=True)
class NamedStep:
    """A supersession of a part by the numbers that follow it, as ``domain.supersession.Step`` has
    it. ``in_cycle``: it may close one, as the book has it."""

    kind: str
    news: tuple[str, ...]
    quantity: float
    companions: tuple[str, ...]
    serves_back: bool
    in_cycle: bool
    model: str
    serials: str
    date: str
    reason: str
    source: str


@dataclass(frozen=True, slots=True)
class NamedInterchange:
    """An interchange of a part with the one named ``number``. ``way`` is "" where both serve for
    each other, else one of ``sheets.fields.ONE_WAY`` and ``OTHER_WAY``."""

    number: str
    grade: str
    way: str
    note: str
    source: str


class NamedLinks:
    """The links of some parts, with the numbers of those they lead to."""

    def __init__(
        self,
        conn: Connection,
        ids: Sequence[int],
        own: Mapping[int, Part],
        places: Mapping[int, int],
    ) -> None:
        self._own = own
        steps: dict[int, list[Step]] = {}
        for some in pieces(ids):
            steps.update(steps_forward(conn, some))
        self._steps = {ident: steps[ident] for ident in ids if ident in steps}
        self._cyclic = _perhaps_cyclic(steps)
        self._rows = _by_owner(interchanges(conn, ids), own, places)
        every = [step for some in self._steps.values() for step in some]
        wanted = {new for step in every for new, _ in step.news}
        wanted |= {other for step in every for other in step.companions}
        wanted |= {_other(row, ident) for ident, rows in self._rows.items() for row in rows}
        self._named = {p.id: p for p in load_parts(conn, list(wanted - own.keys()))} | dict(own)
        linked = [self._named[ident] for ident in wanted]
        self._shared = shared_numbers(conn, [p.number for p in linked])
        self._models = model_names(conn) if any(step.model for step in every) else {}

    def steps(self, ident: int) -> Iterator[NamedStep]:
        """Each step from the part, once."""
        found: dict[NamedStep, None] = {}
        for step in self._steps.get(ident, ()):
            cyclic = ident in self._cyclic and any(new in self._cyclic for new, _ in step.news)
            named = NamedStep(
                kind=step.kind,
                news=tuple(self._address(ident, new) for new, _ in step.news),
                quantity=step.news[0][1],
                companions=tuple(self._address(ident, other) for other in step.companions),
                serves_back=step.serves_back,
                in_cycle=cyclic,
                model=self._models[step.model] if step.model else "",
                serials=step.condition.written,
                date=step.dated,
                reason=step.reason,
                source=step.source,
            )
            found[named] = None
        yield from found

    def interchanges(self, ident: int) -> Iterator[NamedInterchange]:
        """Each interchange that stands with the part."""
        for row in self._rows.get(ident, ()):
            way = "" if row.both_ways else ONE_WAY if row.part_id == ident else OTHER_WAY
            number = self._address(ident, _other(row, ident))
            yield NamedInterchange(number, row.grade, way, row.note, row.source)

    def _address(self, ident: int, other: int) -> str:
        """The number, with its maker where that is another than the part's own, and where the
        number alone would not say which part is meant."""
        one, two = self._own[ident], self._named[other]
        alone = two.maker == one.maker and two.number not in self._shared
        return two.number if alone else f"{two.maker}:{two.number}"


def _other(row: InterchangeRow, ident: int) -> int:
    return row.other_id if row.part_id == ident else row.part_id


def _by_owner(
    rows: Iterable[InterchangeRow], own: Mapping[int, Part], places: Mapping[int, int]
) -> dict[int, list[InterchangeRow]]:
    """The interchanges by the part they stand with: that which serves for the other, or the other
    where that is not among ``places``. What another one says as well is left out."""
    told: dict[tuple[frozenset[int], str, str], list[InterchangeRow]] = defaultdict(list)
    for row in rows:
        told[frozenset((row.part_id, row.other_id)), row.grade, row.source].append(row)
    found: dict[int, list[InterchangeRow]] = defaultdict(list)
    for same in told.values():
        both = [row for row in same if row.both_ways]
        both.sort(key=lambda row: (not row.note, places.get(row.part_id, len(places))))
        kept = both[:1] + [r for r in both[1:] if r.note not in ("", both[0].note)]
        notes = {"", *(r.note for r in kept)} if kept else set()
        kept += [r for r in same if not r.both_ways and r.note not in notes]
        for row in kept:
            owner = row.part_id if row.part_id in places else row.other_id
            if owner in own:
                found[owner].append(row)
    return found


def _perhaps_cyclic(steps: Mapping[int, Sequence[Step]]) -> set[int]:
    """Parts on a cycle of supersessions, or between two: what is left when again and again those
    are taken away that nothing leads to, or that lead nowhere."""
    onward: dict[int, set[int]] = defaultdict(set)
    back: dict[int, set[int]] = defaultdict(set)
    for old, some in steps.items():
        for step in some:
            for new, _ in step.news:
                onward[old].add(new)
                back[new].add(old)
    left = onward.keys() & back.keys()
    ready = list((onward.keys() | back.keys()) - left)
    while ready:
        gone = ready.pop()
        for ahead, behind in ((onward, back), (back, onward)):
            for node in ahead.pop(gone, ()):
                behind[node].discard(gone)
                if not behind[node] and node in left:
                    left.discard(node)
                    ready.append(node)
    return left
