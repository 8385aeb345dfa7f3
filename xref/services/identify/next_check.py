"""Offer the next check: first what needs no tool, then the size that would best separate."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from xref.domain.channel import distance
from xref.domain.evidence import MARKS, Scored
from xref.domain.evidence import SIZES as SIZE_TOPICS
from xref.domain.nextcheck import Answer, Check, Words, best_checks, check_of, classes
from xref.domain.number import folded
from xref.domain.part import COUNTS
from xref.domain.query import Query
from xref.domain.size import NM_PER_INCH, NM_PER_MM, inch_text, mm_text
from xref.domain.size_names import SIZES
from xref.services.answered import KIND
from xref.services.identify.evidence.marks import Readable
from xref.services.identify.evidence.seen import SLIP
from xref.services.identify.evidence.sizes import STANDS_FOR, nominal_text
from xref.services.parts.traits import shown
from xref.standards.check import keys, kinds_of, look, sights, size_ask

CONSIDERED = 12
"""Candidates looked at: the rest hold too little to steer a measurement."""
LEAST_ODDS = 0.002
"""A candidate below this steers no measurement. Judged."""
CONTRADICTS = 4.0
"""Bits by which a mark and the sizes must each prefer another part to be at odds. Judged."""
READ_ALIKE = 0.2
"""How often a stamp that is read once more is read wrong again. Judged."""
NAMED_WRONG = 0.03
"""How often a part is called by the name of another kind, as ``Model.kind_right`` has it."""
BY_CHANCE = 0.1
"""How often a size that is not on record is one of those that are asked about. Judged."""
ANOTHER = "another"
CARE = "clean it, slanting light"

Top = Sequence[tuple[Scored, float]]


def next_checks(
    scored: Sequence[Scored],
    probabilities: Sequence[float],
    query: Query,
    ways: Sequence[Readable],
    none: float = 0.0,
) -> tuple[Check, ...]:
    """The best one or two checks for what is not yet known; () where nothing would help.

    ``none`` is the odds of none of these where a check should tell the candidates from that too.
    """
    return best_checks(every_check(scored, probabilities, query, ways, none))


def every_check(
    scored: Sequence[Scored],
    probabilities: Sequence[float],
    query: Query,
    ways: Sequence[Readable],
    none: float,
) -> list[Check]:
    """All checks that would tell something, save what was answered or cannot be told."""
    pairs = zip(scored, probabilities, strict=True)
    top = [(s, p) for s, p in pairs if p >= LEAST_ODDS][:CONSIDERED]
    if len(top) + (none >= LEAST_ODDS) < 2:
        return []
    found = [
        *_looks(top, none),
        *_sizes(top, query, none),
        *_signs(top, ways),
        *_stamp(top, query, ways),
    ]
    if not query.kind:
        found.append(_kind(top))
    done = {*query.seen, *query.cannot}
    return [check for check in found if check is not None and check.key not in done]


def _looks(top: Top, none: float) -> Iterator[Check | None]:
    """What can be looked for on the kind that holds most of the odds."""
    shows = {s.part.group: shown(s.part) for s, _ in top}
    for key in keys():
        kind = _leading(top, kinds_of(key))
        how = look(key, kind) if kind is not None else None
        if how is None:
            continue
        of_kind = [(s, p) for s, p in top if not how.kind or s.part.kind == how.kind]
        held = sights(key, how.kind)
        words = Words(
            key,
            how.ask,
            how.needs_tool,
            {word: sight.share for word, sight in held.items()},
            {word: sight.shows for word, sight in held.items()},
            SLIP,
        )
        answers = [Answer(s.part.number, p, shows[s.part.group].get(key, ())) for s, p in of_kind]
        share = _share(of_kind, top)
        yield check_of(words, [*answers, Answer("", none * share, "")], share)


def _leading(top: Top, kinds: frozenset[str]) -> str | None:
    """The kind, of those the check is made on, that holds most; None where none of them is here."""
    held: dict[str, float] = {}
    for s, p in top:
        if s.part.kind in kinds or "" in kinds:
            held[s.part.kind] = held.get(s.part.kind, 0.0) + p
    return max(held, key=lambda kind: held[kind], default=None)


def _share(some: Top, top: Top) -> float:
    whole = sum(p for _, p in top)
    return sum(p for _, p in some) / whole if whole else 0.0


def _kind(top: Top) -> Check | None:
    """Which kind of part it is, where several are among the candidates."""
    kinds = {s.part.kind for s, _ in top if s.part.kind}
    if len(kinds) < 2:
        return None
    said = {kind.replace(" ", "-"): f"a {kind}" if kind != "other" else kind for kind in kinds}
    words = Words(KIND, "say what kind of part it is", False, said=said, slip=NAMED_WRONG)
    return check_of(
        words, [Answer(s.part.number, p, s.part.kind.replace(" ", "-")) for s, p in top]
    )


def _sizes(top: Top, query: Query, none: float) -> Iterator[Check | None]:
    given = set(query.sizes) | {n for name in query.sizes for n in STANDS_FOR.get(name, ())}
    names = dict.fromkeys(name for s, _ in top for name in s.part.sizes)
    for name in names:
        if name in given or name in keys():
            continue
        kind = next(s.part.kind for s, _ in top if name in s.part.sizes)
        answers, said = _shown_sizes(name, top, _unit(query))
        chance = {word: BY_CHANCE / len(said) for word in said} | {ANOTHER: 1 - BY_CHANCE}
        words = Words(name, _how(name, kind), name not in COUNTS, chance, said)
        yield check_of(words, [*answers, Answer("", none, "")])


def _unit(query: Query) -> str:
    """The unit of the sizes that were typed; millimetres where they are of both, or none is."""
    units = {size.unit for size in query.sizes.values() if not size.counted and size.unit}
    return "inch" if units and units <= {"inch", "thou"} else "mm"


def _ready(nm: int, unit: str) -> str:
    """A size as it is typed: without a space, and in the unit of the others."""
    if unit == "inch":
        return f"{inch_text(nm) or f'{nm / NM_PER_INCH:.4g} in'}".replace(" ", "")
    return mm_text(nm).replace(" ", "")


def _how(name: str, kind: str) -> str:
    over = f" ({SIZES[name]})" if name in SIZES else ""
    return size_ask(name, kind) or f"measure the {name}{over}"


def _shown_sizes(name: str, top: Top, unit: str) -> tuple[list[Answer], dict[str, str]]:
    """Each candidate's answer, those no caliper could tell apart sharing one, and what each is."""
    held = {s.part.group: s.part.sizes[name].value for s, _ in top if name in s.part.sizes}
    counted = name in COUNTS
    apart = 0.5 if counted else 0.15 * NM_PER_MM
    belongs = classes({group: float(value) for group, value in held.items()}, apart)
    word: dict[int, str] = {}
    said: dict[str, str] = {}
    for group, number in belongs.items():
        text = str(held[group]) if counted else nominal_text(held[group], unit)
        typed = str(held[group]) if counted else _ready(held[group], unit)
        answer = word.setdefault(number, typed)
        if text not in said.get(answer, "").split(" or "):
            said[answer] = f"{said[answer]} or {text}" if answer in said else text
    answers = [
        Answer(s.part.number, p, word[belongs[s.part.group]] if s.part.group in held else "")
        for s, p in top
    ]
    return answers, said


def _signs(top: Top, ways: Sequence[Readable]) -> Iterator[Check | None]:
    """For each illegible sign of a mark without a lost stretch, what each number has there."""
    for way in ways:
        mark = way.reading.mark
        if mark.turned or mark.has_lost_stretch:
            continue
        for at, sign in enumerate(mark.signs):
            if len(sign.chars) == 1:
                continue
            answers = [Answer(s.part.number, p, _char_at(s, at, len(mark.signs))) for s, p in top]
            place = f"look again at character {at + 1} of {mark.shown()} ({CARE})"
            yield check_of(Words(f"mark{way.mark + 1}-{at + 1}", place, False), answers)


def _char_at(scored: Scored, at: int, length: int) -> str:
    texts = [folded(scored.part.number), *(folded(s.text) for s in scored.part.spellings)]
    for text in texts:
        if len(text) == length:
            return text[at]
    return ""


def _stamp(top: Top, query: Query, ways: Sequence[Readable]) -> Iterator[Check | None]:
    """The stamp once more, where it speaks of one part and the sizes of another."""
    if not (ways and query.sizes):
        return
    by_mark = max((s for s, _ in top), key=lambda s: s.bits_about(*MARKS))
    by_size = max((s for s, _ in top), key=lambda s: s.bits_about(*SIZE_TOPICS))
    in_marks = by_mark.bits_about(*MARKS) - by_size.bits_about(*MARKS)
    in_sizes = by_size.bits_about(*SIZE_TOPICS) - by_mark.bits_about(*SIZE_TOPICS)
    if min(in_marks, in_sizes) < CONTRADICTS:
        return
    number = folded(by_mark.part.number)
    way = min(ways, key=lambda one: distance(one.reading, number))
    said = f"read the stamp {query.marks[way.mark].shown()} once more, the sizes are another's"
    words = Words(f"mark{way.mark + 1}", f"{said} ({CARE})", False, slip=READ_ALIKE)
    yield check_of(words, [Answer(s.part.number, p, s.part.number) for s, p in top])
