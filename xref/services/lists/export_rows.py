"""The rows of one part in a list: what has one value first, what has several from there down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from xref.domain.machine import WORKS, Applicability
from xref.domain.part import Part, PartMark, is_plain_number
from xref.domain.size import mm_number
from xref.domain.supersession import CHOICE, ONE
from xref.services.links.facts import Facts
from xref.services.links.interchange import STATED
from xref.services.links.named import NamedInterchange, NamedStep
from xref.services.lists.several import GRADED, one_model, one_name, one_number
from xref.sheets.fields import (
    AS_FOUND,
    IN_CYCLE,
    INTERCHANGE_NOTE,
    NO_SOURCE,
    ORDER_INSTEAD,
    OWN_COLUMN,
    PERHAPS_ON,
    PRICE,
    SERVES_BACK,
)
from xref.sheets.headings import KEPT
from xref.sheets.part_row import MARKS
from xref.store.write.sheet_facts import Claim, Price

Cells = dict[str, str]
Group = tuple[str, Cells]
"""Cells that belong together, with what they are: a row has one group of each at most."""

_MARK_OF = {role: name for name, role in MARKS.items()}


def part_rows(facts: Facts) -> Iterator[Cells]:
    """The rows of one part, the first of which says what it is."""
    part = facts.part
    base = {"number": one_number(part.number), "maker": part.maker, "status": part.status}
    first: Cells = {**base, "source": facts.source or NO_SOURCE}
    for name, value in (
        ("kind", part.kind),
        ("description", part.words),
        ("note", part.note),
        (ORDER_INSTEAD, facts.order_instead),
    ):
        if value:
            first[name] = value
    first.update(_sizes(part))
    apart = {m: s for m, s in facts.mark_sources.items() if s != facts.source}
    first.update(_marks([m for m in part.marks if m not in apart]))
    down = zip_longest(
        _own_columns(facts),
        _extras(facts),
        _marks_apart(apart),
        _ranges(facts),
        _prices(facts.prices),
        _claims(facts.claims),
        _steps(facts.steps),
        _interchanges(facts.interchanges),
    )
    yield from _spread(first, base, [[group for group in groups if group] for groups in down])


def _spread(first: Cells, base: Cells, down: Sequence[Sequence[Group]]) -> Iterator[Cells]:
    """Rows whose sources differ cannot share a row: a row has one source."""
    row, held = dict(first), set[str]()
    started = False
    for groups in down:
        for what, cells in groups:
            apart = cells.get("source", "") != row.get("source", cells.get("source", ""))
            taken = any(name in row for name in cells if name != "source")
            if taken or what in held or ("source" in cells and apart):
                yield row
                row, held = dict(base), set()
                started = True
            row.update(cells)
            held.add(what)
    if row != base or not started:
        yield row


def _sizes(part: Part) -> Cells:
    found = {}
    for name, held in part.sizes.items():
        plain = is_plain_number(name)
        found[name] = str(held.value) if plain else mm_number(held.value)
    return found


def _marks(marks: Sequence[PartMark]) -> Cells:
    found: dict[str, list[str]] = {}
    for mark in marks:
        found.setdefault(_MARK_OF[mark.role], []).append(mark.text)
    return {name: " | ".join(texts) for name, texts in found.items()}


def _marks_apart(sources: dict[PartMark, str]) -> Iterator[Group]:
    """The marks that another source than the part's has, for each source."""
    for source in sorted(set(sources.values())):
        yield "marks", {**_marks([m for m, s in sources.items() if s == source]), "source": source}


def _own_columns(facts: Facts) -> Iterator[Group]:
    """What is kept in a column of its own name: a thread, and what is said of a machine that is not
    named, in rows that name none."""
    for extra in facts.extras:
        if extra.label in OWN_COLUMN:
            yield "range", {extra.label: extra.value}


def _extras(facts: Facts) -> Iterator[Group]:
    """The kept cells; those of one heading go down, those of several beside each other."""
    waiting = [extra for extra in facts.extras if extra.label not in OWN_COLUMN]
    while waiting:
        cells: Cells = {}
        rest = []
        for extra in waiting:
            name = KEPT + extra.label
            if name in cells:
                rest.append(extra)
            else:
                cells[name] = extra.value
        yield "extras", cells
        waiting = rest


def _ranges(facts: Facts) -> Iterator[Group]:
    # Those without a note first: where they differ in nothing else, the others say as much.
    for entry in sorted(facts.applies, key=lambda e: bool(e.note)):
        serials = entry.serials.written or "all"
        cells = {
            _machine_column(entry): one_model(entry.model),
            "serials": serials,
            AS_FOUND: entry.as_found if _otherwise(entry.as_found, serials) else "",
            "serials of": entry.component if entry.component != WORKS else "",
            "assembly": entry.assembly,
            "quantity": "" if entry.quantity is None else _number(entry.quantity),
            "range note": entry.note,
            "source": entry.source or NO_SOURCE,
        }
        yield "range", _filled(cells)


def _machine_column(entry: Applicability) -> str:
    """What an entry says of its model: whoever reads "model" must not take serials that nobody
    could read for a range."""
    if not entry.fits:
        return "does not fit"
    return PERHAPS_ON if entry.serials.unread else "model"


def _otherwise(found: str, serials: str) -> bool:
    """Whether the owner wrote serials in other words than they are told in."""
    return "".join(found.casefold().split()) not in ("", "".join(serials.casefold().split()))


def _prices(prices: Sequence[Price]) -> Iterator[Group]:
    for price in prices:
        yield "price", _filled(dict(zip(PRICE, price, strict=True)))


def _claims(claims: Sequence[Claim]) -> Iterator[Group]:
    for claim in claims:
        yield (
            "claim",
            {"claim": f"{claim.field}={claim.value}", "source": claim.source or NO_SOURCE},
        )


def _steps(steps: Sequence[NamedStep]) -> Iterator[Group]:
    # Plain ones first: where the numbers are the same, the others say as much.
    for cells in sorted(map(_step, steps), key=len):
        yield "step", cells


def _step(step: NamedStep) -> Cells:
    usual = ONE if len(step.news) == 1 else CHOICE
    how = [step.kind] if step.kind != usual else []
    how += [SERVES_BACK] * step.serves_back + [IN_CYCLE] * step.in_cycle
    return _filled(
        {
            "replaced by": " | ".join(map(one_name, step.news)),
            "replaced as": ", ".join(how),
            "replaced on model": step.model,
            "replaced on serials": step.serials,
            "replaced quantity": _number(step.quantity) if step.quantity != 1 else "",
            "change with": " | ".join(map(one_name, step.companions)),
            "replaced date": step.date,
            "replaced reason": step.reason,
            "source": step.source or NO_SOURCE,
        }
    )


def _interchanges(links: Sequence[NamedInterchange]) -> Iterator[Group]:
    for link in links:
        grade = f"{link.grade}, {link.way}" if link.way else link.grade
        # A number that itself ends like a grade needs one behind it.
        bare = grade == STATED and not GRADED.fullmatch(link.number)
        shown = link.number if bare else f"{link.number} [{grade}]"
        cells = {"interchange": one_name(shown), INTERCHANGE_NOTE: link.note}
        yield "interchange", _filled({**cells, "source": link.source or NO_SOURCE})


def _filled(cells: Cells) -> Cells:
    return {name: text for name, text in cells.items() if text}


def _number(value: float) -> str:
    return f"{value:g}" if float(f"{value:g}") == value else repr(value)
