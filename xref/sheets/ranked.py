"""Headings ranked against each other: which of the things that each may mean it does mean here.

A heading alone says little: "No." counts the lines beside a "Part No." and is the number where
there is none. Its language, what stands below it and the other headings decide.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from xref.sheets.cells import unit_word
from xref.sheets.headings import NO_FIELD, REPEATED, Meaning, is_size, languages_of, meanings_of
from xref.sheets.plain import plain_heading
from xref.sheets.profile import Profile

NUMBER_FROM = 0.35
"""How sure a heading must be to be the column of part numbers. Judged."""

GOOD, NEAR = 0.8, 0.15
"""Two headings are both good for the number from here, and this near to each other. Judged."""

_OLD = 0.7
_SHORT = 4
_WEAK = 0.65

Choice = dict[int, Meaning]
"""What each column is, by its place; a column that is not in it is kept."""


@dataclass(frozen=True, slots=True)
class Around:
    """What is known of a list beside its columns: whether its rows have a machine anyhow."""

    machine: bool = False


@dataclass(frozen=True, slots=True)
class Ranked:
    """``rivals`` are the columns of which any may be the number: more than one is a question."""

    chosen: Choice
    rivals: tuple[int, ...] = ()


def rank(
    titles: Sequence[str], profiles: Sequence[Profile], told: Mapping[int, str], around: Around
) -> Ranked:
    """What the columns are; those in ``told`` are as somebody said."""
    possible = [() if at in told else m for at, m in enumerate(_in_language(titles))]
    taken = set(told.values())
    fields = {m.field for some in possible for m in some} | taken
    machine = around.machine or "model" in fields or "cross" in fields
    fitting = [
        [m for m in some if _fits(m, profiles[at], fields, machine)]
        for at, some in enumerate(possible)
    ]
    chosen: Choice = {}
    rivals: tuple[int, ...] = ()
    if "number" not in taken:
        rivals = _number(fitting, profiles)
        if len(rivals) == 1:
            [at] = rivals
            chosen[at] = next(m for m in fitting[at] if m.field in ("number", "replaces"))
            chosen[at] = replace(chosen[at], field="number")
    ranked = sorted(
        ((at, m) for at, some in enumerate(fitting) for m in some if m.field != "number"),
        key=lambda x: (-x[1].sure, x[0]),
    )
    for at, meaning in ranked:
        held = {m.field for m in chosen.values()} | taken
        if at not in chosen and at not in rivals:
            if meaning.field in held and meaning.field not in REPEATED:
                continue
            chosen[at] = meaning
    return Ranked({at: m for at, m in chosen.items() if m.field not in NO_FIELD}, rivals)


def _in_language(titles: Sequence[str]) -> list[tuple[Meaning, ...]]:
    """What each title may mean, the languages that most titles are in first."""
    votes: Counter[str] = Counter()
    for title in titles:
        votes.update(languages_of(title))
    most = max(votes.values(), default=0)
    first = {language for language, count in votes.items() if count == most}
    return [
        tuple(
            replace(m, sure=_sure_in(m, first))
            for m in meanings_of(title)
            if not _foreign(m, title, first)
        )
        for title in titles
    ]


def _sure_in(meaning: Meaning, first: set[str]) -> float:
    if meaning.language in first or not meaning.language:
        return meaning.sure
    return meaning.sure * (0.95 if meaning.language == "en" else 0.8)


def _foreign(meaning: Meaning, title: str, first: set[str]) -> bool:
    """Whether a short word is read in a language that the list is not in."""
    known = not meaning.language or meaning.language in first or meaning.language == "en"
    return not known and len(plain_heading(title)) <= _SHORT


def _fits(meaning: Meaning, cells: Profile, fields: set[str], machine: bool) -> bool:
    """Whether what stands below bears a meaning out; an empty column bears out what is sure."""
    field, weak = meaning.field, meaning.sure <= _WEAK
    if meaning.letter or not meaning.language:
        return not meaning.letter
    if field in ("serial from", "serial to") and weak and not machine:
        return False
    if field == "price date" and weak and not {"price", "supplier"} & fields:
        return False
    if not cells.cells:
        return not weak or field in ("serial from", "serial to")
    if is_size(field):
        return cells.digits >= 0.3 or (cells.digits > 0 and not weak)
    test = _TESTS.get(field)
    return test is None or test(cells, meaning.sure)


_Test = Callable[[Profile, float], bool]

_TESTS: dict[str, _Test] = {
    "number": lambda cells, sure: (
        sure > GOOD or (cells.digits >= 0.5 and not cells.counts_lines and cells.words < 0.9)
    ),
    "quantity": lambda cells, _: cells.amounts >= 0.5,
    "words": lambda cells, sure: sure > GOOD or cells.words >= 0.5,
    "price": lambda cells, _: cells.digits >= 0.3,
    "kind": lambda cells, sure: sure > GOOD or cells.kinds >= 0.5,
    "unit": lambda cells, _: sum(bool(unit_word(t)) for t in cells.texts) >= 0.6 * len(cells.texts),
    "serial from": lambda cells, sure: sure > _WEAK or cells.digits >= 0.5,
    "serial to": lambda cells, sure: sure > _WEAK or cells.digits >= 0.5,
    "price date": lambda cells, sure: sure > _WEAK or cells.dates >= 0.5,
    "line": lambda cells, _: cells.counts_lines,
    "model": lambda cells, _: cells.amounts < 0.9 or cells.words > 0,
    "assembly": lambda cells, sure: sure > _WEAK or cells.words >= 0.3,
}


def _number(fitting: Sequence[Sequence[Meaning]], profiles: Sequence[Profile]) -> tuple[int, ...]:
    """The columns that may be the number: one where it is plain, none where no heading is it."""
    sure: dict[int, float] = {}
    for at, some in enumerate(fitting):
        found = [m.sure for m in some if m.field == "number"]
        if found:
            sure[at] = _as_number(max(found), profiles[at])
    renewed = any(m.field == "replaced by" for some in fitting for m in some)
    for at, some in enumerate(fitting):
        for m in some:
            # "Old No" beside "New No" is the number that the list is kept by.
            if m.field == "replaces" and m.sure <= 0.9 and renewed and profiles[at].filled >= 0.7:
                sure.setdefault(at, _OLD)
    best = max(sure.values(), default=0.0)
    if best < NUMBER_FROM:
        return ()
    return tuple(
        at for at, s in sure.items() if s == best or (s >= GOOD - 1e-9 and s >= best - NEAR + 1e-9)
    )


def _as_number(sure: float, cells: Profile) -> float:
    """Less where the column is empty in most rows, or says one thing again and again."""
    if len(cells.cells) >= 3 and cells.different < 0.4:
        sure -= 0.3
    if cells.rows >= 3 and cells.filled < 0.4:
        sure -= 0.3
    return sure
