"""What else will do: the same thing written otherwise, the same sizes, with work, or stated."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection

from xref.domain.kinds import kind_from
from xref.domain.machine import Machine
from xref.domain.number import folded
from xref.domain.order import Order
from xref.domain.part import Part, StoredSize
from xref.domain.weights import ORIGIN_STANDARD
from xref.errors import InputError, NotFoundError
from xref.services.decode.decode import decode
from xref.services.fit.by_size import by_sizes, seated
from xref.services.fit.counter import orders
from xref.services.fit.differences import Difference, compare
from xref.services.links.interchange import FITS_NOT, SHOWN, Reached, reached, tried_between
from xref.services.parts.cautioning import cautions_of, never_by_size_of
from xref.services.parts.cautions import NOT_BY_SIZE, each_once
from xref.services.question import Asked, understand
from xref.store.index.near import group_members
from xref.store.notes.bare_unit import default_unit
from xref.store.read.links import find_machine
from xref.store.read.load import load_parts
from xref.store.read.queries import find_part, resolve

SAME, BOUNDARY, WORK, NEAR = (
    "same designation",
    "same boundary dimensions",
    "with work",
    "near miss",
)
ORDER = ("tried, fits", SAME, "stated", BOUNDARY, WORK, "tried, does not fit", NEAR)
"""What was tried outranks tables; a near miss is a warning and stands last."""

TRIED = ("tried, fits", "tried, does not fit")
MOST = 40


@dataclass(frozen=True, slots=True)
class Equivalent:
    """One line: a number that does the same, how well, and what differs.

    ``both`` is whether the two serve for each other; otherwise only this one for yours. ``order``
    is what to ask for today; None where the line is no record of its own.
    """

    number: str
    maker: str | None
    origin: str
    grade: str
    both: bool
    what: str
    differences: tuple[Difference, ...]
    cautions: tuple[str, ...]
    part: Part | None = None
    order: Order | None = None

    def to_json(self) -> dict[str, Any]:
        """As it stands in JSON; anybody makes a standard's row."""
        standard = self.origin == ORIGIN_STANDARD
        return {
            "number": self.number,
            "maker": None if standard else self.maker,
            "standard": self.maker if standard else None,
            "from": self.origin,
            "grade": self.grade,
            "direction": "both" if self.both else "one way",
            "description": self.what,
            "differences": [d.to_json() for d in self.differences],
            "cautions": list(self.cautions),
            "order": self.order.to_json() if self.order else None,
        }


@dataclass(frozen=True, slots=True)
class Equivalents:
    """Every equivalent of a part, or of sizes where ``part`` is None; best grade first.

    ``left_out`` counts lines beyond the most that are shown. ``cautions`` hold for whatever is put
    there; ``notes`` say why nothing is offered by size. ``machine`` is the one it was asked for.
    """

    part: Part | None
    query: Mapping[str, Any]
    found: tuple[Equivalent, ...]
    left_out: int
    order: Order | None = None
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    machine: Machine | None = None

    def to_json(self) -> dict[str, Any]:
        """The JSON document of ``equivalents``."""
        head: dict[str, Any] = (
            {"query": dict(self.query)}
            if self.part is None
            else {"part": {"number": self.part.number, "maker": self.part.own_maker or None}}
        )
        return {
            **head,
            "order": self.order.to_json() if self.order else None,
            "equivalents": [e.to_json() for e in self.found],
            "left_out": self.left_out,
            "cautions": list(self.cautions),
            "notes": list(self.notes),
        }


def equivalents(
    conn: Connection,
    number: str | None,
    sizes: Mapping[str, str],
    kind: str = "",
    maker: str | None = None,
    words: str = "",
    machine: str | None = None,
) -> Equivalents:
    """What else will do for a number, or for sizes where no number is given; of a kind, if one is
    given. ``words`` say what the place asks for, ``machine`` whose serial decides what it is sold
    as.

    Raises InputError where neither or both are given, or a maker without a number; NotFoundError
    for an unknown number or machine.
    """
    held = find_machine(conn, machine) if machine else None
    if bool(number) == bool(sizes):
        raise InputError(
            "give a number, or sizes, not both" if number else "give a number, or sizes",
            "For example 6204, or --bore 20mm --width 14mm.",
        )
    if number:
        wanted_kind = kind_from(kind) if kind else ""
        part = _asked(conn, number, maker)
        said = ", ".join(text for text in (part.words, words.lower()) if text)
        part = replace(part, kind=part.kind or wanted_kind, words=said)
        lines = [*_named(conn, part), *_sized(conn, part)]
        if wanted_kind:
            lines = [e for e in lines if (e.part or part).kind in ("", wanted_kind)]
        return _ordered(conn, _sorted(part, {}, lines), part, held)
    if maker is not None:
        raise InputError("a maker is given without a number", "Give a number, or leave it out.")
    query = understand(Asked(sizes=sizes, kind=kind, words=words, unit=default_unit(conn)))
    sized = {name: StoredSize(reading.value) for name, reading in query.sizes.items()}
    whole = seated(query.kind, sized)
    wanted = Part("", "", query.kind, "", "store", 0.0, words=query.words, sizes=whole)
    found = _sorted(None, query.to_json(), _sized(conn, wanted))
    return _ordered(conn, found, wanted, held)


def _asked(conn: Connection, number: str, maker: str | None) -> Part:
    """The part named; where none is, or it has no sizes, what its designation says of it.

    A designation with suffixes ("6204-2RS1") is no row of its own: its part has the id 0.
    """
    try:
        part = resolve(conn, number, maker)
    except NotFoundError:
        said = _by_designation(number) if maker is None else None
        if said is None:
            raise
        return find_part(conn, said.number) or said
    said = None if part.sizes else _by_designation(part.number)
    if said is None or part.kind not in ("", said.kind):
        return part
    return replace(part, kind=said.kind, type=part.type or said.type, sizes=said.sizes)


def _by_designation(text: str) -> Part | None:
    """What a trade number says by itself; None where it is none, or reads as two things."""
    readings = decode(text).readings
    if len({reading.designation for reading in readings}) != 1 or not readings[0].sizes:
        return None
    said = readings[0]
    sizes = {name: StoredSize(value) for name, value in said.sizes.items()}
    number = said.canonical or said.designation
    return Part(number, "", said.kind, "", "store", 0.0, type=said.type, sizes=sizes)


def _ordered(
    conn: Connection, found: Equivalents, wanted: Part, machine: Machine | None
) -> Equivalents:
    """The same with what to ask for today and what to mind, for ``wanted`` and for every line."""
    lines = [line.part for line in found.found if line.part]
    told = iter(orders(conn, lines, machine))
    of_place, *of_lines = cautions_of(conn, [wanted, *lines])
    mind = iter(of_lines)
    asked = tuple(
        replace(e, order=next(told), cautions=each_once([*of_place, *next(mind)]))
        if e.part
        else replace(e, cautions=of_place)
        for e in found.found
    )
    own = orders(conn, [wanted], machine)[0] if wanted.id else None
    notes = (NOT_BY_SIZE,) if never_by_size_of(conn, [wanted])[0] else ()
    return replace(found, found=asked, order=own, cautions=of_place, notes=notes, machine=machine)


def _sorted(
    part: Part | None, query: Mapping[str, Any], lines: Iterable[Equivalent]
) -> Equivalents:
    best: dict[tuple[str, ...], Equivalent] = {}
    every = list(lines)
    tried = {(_name(line), line.grade) for line in every if line.grade in TRIED}
    for line in every:
        outcomes = [grade for grade in TRIED if (_name(line), grade) in tried]
        if outcomes and line.grade not in TRIED:
            continue
        name = (*_name(line), line.grade if outcomes else "")
        if name not in best or ORDER.index(line.grade) < ORDER.index(best[name].grade):
            best[name] = _disputed(line) if len(outcomes) > 1 else line
    ranked = sorted(best.values(), key=lambda e: (ORDER.index(e.grade), _far(e), e.number))
    return Equivalents(part, query, tuple(ranked[:MOST]), max(0, len(ranked) - MOST))


def _name(line: Equivalent) -> tuple[str, str]:
    return folded(line.number), line.maker or ""


def _disputed(line: Equivalent) -> Equivalent:
    """A pair that was tried with both outcomes: each line says that there is the other."""
    said = Difference("tried", line.number, line.number, "it was tried with both outcomes")
    return replace(line, differences=(*line.differences, said))


def _far(line: Equivalent) -> int:
    return len(line.differences)


def _named(conn: Connection, part: Part) -> Iterable[Equivalent]:
    """The same thing written otherwise, and what the store says serves for it."""
    ids = group_members(conn, [part.id])
    inside = tried_between(conn, part.id, ids)
    misfits = {way.part_id for way in inside if way.grade == FITS_NOT}
    members = [record for record in load_parts(conn, ids) if record.id not in misfits]
    for record in members:
        if record.id != part.id:
            yield _line(record, SAME, True, compare(part, record))
    yield from _written_otherwise(part, members)
    ways = [*inside, *reached(conn, ids)]
    records = {r.id: r for r in load_parts(conn, [i for w in ways for i in w.path])}
    for way in ways:
        yield _by_interchange(part, way, records)


def _written_otherwise(part: Part, members: Sequence[Part]) -> Iterable[Equivalent]:
    """Other ways the designation is written; suffix synonyms are common usage."""
    texts: dict[str, tuple[str, str]] = {}
    own = part.origin if part.id else ORIGIN_STANDARD
    for record in members:
        for spelled in record.spellings:
            if spelled.role == "alias" and spelled.weight >= 0.3:
                texts.setdefault(spelled.text, ("another way to write it", record.origin))
    if part.kind in ("bearing", "o-ring", "shaft seal", "bush"):
        for reading in decode(part.number).readings[:1]:
            for text in reading.also_written:
                texts.setdefault(text, ("another way to write it, by common usage", own))
    for text, (note, origin) in texts.items():
        if folded(text) != folded(part.number):
            said = (Difference("number", part.number, text, note),)
            yield Equivalent(text, None, origin, SAME, True, part.words or part.type, said, ())


def _by_interchange(part: Part, way: Reached, records: Mapping[int, Part]) -> Equivalent:
    record = records[way.part_id]
    said = list(compare(part, record))
    if len(way.path) > 2:
        through = " → ".join(records[i].number for i in way.path)
        note = f"follows only through others ({through}), so it counts one grade less a step"
        said.append(Difference("interchange", part.number, record.number, note))
    elif way.note or way.source:
        note = ", ".join(text for text in (way.note, way.source) if text)
        said.append(Difference("interchange", part.number, record.number, note))
    both = way.both and way.grade != FITS_NOT
    return _line(record, SHOWN[way.grade], both, tuple(said))


def _sized(conn: Connection, part: Part) -> Iterable[Equivalent]:
    """Parts of the same sizes, those that fit with work, and near misses."""
    for match in by_sizes(conn, part):
        told = {d.about for d in match.work}
        if part.kind == "strip":  # which side is called the width is all that could differ
            told |= {"width", "thickness"}
        said = (*match.work, *(d for d in compare(part, match.part) if d.about not in told))
        yield _line(match.part, match.grade, match.both, said)


def _line(record: Part, grade: str, both: bool, differences: tuple[Difference, ...]) -> Equivalent:
    return Equivalent(
        record.number,
        record.maker or None,
        record.origin,
        grade,
        both,
        record.words or record.type or record.kind,
        differences,
        (),
        record,
    )
